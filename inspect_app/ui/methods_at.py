"""Which ways to look and test show something on a piece, and why the others do not."""

from inspect_app.model.pieces import WASHED, state_rank
from inspect_app.rulebook.forms_rules import MethodForm
from inspect_app.ui.part_page_at import AtPart


def why_not(at: AtPart, method: MethodForm) -> str:
    """Why a method shows nothing on the piece as it is; "" where it does."""
    if not at.evidence.on_material(method):
        if at.evidence.material is None:
            return "the engine sheet does not say what this part is made of"
        return f"it shows nothing on {at.evidence.material}"
    if method.washed and state_rank(at.state) < state_rank(WASHED):
        return "it shows nothing before the part is washed"
    return ""


def looks(at: AtPart) -> list[MethodForm]:
    """The ways to look, by eye first."""
    found = [method for method in at.engine.book.methods.values() if method.kind == "look"]
    return sorted(found, key=lambda method: method.id != "eye")


def tests(at: AtPart) -> list[MethodForm]:
    """The ways to test, those that show something first."""
    found = [method for method in at.engine.book.methods.values() if method.kind != "look"]
    return sorted(found, key=lambda method: bool(why_not(at, method)))


def titled(at: AtPart, method: MethodForm) -> str:
    """A method for a list: its title, and why it would show nothing."""
    title, why = method.title[:1].upper() + method.title[1:], why_not(at, method)
    return f"{title}: {why}" if why else title
