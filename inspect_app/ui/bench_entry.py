"""From what was typed at the bench to evidence: each edit is saved once, however often it is sent."""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from pydantic import Field, ValidationError

from inspect_app.model.evidence import Evidence, OnPiece, Reading, Withdrawal
from inspect_app.model.frozen import Frozen
from inspect_app.model.problems import Problem, Problems, from_validation
from inspect_app.rulebook.check_core import core_problems
from inspect_app.ui import entry, shelf
from inspect_app.ui.bench_groups import Box, Group, spot_of
from inspect_app.ui.bench_setup import Setup
from inspect_app.ui.bench_typed import Refused, quoted, typed
from inspect_app.ui.shelf import Slot

LONGEST_REASON = 2000
MOST_EDITS = 500


class Edit(Frozen):
    """One change of one box, made in the browser, with the setup it was typed under.

    `bases` are the readings that it corrects, the one to take first if it is held. An empty `text`
    withdraws, for a `reason`. `keep` settles two contrary items on the one named.
    """

    id: str = Field(pattern=r"^[0-9a-f]{16}$")
    box: str
    text: str = ""
    meant: bool = False
    bases: tuple[str, ...] = Field(default=(), max_length=8)
    reason: str = ""
    keep: str = ""
    setup: Setup


class Outbox(Frozen):
    """All that one browser has typed and not yet seen saved; `at` is the box that the hand is in."""

    seq: int
    core: str
    group: str
    at: str = ""
    edits: tuple[Edit, ...] = Field(default=(), max_length=MOST_EDITS)


@dataclass(frozen=True)
class Told:
    """What an edit came to. Only what is `saved` is on the disk; `retry` may go through unchanged."""

    state: Literal["saved", "question", "refused", "retry"]
    words: str = ""


SAVED = Told("saved")


@dataclass(frozen=True)
class Heard:
    """The outbox that was read last: its number, the box in hand, and what each edit came to."""

    seq: int = 0
    at: str = ""
    told: Mapping[str, Told] = field(default_factory=dict)


def read_outbox(sent: Any) -> Outbox | None:
    """What the browser sent; None if it is no outbox. Half a letter, which no file can hold, becomes "?"."""
    try:
        return Outbox.model_validate_json(json.dumps(sent, ensure_ascii=False).encode(errors="replace"))
    except (ValidationError, TypeError):
        return None


def take(slot: Slot, group: Group, edits: Sequence[Edit], who: str) -> dict[str, Told]:
    """Save what can be saved, all at once, and tell of each edit what it came to.

    An edit is by whoever was named when it was typed; `who` is named now, and enters what nobody had signed.
    """
    assert slot.held is not None
    held: dict[str, Evidence] = {item.id: item for item in slot.held.core.evidence}
    told: dict[str, Told] = {}
    items: dict[str, list[Evidence]] = {}
    for edit in edits:
        by = edit.setup.who or who
        if not by:
            told[edit.id] = Told("retry", "Not saved yet: type your initials in Who enters.")
            continue
        try:
            made = _items(slot, group, edit, by, held)
        except Refused as error:
            told[edit.id] = Told("refused", str(error))
            continue
        except Asked as error:
            told[edit.id] = Told("question", str(error))
            continue
        told[edit.id] = SAVED
        if made:
            items[edit.id] = made
            held |= {item.id: item for item in made}
    return told | _write(slot, items)


def _write(slot: Slot, items: Mapping[str, Sequence[Evidence]]) -> dict[str, Told]:
    """Write the items of all edits; of those that were not written, why."""
    if not items:
        return {}
    try:
        shelf.current().add(slot.id, [item for made in items.values() for item in made])
    except Problems as problems:
        return dict.fromkeys(items, Told("retry", f"Not saved yet. {said(problems.items)}"))
    return {}


class Asked(ValueError):
    """The size is unlikely: it is saved once somebody says that it is meant."""


def _items(slot: Slot, group: Group, edit: Edit, who: str, held: Mapping[str, Evidence]) -> list[Evidence]:
    """What an edit adds; [] for one that is saved already or changes nothing. Raises Refused or Asked."""
    if any(f"{kind}-{edit.id}" in held for kind in ("reading", "withdrawal")):
        return []
    box = next((box for box in group.boxes if box.key == edit.box), None)
    if box is None:
        raise Refused("The part that this box belongs to has changed. Open the group again.")
    stamp = entry.stamp(slot, who)
    if edit.keep:
        return list(_settling(slot, group, box, edit, stamp))
    base = _base(group, box, edit, held)
    if not edit.text.strip():
        return _withdrawal(base, edit, stamp)
    reading = _reading(group, box, edit, base, stamp)
    if base is not None and not edit.meant and _same(base, reading):
        return []
    _check(slot, reading, edit.meant)
    return [reading]


def _base(group: Group, box: Box, edit: Edit, held: Mapping[str, Evidence]) -> Reading | None:
    known = (held.get(name) for name in edit.bases)
    return next(
        (item for item in known if isinstance(item, Reading) and spot_of(item) == group.spot(box)), None
    )


def _reading(group: Group, box: Box, edit: Edit, base: Reading | None, stamp: dict[str, Any]) -> Reading:
    setup, piece = edit.setup, group.spot(box)[0]
    number = typed(edit.text, setup, group.form)
    session = setup.session
    if base is not None and base.gauge == setup.gauge and not setup.again:
        # A correction belongs to the setting of the gauge in which the reading was taken.
        session = base.session
    fields = stamp | {
        "id": f"reading-{edit.id}",
        "piece": piece,
        "state": setup.state,
        "quantity": group.form.id,
        "place": box.place,
        "station": box.station,
        "direction": box.direction,
        "value": number.value,
        "unit": number.unit,
        "setting": number.setting,
        "gauge": setup.gauge,
        "session": session,
        "conditions": setup.conditions,
        "part_temperature": setup.part_temperature or None,
        "gauge_temperature": setup.gauge_temperature or None,
        "supersedes": base.id if base else None,
        "as_meant": edit.meant,
    }
    try:
        return Reading.model_validate(fields)
    except ValidationError as error:
        raise Refused(said(from_validation(error, quoted(edit.text)))) from None


def _same(base: Reading, reading: Reading) -> bool:
    told = ("value", "unit", "setting", "gauge", "state", "conditions", "part_temperature", "as_meant")
    return all(getattr(base, name) == getattr(reading, name) for name in told)


def _withdrawal(base: Reading | None, edit: Edit, stamp: dict[str, Any]) -> list[Evidence]:
    if base is None:
        return []
    reason = edit.reason.strip()
    if not reason:
        raise Refused("Say why it is withdrawn: it stays in the record, struck through.")
    if len(reason) > LONGEST_REASON:
        raise Refused(f"The reason has {len(reason):,} characters; {LONGEST_REASON:,} is the most.")
    return [Withdrawal(id=f"withdrawal-{edit.id}", of=base.id, reason=reason, **stamp)]


def _settling(slot: Slot, group: Group, box: Box, edit: Edit, stamp: dict[str, Any]) -> Iterator[Withdrawal]:
    """Withdrawals of all rivals of the one that is kept."""
    assert slot.held is not None
    others = [name for name in edit.bases if name != edit.keep]
    by_id = {item.id: item for item in slot.held.core.evidence}
    for number, name in enumerate(others):
        rival = by_id.get(name)
        about = by_id.get(rival.of) if isinstance(rival, Withdrawal) else rival
        if isinstance(about, Reading) and spot_of(about) == group.spot(box):
            ending = f"-{number}" if number else ""
            yield Withdrawal(
                id=f"withdrawal-{edit.id}{ending}", of=name, reason=f"settled: {edit.keep} is kept", **stamp
            )


def _check(slot: Slot, reading: Reading, meant: bool) -> None:
    """Raise Refused with all that the rules say against a reading, or Asked if only its size is unlikely."""
    wrong = list(problems_of(slot, reading))
    if not wrong:
        return
    if not meant and not list(problems_of(slot, reading.model_copy(update={"as_meant": True}))):
        raise Asked(" ".join(problem.what for problem in wrong))
    raise Refused(said(wrong))


def problems_of(slot: Slot, reading: Reading) -> Iterator[Problem]:
    """All that the check of a core says against one reading, as for a row of a CSV file."""
    assert slot.held is not None
    assert slot.engine is not None
    alone = reading.model_copy(update={"supersedes": None})
    core = slot.held.core.model_copy(update={"evidence": (alone,)})
    here = f"{reading.value} {reading.unit}"
    found = core_problems(slot.engine, core, lambda item: here if isinstance(item, OnPiece) else "")
    return (problem for problem in found if problem.where.startswith(here))


def said(problems: Sequence[Problem]) -> str:
    """Problems in one line, without where they stand: they are shown there."""
    return " ".join(f"{problem.what} {problem.advice}".strip() for problem in problems)
