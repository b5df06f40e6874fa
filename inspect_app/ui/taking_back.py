"""Withdraw an item, bring one back, and settle what several people changed: nothing is ever overwritten."""

from collections.abc import Iterable, Sequence

from inspect_app.model.evidence import Evidence, Withdrawal
from inspect_app.ui import entry, item_words, part_page_at, record_lines, shelf, who
from inspect_app.ui.part_page_at import AtPart


def withdraw(at: AtPart, item: Evidence, reason: str) -> bool:
    """Withdraw an item with a reason; one that is withdrawn already is told so. True if it was written."""
    if not part_page_at.complete({"Why?": reason.strip()}):
        return False
    named = record_lines.called(at, item.id)
    before = withdrawn_by(_now(at), item.id)
    if before is not None:
        entry.tell(
            f"{named.capitalize()} is withdrawn already, by {item_words.told_by(before)}: {before.reason}"
        )
        return False
    return part_page_at.save(at, [_withdrawal(at, item.id, reason)], f"{named} is withdrawn.")


def bring_back(at: AtPart, withdrawal: Withdrawal) -> bool:
    """Withdraw a withdrawal, so that what it hid counts again."""
    if not part_page_at.complete({}):
        return False
    if withdrawn_by(_now(at), withdrawal.id):
        entry.tell("It was brought back already.")
        return False
    item = next(item for item in at.core.evidence if item.id == withdrawal.of)
    named = record_lines.called(at, item.id)
    return part_page_at.save(at, [_withdrawal(at, withdrawal.id, "Brought back")], f"{named} counts again.")


def _now(at: AtPart) -> tuple[Evidence, ...]:
    """The evidence as it is now, which somebody may have added to since the page was drawn."""
    slot = shelf.current().get(at.slot.id)
    return slot.held.core.evidence if slot and slot.held else at.core.evidence


def withdrawn_by(items: Iterable[Evidence], item: str) -> Withdrawal | None:
    """The withdrawal that hides an item, if any: the first that was not taken back itself."""
    found = [other for other in items if isinstance(other, Withdrawal)]
    taken_back = {other.of for other in found}
    return next((other for other in found if other.of == item and other.id not in taken_back), None)


def disputes(at: AtPart) -> list[tuple[Evidence, list[Evidence]]]:
    """The items about this part that several people changed in different ways, with what they made."""
    assert at.slot.held is not None
    by_id = {item.id: item for item in at.core.evidence}
    here = {line.item.id for line in record_lines.record(at)}
    found = []
    for item, others in at.slot.held.contested.items():
        made = [by_id[other] for other in others]
        if item in here and not all(isinstance(other, Withdrawal) for other in made):
            found.append((by_id[item], made))
    return found


def settle(at: AtPart, made: Sequence[Evidence], counts: Evidence) -> bool:
    """Let one of several changes count: the others are withdrawn, and stay in the record."""
    if not part_page_at.complete({}):
        return False
    named = record_lines.called(at, counts.id)
    others = [
        _withdrawal(at, other.id, f"Settled: {named} counts") for other in made if other.id != counts.id
    ]
    return part_page_at.save(at, others, f"{named} counts.")


def _withdrawal(at: AtPart, of: str, reason: str) -> Withdrawal:
    fields = entry.stamp(at.slot, who.who()) | {"id": entry.new_id("withdrawal")}
    return Withdrawal(**fields, of=of, reason=reason.strip())
