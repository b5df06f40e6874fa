"""Write down what the machine shop said of a part, and what a named person decided about it."""

from collections.abc import Callable
from typing import Any, Literal

import streamlit as st

from inspect_app.model.answer import PartAnswer
from inspect_app.model.evidence import Decision, OutsideReport, Withdrawal, standing
from inspect_app.rulebook.engine import Engine
from inspect_app.ui import blocks, entry, words
from inspect_app.ui.decidable import Choice, to_overrule, to_waive
from inspect_app.ui.markup import Html, join, lines, tag
from inspect_app.ui.shelf import Slot
from inspect_app.ui.who import who

LONGEST = 2000
REPORT, WAIVE, OVERRULE, ANSWER = (
    "Report from outside",
    "Waive a check",
    "Overrule a rule",
    "Customer's answer",
)
_KINDS = (REPORT, ANSWER, WAIVE, OVERRULE)
_ANSWERS = {"do_it": "Do it", "leave_it": "Leave it", "ask_me": "Ask me"}
_SAVE = {
    REPORT: "Save the report",
    ANSWER: "Save the answer",
    WAIVE: "Save the waiver",
    OVERRULE: "Save the overruling",
}
_Item = OutsideReport | Decision
_SAVED = "decisions_saved"


def page_part(slot: Slot, part: PartAnswer) -> None:
    """Draw what was reported and decided of the piece in a position, and the form for more."""
    assert slot.held is not None
    blocks.show(blocks.section(f"Reports and decisions: {part.title}"))
    for item in told(slot, part):
        _row(slot, part, item)
    kind = st.segmented_control("Write down", _KINDS, key=f"decide_{part.position}", default=_asked())
    if kind is not None:
        {REPORT: _report, WAIVE: _waive, OVERRULE: _overrule, ANSWER: _answer}[kind](slot, part)


def _asked() -> str | None:
    """The kind that an open point has led to."""
    asked = {"report": REPORT, "decision": WAIVE}
    return asked.get(st.query_params.get("enter", ""))


def _key(slot: Slot, part: PartAnswer, kind: str) -> str:
    """For the widgets of a form: nothing typed of one part stands at another, or once it is saved."""
    return f"{words.plain(kind).lower()}_{slot.id}_{part.piece}_{st.session_state.get(_SAVED, 0)}"


def told(slot: Slot, part: PartAnswer) -> list[_Item]:
    """What was reported and decided of the piece in a position, and counts."""
    assert slot.held is not None
    items = standing(slot.held.core.evidence)
    return [i for i in items if isinstance(i, OutsideReport | Decision) and i.piece == part.piece]


def said(engine: Engine, item: _Item) -> Html:
    """One report or decision in words, with who and when."""
    by = f"{item.who}, {item.when.replace('T', ' ')}"
    if isinstance(item, OutsideReport):
        grounds = f"Grounds: {item.grounds}" if item.grounds else engine.book.reports[item.says].ask
        head = f"{words.plain(item.says).capitalize()}, says {by}."
        return join(tag("strong", head), lines(grounds, "" if item.grounds else _NO_GROUNDS))
    if item.decision == "customer_answer":
        return join(tag("strong", f"{_ANSWERS[item.answer or 'ask_me']}, {by}."), lines(item.reason))
    verb = "Waived" if item.decision == "waive" else "Overruled"
    where = "" if item.place == "*" else f", {words.place(item.place)}"
    return join(tag("strong", f"{verb}: {item.rule}{where}, {by}."), lines(item.reason))


_NO_GROUNDS = "Without grounds this closes nothing."


def _row(slot: Slot, part: PartAnswer, item: _Item) -> None:
    assert slot.engine is not None
    told = tag("div", said(slot.engine, item), cls="ia-item")
    with st.container(key=f"told_{item.id}"):
        blocks.show(told)
        with st.popover("Withdraw"):
            reason = st.text_input("Why? It stays in the record, struck through.", key=f"why_{item.id}")
            _button(
                slot,
                f"withdraw_{item.id}",
                "Withdraw it",
                lambda: _withdrawn(slot, item, reason.strip()),
                f"withdrawn, {part.title}.",
                "" if reason.strip() else "Give the reason.",
            )


def _withdrawn(slot: Slot, item: _Item, reason: str) -> Withdrawal:
    return Withdrawal(id=entry.new_id("withdrawal"), of=item.id, reason=reason, **entry.stamp(slot, who()))


def _report(slot: Slot, part: PartAnswer) -> None:
    assert slot.engine is not None
    book, key = slot.engine.book, _key(slot, part, REPORT)
    with st.container(key="decide_form", border=True):
        says = st.radio(
            "What do they say of this part?", list(book.reports), format_func=_title, key=f"{key}_says"
        )
        by = st.text_input(
            "Who said it", max_chars=80, placeholder="The machine shop, the seller", key=f"{key}_by"
        )
        grounds = st.text_area(
            "On what grounds? What was found, where exactly, by which test or reading",
            max_chars=LONGEST,
            key=f"{key}_grounds",
        )
        blocks.show(
            lines("" if grounds.strip() else f"{_NO_GROUNDS} {book.reports[says].ask}", cls="ia-soft")
        )
        reads = any(rule.part == part.part and _reads(rule.when, says) for rule in book.rules.values())
        blocks.show(
            lines("" if reads else "No rule of this part reads it: it stands in the record.", cls="ia-soft")
        )

        def made() -> OutsideReport:
            fields = _on(slot, part, "report") | {
                "who": by.strip(),
                "note": f"Written down by {who().removesuffix('.')}.",
            }
            return OutsideReport(says=says, grounds=grounds.strip(), **fields)

        lacking = "" if by.strip() else "Say who said it."
        _button(slot, f"do_{key}", _SAVE[REPORT], made, f"report on {part.title}.", lacking)


def _reads(conditions: Any, says: str) -> bool:
    return any(getattr(condition, "report", None) == says for condition in conditions)


def _title(name: str) -> str:
    return words.plain(name).capitalize()


def _waive(slot: Slot, part: PartAnswer) -> None:
    assert slot.engine is not None
    _decide(slot, part, WAIVE, to_waive(slot.engine.book, part), "No open check of this part can be waived.")


def _overrule(slot: Slot, part: PartAnswer) -> None:
    assert slot.engine is not None
    none = (
        "No rule that can be overruled closes anything here. A hard rule yields to stronger evidence alone."
    )
    _decide(slot, part, OVERRULE, to_overrule(slot.engine.book, part), none)


def _decide(slot: Slot, part: PartAnswer, kind: str, choices: list[Choice], none: str) -> None:
    if not choices:
        blocks.show(lines(none))
        return
    key = _key(slot, part, kind)
    with st.container(key="decide_form", border=True):
        chosen = st.selectbox("Which?", choices, format_func=lambda choice: choice.said, key=f"{key}_rule")
        reason = st.text_area("For what reason?", max_chars=LONGEST, key=f"{key}_reason")

        def made() -> Decision:
            decision: Literal["waive", "overrule"] = "waive" if kind == WAIVE else "overrule"
            fields = _on(slot, part, "decision")
            return Decision(
                decision=decision, rule=chosen.rule, place=chosen.place, reason=reason.strip(), **fields
            )

        lacking = "" if reason.strip() else "Give the reason."
        _button(slot, f"do_{key}", _SAVE[kind], made, f"{chosen.rule}, {part.title}.", lacking)


def _answer(slot: Slot, part: PartAnswer) -> None:
    key = _key(slot, part, ANSWER)
    with st.container(key="decide_form", border=True):
        answer = st.radio(
            "What does the customer say?", _ANSWERS, format_func=_ANSWERS.__getitem__, key=f"{key}_answer"
        )
        reason = st.text_area("In their words, and how they told it", max_chars=LONGEST, key=f"{key}_reason")

        def made() -> Decision:
            fields = _on(slot, part, "decision")
            return Decision(decision="customer_answer", answer=answer, reason=reason.strip(), **fields)

        lacking = "" if reason.strip() else "Write down what they said."
        _button(slot, f"do_{key}", _SAVE[ANSWER], made, f"the customer's answer on {part.title}.", lacking)


def _on(slot: Slot, part: PartAnswer, kind: str) -> dict[str, Any]:
    piece = entry.piece_in(slot, part.position)
    fields = {"id": entry.new_id(kind), "piece": piece.id, "state": entry.present_state(slot, piece)}
    return entry.stamp(slot, who()) | fields


def _button(
    slot: Slot, key: str, label: str, made: Callable[[], _Item | Withdrawal], said: str, lacking: str = ""
) -> None:
    """Draw the button that saves what `made` returns, or says what is lacking."""
    primary = label in _SAVE.values()
    if st.button(label, key=key, type="primary" if primary else "secondary"):
        lacking = lacking or ("" if who() else "Give your initials above first.")
        if lacking:
            entry.tell(f"Not saved. {lacking}")
        elif entry.save(slot, [made()], said) and primary:
            st.query_params.pop("enter", None)
            st.session_state[_SAVED] = st.session_state.get(_SAVED, 0) + 1
        st.rerun()
