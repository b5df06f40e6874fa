"""Which ways to look and test show something on a piece, and why the others do not."""

from inspect_app.model.pieces import WASHED, state_rank
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.forms_conditions import FindingCondition, TestCondition
from inspect_app.rulebook.forms_rules import MethodForm
from inspect_app.ui.part_page_at import AtPart


def why_not(at: AtPart, method: MethodForm) -> str:
    """Why a method shows nothing on the piece as it is; "" where it does."""
    if not at.evidence.on_material(method):
        if at.evidence.material is None:
            return "nobody has said what this part is made of (see This piece)"
        return f"it shows nothing on {at.evidence.material}"
    if method.washed and state_rank(at.state) < state_rank(WASHED):
        return "it shows nothing before the part is washed"
    return ""


def looks(at: AtPart) -> list[MethodForm]:
    """The ways to look, by eye first."""
    found = [method for method in at.engine.book.methods.values() if method.kind == "look"]
    return sorted(found, key=lambda method: method.id != "eye")


def tests(at: AtPart) -> list[MethodForm]:
    """The ways to test that can settle something here, those that show it on the piece as it is first."""
    asked = _asked(at.engine.book, at.part)
    methods = at.engine.book.methods.values()
    found = [method for method in methods if method.kind != "look" and method.id in asked]
    return sorted(found, key=lambda method: bool(why_not(at, method)))


def _asked(book: Rulebook, part: str) -> set[str]:
    """The methods that the rules of a part read, or that settle a damage word which they read."""
    asked = {test.method for test in book.parts[part].test}
    for rule in book.rules_of[part]:
        for leaf, _ in book.compiled[rule.id].leaves():
            match leaf.form:
                case FindingCondition(finding=word):
                    asked |= set(book.damage[word].settled_by)
                case TestCondition(test=method):
                    asked.add(method)
    return asked


def titled(at: AtPart, method: MethodForm) -> str:
    """A method for a list: its title, and why it would show nothing."""
    title, why = method.title[:1].upper() + method.title[1:], why_not(at, method)
    return f"{title}: {why}" if why else title
