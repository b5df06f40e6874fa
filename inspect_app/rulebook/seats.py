"""Which place of one part belongs to which of another: the same number, or a throw that two bays share."""

from collections.abc import Iterator
from dataclasses import dataclass

from inspect_app.metrology.estimate import Undetermined
from inspect_app.model.places import Place

from .engine import Engine, Position


@dataclass(frozen=True)
class Seat:
    """A place on the piece that sits in a position."""

    position: Position
    place: Place


def seats(engine: Engine, part: str, kind: str) -> tuple[Seat, ...]:
    """All places of a kind on all pieces of a part, position by position."""
    return tuple(
        Seat(position, place)
        for position in engine.positions.values()
        if position.part == part
        for place in engine.places(part, kind)
    )


def bank_rows(engine: Engine) -> tuple[tuple[str, ...], ...] | Undetermined:
    """The bays of each bank from the front, as the sheet's convention lists them ("1 3 5 / 2 4 6").

    Undetermined, with what to add to the sheet, where it does not list every bay once.
    """
    plan = engine.book.pack.map
    if plan is None:
        return Undetermined("the rule pack has no map, which says how bays stand in banks")
    told = engine.sheet.conventions.get(plan.rows, "")
    rows = tuple(tuple(row.split()) for row in told.split("/"))
    bays = engine.indices(plan.bays)
    if sorted(bay for row in rows for bay in row) == sorted(bays):
        return rows
    return Undetermined(
        f"the sheet does not say which {plan.bay_word} stands in which bank: "
        f'add the convention {plan.rows}, such as "1 3 5 / 2 4 6"'
    )


def opposite(engine: Engine, seat: Seat, part: str, kind: str) -> Seat | Undetermined:
    """The place of `kind` on `part` that goes with a seat.

    The only one; that of its bank; on the same piece, or among as many, the one of the same number;
    among half as many as there are bays, the one that two bays across from each other share.
    """
    found = seats(engine, part, kind)
    if part == seat.position.part:
        found = tuple(other for other in found if other.position == seat.position)
        own = engine.places(part, seat.place.kind)
        at: int | Undetermined = own.index(seat.place)
        total = len(own)
    else:
        at, total = _number(engine, seat)
    if len(found) == 1:
        return found[0]
    if isinstance(at, Undetermined):
        return at
    if _is_bank(engine, part, kind):
        return _bank(engine, at, found)
    if len(found) == total:
        return found[at]
    if len(found) * 2 == total:
        return _shared(engine, at, total, found)
    return Undetermined(f"{total} places and {len(found)} of {kind} do not go together by their numbers")


def rested_on(engine: Engine, quantity: str, seat: Seat) -> Iterator[tuple[Seat, str]]:
    """The places of other parts that a reading at a seat also rests on, each with the quantity ("": any).

    Where nobody can tell which place goes with the seat, all of that kind.
    """
    for name in engine.book.quantities[(quantity, seat.place.kind)].rests_on:
        kind, _, there = name.partition(".")
        part = next(p.id for p in engine.book.parts.values() if engine.book.place_form(p.id, kind))
        found = opposite(engine, seat, part, kind)
        for other in seats(engine, part, kind) if isinstance(found, Undetermined) else (found,):
            yield other, there


def _number(engine: Engine, seat: Seat) -> tuple[int | Undetermined, int]:
    """The number of a seat among all of its sort, from 0, and how many there are.

    Places shared out among banks ("bays/banks") are numbered as the bays are.
    """
    part = engine.book.parts[seat.position.part]
    every = seats(engine, part.id, seat.place.kind)
    form = engine.book.place_form(part.id, seat.place.kind)
    total, at = len(every), every.index(seat)
    _, _, banks = (form.count or "").partition("/") if form else ("", "", "")
    if not banks or banks != part.positions or engine.sheet.counts[banks] == 1:
        return at, total
    rows = bank_rows(engine)
    if isinstance(rows, Undetermined):
        return rows, total
    row = rows[engine.indices(banks).index(seat.position.index)]
    bay = row[engine.places(part.id, seat.place.kind).index(seat.place)]
    return engine.indices((form.count or "").partition("/")[0] if form else None).index(bay), total


def _is_bank(engine: Engine, part: str, kind: str) -> bool:
    """Whether there is one such place for each bank."""
    plan, form = engine.book.pack.map, engine.book.place_form(part, kind)
    counts = {engine.book.parts[part].positions, form.count if form else None} - {None}
    return plan is not None and counts == {plan.banks}


def _bank(engine: Engine, at: int, found: tuple[Seat, ...]) -> Seat | Undetermined:
    plan, rows = engine.book.pack.map, bank_rows(engine)
    if isinstance(rows, Undetermined):
        return rows
    bay = engine.indices(plan.bays if plan else None)[at]
    return next(seat for seat, row in zip(found, rows, strict=True) if bay in row)


def _shared(engine: Engine, at: int, total: int, found: tuple[Seat, ...]) -> Seat | Undetermined:
    plan, rows = engine.book.pack.map, bank_rows(engine)
    if isinstance(rows, Undetermined):
        return rows
    bays = engine.indices(plan.bays if plan else None)
    if len(bays) != total or len(rows) != 2 or any(len(row) != len(found) for row in rows):
        return Undetermined(f"{total} places and {len(found)} do not go together by two rows of the sheet")
    (slot,) = (row.index(bays[at]) for row in rows if bays[at] in row)
    return found[slot]
