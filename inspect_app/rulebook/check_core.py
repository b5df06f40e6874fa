"""Checks of a core's pieces and evidence against the engine: every problem at once, each with its place."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator

from inspect_app.model.core import Core
from inspect_app.model.evidence import (
    Decision,
    Evidence,
    Finding,
    Look,
    OnPiece,
    OutsideReport,
    Reading,
    Region,
    Sign,
    Test,
    Withdrawal,
)
from inspect_app.model.pieces import Piece, state_rank
from inspect_app.model.places import WHOLE, Place, parse_place, zone_path
from inspect_app.model.problems import Problem

from .check_readings import reading_problems
from .check_sheet import use_one_of
from .engine import Engine, Position
from .sizes import size_problem

UNANSWERED = ("not looked", "cannot tell")
Spot = Callable[[Evidence], str]


def pieces_of(engine: Engine, core: Core) -> dict[str, Piece]:
    """Every piece by id: those listed, and one implied for each position without an entry of its own id."""
    listed = {piece.id: piece for piece in core.pieces}
    implied = {p.id: Piece(id=p.id, position=p.id) for p in engine.positions.values()}
    return implied | listed


def core_problems(
    engine: Engine, core: Core, spot: Spot = lambda item: f"evidence {item.id}"
) -> list[Problem]:
    """Everything in the core that the engine does not know; [] when it can be judged.

    `spot` names where an item stands (a line of a CSV, an id of core.json).
    """
    problems = [*_piece_problems(engine, core), *_id_problems(core.evidence, spot)]
    pieces = pieces_of(engine, core)
    tests = {item.id: item for item in core.evidence if isinstance(item, Test)}
    for item in core.evidence:
        if isinstance(item, OnPiece):
            problems += _item_problems(engine, pieces, tests, item, spot)
    return problems


def _piece_problems(engine: Engine, core: Core) -> Iterator[Problem]:
    for position, state in core.record.parts.items():
        if position not in engine.positions:
            what = f'"{position}" ({state}) is no position of this engine.'
            yield Problem("record.parts", what, use_one_of(engine.positions))
    ids = Counter(piece.id for piece in core.pieces)
    sitting = Counter(piece.position for piece in core.pieces if piece.sits and piece.id != piece.position)
    for piece in core.pieces:
        here = f"piece {piece.id}"
        if ids[piece.id] > 1:
            yield Problem(here, "this id is used twice.", "Give each piece its own.")
        if piece.position not in engine.positions:
            what = f'"{piece.position}" is no position of this engine.'
            yield Problem(here, what, use_one_of(engine.positions))
            continue
        if sitting[piece.position] > 1:
            what = f"two pieces sit in {piece.position}."
            yield Problem(here, what, 'Write "sits": false on the one that was taken out.')
        yield from _kind_problems(engine, piece, here)
        yield from _work_problems(engine, piece, here)


def _kind_problems(engine: Engine, piece: Piece, here: str) -> Iterator[Problem]:
    kinds = engine.sheet.kinds.get(engine.positions[piece.position].part)
    known = (kinds.fitted, *kinds.others) if kinds else ()
    if piece.kind is not None and piece.kind not in known:
        what = f'"{piece.kind}" is no kind of {piece.position} on the engine sheet.'
        yield Problem(
            here, what, use_one_of(known) if known else "List it there under kinds, or leave it out."
        )


def _work_problems(engine: Engine, piece: Piece, here: str) -> Iterator[Problem]:
    position = engine.positions[piece.position]
    for done in piece.operations:
        if done.operation not in engine.book.operations:
            what = f'"{done.operation}" is no operation of this rulebook.'
            yield Problem(here, what, use_one_of(engine.book.operations))
        for text in done.places:
            yield from place_problems(engine, position, text, f"{here}, operation {done.operation}", True)
        if done.size is not None:
            yield from size_problem(here, f"operation {done.operation}, size", done.size)
    for mark in piece.marks:
        yield from place_problems(engine, position, mark.place, f'{here}, mark "{mark.text}"', True)
        if mark.size is not None:
            yield from size_problem(here, f'mark "{mark.text}", size', mark.size)
        if mark.quantity is not None and mark.quantity not in {name for name, _ in engine.book.quantities}:
            what = f'"{mark.quantity}" is no quantity of this rulebook.'
            yield Problem(here, what, use_one_of({name for name, _ in engine.book.quantities}))


def _id_problems(items: Iterable[Evidence], spot: Spot) -> Iterator[Problem]:
    items = tuple(items)
    counts = Counter(item.id for item in items)
    target = {item.id: item.of if isinstance(item, Withdrawal) else item.supersedes for item in items}
    for item in items:
        if counts[item.id] > 1:
            yield Problem(
                spot(item), f'the id "{item.id}" is used {counts[item.id]} times.', "Give each its own."
            )
        aim = target[item.id]
        if aim is not None and aim not in counts:
            yield Problem(spot(item), f'it corrects or withdraws "{aim}", which is not here.', "Name its id.")
        if _runs_in_circle(item.id, target):
            yield Problem(
                spot(item), f'"{item.id}" corrects itself by a circle.', "Let a correction name the older."
            )


def _runs_in_circle(start: str, target: dict[str, str | None]) -> bool:
    seen, at = set[str](), target.get(start)
    while at is not None and at not in seen:
        if at == start:
            return True
        seen.add(at)
        at = target.get(at)
    return False


def _item_problems(
    engine: Engine, pieces: dict[str, Piece], tests: dict[str, Test], item: OnPiece, spot: Spot
) -> Iterator[Problem]:
    here = spot(item)  # type: ignore[arg-type]
    piece = pieces.get(item.piece)
    position = engine.positions.get(piece.position) if piece else None
    if piece is None or position is None:
        yield Problem(here, f'"{item.piece}" is no piece of this core.', use_one_of(pieces))
        return
    done = len(piece.operations)
    if state_rank(item.state) > done + 1:
        what = f'the state is "{item.state}", but {done} operations are recorded on {piece.id}.'
        yield Problem(here, what, "Record the operation on the piece first.")
    for text, pattern in _places(item):
        yield from place_problems(engine, position, text, here, pattern)
    seen_by = engine.for_kind(position.part, piece.kind)
    yield from _word_problems(seen_by, position, tests, item, here)


def _places(item: OnPiece) -> list[tuple[str, bool]]:
    match item:
        case Look() | Test():
            return [(text, True) for text in item.places]
        case Finding() | Reading():
            return [(item.place, False)]
        case Decision():
            return [(item.place, True)] if item.decision != "customer_answer" else []
        case _:
            return []


def place_problems(
    engine: Engine, position: Position, text: str, here: str, pattern: bool
) -> Iterator[Problem]:
    """What is wrong with a place on a position's part; `pattern` allows "*"."""
    try:
        place = parse_place(text)
    except ValueError as error:
        yield Problem(here, str(error), "")
        return
    if place.kind == WHOLE and pattern:
        return
    form = engine.book.place_form(position.part, place.kind)
    if form is None:
        kinds = [p.kind for p in engine.book.parts[position.part].places]
        yield Problem(here, f'"{place.kind}" is no place of {position.title.lower()}.', use_one_of(kinds))
        return
    known = [p.index for p in engine.places(position.part, place.kind)]
    if place.index not in known and not (pattern and place.index == WHOLE):
        yield Problem(here, *_index_words(place, known))
    zones = [zone_path(zone) for zone in form.zones]
    if place.zone and not any(zone[: len(place.zone)] == place.zone for zone in zones):
        what = f'"{"/".join(place.zone)}" is no zone of {place.kind}.'
        yield Problem(here, what, use_one_of(form.zones) if zones else "It has no zones: leave it out.")


def _index_words(place: Place, known: list[str]) -> tuple[str, str]:
    if known == [""]:
        return f'"{place}": there is only one {place.kind}.', f'Write "{place.kind}".'
    return f'"{place}": which {place.kind}?', f"Add one of: {', '.join(known)}."


def _word_problems(
    engine: Engine, position: Position, tests: dict[str, Test], item: OnPiece, here: str
) -> Iterator[Problem]:
    book = engine.book
    match item:
        case Finding():
            yield from _known("damage word", item.damage, book.damage, here)
            yield from _confirming_problems(tests, item, here)
        case Look() | Test():
            yield from _known("method", item.method, book.methods, here)
        case Sign():
            yield from _sign_problems(engine, position, item, here)
        case OutsideReport():
            yield from _known("report", item.says, book.reports, here)
        case Reading():
            yield from reading_problems(engine, position, item, here)
        case Region() | _:
            return


def _confirming_problems(tests: dict[str, Test], item: Finding, here: str) -> Iterator[Problem]:
    if item.test is None:
        return
    test = tests.get(item.test)
    if test is None or test.piece != item.piece:
        what = f'the test "{item.test}" is no test of {item.piece}.'
        yield Problem(here, what, "Name the id of a test on the same piece.")
    elif test.outcome != "found":
        what = f'the test "{item.test}" found nothing, so it confirms nothing.'
        yield Problem(here, what, "Name another test, or write the strength as seen.")


def _sign_problems(engine: Engine, position: Position, item: Sign, here: str) -> Iterator[Problem]:
    yield from _known("sign", item.sign, engine.book.signs, here)
    form = engine.book.signs.get(item.sign)
    if form is not None and form.part != position.part:
        what = f'"{item.sign}" is asked of the {form.part}, not of {item.piece}.'
        yield Problem(here, what, "Name that piece.")
    if form is not None and item.answer not in (*form.answers, *UNANSWERED):
        what = f'"{item.answer}" is no answer to "{form.question}".'
        yield Problem(here, what, use_one_of((*form.answers, *UNANSWERED)))


def _known(kind: str, name: str, known: Iterable[str], here: str) -> Iterator[Problem]:
    names = tuple(known)
    if name not in names:
        yield Problem(here, f'"{name}" is no {kind} of this rulebook.', use_one_of(names))
