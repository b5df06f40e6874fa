"""Checks of a core's pieces and evidence against the engine: every problem at once, each with its place."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator

from inspect_app.model.core import Core
from inspect_app.model.evidence import (
    UNANSWERED,
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
    standing,
)
from inspect_app.model.pieces import Piece, state_rank
from inspect_app.model.places import WHOLE, overlap, parse_place
from inspect_app.model.problems import Problem

from .check_pieces import piece_problems
from .check_places import place_problems
from .check_readings import reading_problems
from .check_regions import region_problems
from .check_sheet import use_one_of
from .engine import Engine, Position

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
    problems = [*piece_problems(engine, core), *_id_problems(core.evidence, spot)]
    pieces = pieces_of(engine, core)
    tests = {item.id: item for item in core.evidence if isinstance(item, Test)}
    counting = {item.id for item in standing(core.evidence)}
    for item in core.evidence:
        if isinstance(item, Reading) and item.id not in counting:
            # Its size misleads nobody any more, and nothing can set it right: an unlikely one is let be.
            item = item.model_copy(update={"as_meant": True})
        if isinstance(item, OnPiece):
            problems += _item_problems(engine, pieces, tests, item, spot)
    return [*problems, *region_problems(core.evidence, spot)]


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
    yield from _word_problems(seen_by, position, piece, tests, item, here)


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


def _word_problems(
    engine: Engine, position: Position, piece: Piece, tests: dict[str, Test], item: OnPiece, here: str
) -> Iterator[Problem]:
    book = engine.book
    match item:
        case Finding():
            yield from _known("damage word", item.damage, book.damage, here)
            yield from _confirming_problems(tests, item, here)
        case Look() | Test():
            yield from _method_problems(engine, item, here)
        case Decision():
            yield from _decision_problems(item, here)
        case Sign():
            yield from _sign_problems(engine, position, item, here)
        case OutsideReport():
            yield from _known("report", item.says, book.reports, here)
        case Reading():
            yield from reading_problems(engine, position, piece, item, here)
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
    elif not any(_touches(text, item.place) for text in test.places):
        what = f'the test "{item.test}" did not cover {item.place}.'
        yield Problem(here, what, "Name the test that did, or add the place to the test.")


def _touches(pattern: str, place: str) -> bool:
    """Whether a test's pattern and a place share metal; what cannot be read is told elsewhere."""
    try:
        one, other = parse_place(pattern), parse_place(place)
    except ValueError:
        return True
    same = one.kind == WHOLE or (one.kind == other.kind and one.index in (WHOLE, other.index))
    return same and overlap(one.zone, other.zone)


def _method_problems(engine: Engine, item: Look | Test, here: str) -> Iterator[Problem]:
    yield from _known("method", item.method, engine.book.methods, here)
    method = engine.book.methods.get(item.method)
    if method is not None and (method.kind == "look") != isinstance(item, Look):
        right = "look" if method.kind == "look" else "test"
        what = f'"{item.method}" is no way to {item.kind}.'
        yield Problem(here, what, f"Record it as a {right}.")


def _decision_problems(item: Decision, here: str) -> Iterator[Problem]:
    if item.rule is not None and "/" in item.place:
        what = f'a decision speaks of a whole place, not of "{item.place}".'
        yield Problem(here, what, f'Write "{item.place.partition("/")[0]}".')


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
