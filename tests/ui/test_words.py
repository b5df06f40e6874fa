import pytest

from inspect_app.model import answer as a
from inspect_app.ui import words
from tests.ui import made


def test_core_verdict_names_choice_and_standing() -> None:
    assert words.core_verdict(made.answer().core) == "Build it, provisional"
    settled = made.answer(verdict="break", standing="settled").core
    assert words.core_verdict(settled) == "Break it for parts, settled"


def test_core_without_verdict_is_not_judged() -> None:
    assert words.core_verdict(made.answer(verdict=None, standing=None).core) == "Not judged"


def test_part_verdicts() -> None:
    said = [words.part_verdict(part) for part in made.answer().parts]
    assert said == [
        "Recondition, provisional",
        "Replace, settled",
        "Replace, provisional",
        "Not judged",
        "Reuse, settled",
    ]


def test_every_id_of_the_answer_has_its_word() -> None:
    for names, ids in (
        (words.STAGES, a.Stage),
        (words.BUILD_STANDARDS, a.BuildStandard),
        (words.CORE_CHOICES, a.CoreChoice),
        (words.VERDICTS, a.Verdict),
        (words.SOURCES, a.Source),
        (words.GROUNDS, a.PartAnswer.model_fields["grounds"].annotation.__args__[0]),
        (words.FATES, a.OldPiece.model_fields["fate"].annotation),
    ):
        assert set(names) == set(ids.__args__)


def test_fork_is_said_before_any_reason() -> None:
    provisional = made.block().model_copy(update={"closed": (made.closed(),)})
    assert words.because(provisional) == "If pressure test (jacket): holds, else Replace, used."


def test_fork_without_another_verdict_says_so() -> None:
    fork = made.block().fork
    assert fork is not None
    nothing = fork.model_copy(update={"else_": a.ForkElse(verdict=None, source=None, cost=None)})
    part = made.block().model_copy(update={"fork": nothing})
    assert words.fork(part) == "If pressure test (jacket): holds, else Not judged."


def test_two_conditions_of_a_fork_are_joined() -> None:
    fork = made.block().fork
    assert fork is not None
    crack = a.ForkIf(what="crack test", place="", answer="clean")
    part = made.block().model_copy(update={"fork": fork.model_copy(update={"if_": (*fork.if_, crack)})})
    assert words.fork(part) == "If pressure test (jacket): holds and crack test: clean, else Replace, used."


def many() -> a.PartAnswer:
    """A part with the same two questions at three pins, and one more."""
    pins = ("pin 1/fillet", "pin 2/fillet", "pin 3/fillet")
    conditions = [("crack test", pin, "nothing found") for pin in pins]
    conditions += [("taper", "pin 1", "inside the limit"), ("hardness", "", "inside the limit")]
    fork = a.Fork(
        if_=tuple(a.ForkIf(what=what, place=place, answer=said) for what, place, said in conditions),
        else_=a.ForkElse(verdict="replace", source="new", cost=None),
    )
    points = tuple(a.OpenPoint(what="crack test", place=pin, needed_for=("own",)) for pin in pins)
    return made.part(standing="provisional", fork=fork, open_points=points)


def test_like_conditions_at_several_places_are_said_once() -> None:
    fork = many().fork
    assert fork is not None
    assert words.fork_conditions(fork) == [
        "crack test (pin 1 to 3, fillet): nothing found",
        "taper (pin 1): inside the limit",
        "hardness: inside the limit",
    ]


def test_long_fork_is_counted_in_its_line() -> None:
    assert words.because(many()) == (
        "If crack test (pin 1 to 3, fillet): nothing found and taper (pin 1): inside the limit "
        "and 1 more, else Replace, new."
    )


def test_like_open_points_are_said_once() -> None:
    assert words.open_points(many()) == ["Crack test, pin 1 to 3, fillet. Needed for the own piece."]


def test_places_keep_patterns_and_leave_out_the_whole() -> None:
    assert words.places(["", "pin 2", "pin *", "pin 2"]) == "every pin, pin 2"
    assert words.places([""]) == ""


def test_hard_reason_comes_before_the_surer_soft_one() -> None:
    assert words.because(made.crankshaft()).startswith("Crack in the fillet")


def test_among_soft_reasons_the_surer_is_said() -> None:
    likely, sure = made.closed(p_beyond=0.6, why="likely"), made.closed(p_beyond=0.99, why="sure")
    assert words.strongest((likely, sure)).why == "sure"


def test_coupling_is_the_reason_where_nothing_else_is() -> None:
    assert words.because(made.pistons()) == "Bored cylinders need the new size."


def test_part_not_judged_says_what_is_missing() -> None:
    assert words.because(made.pump()) == "Look at the gears, every gear; 1 more open."


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("rod_journal 2/fillet/front", "rod journal 2, fillet, front"),
        ("main_journal *", "every main journal"),
        ("*", "the whole piece"),
        ("deck", "deck"),
    ],
)
def test_places(name: str, said: str) -> None:
    assert words.place(name) == said


@pytest.mark.parametrize(
    ("closed", "said"),
    [("own", "the own piece"), ("mains.polish", "mains: polish"), ("used", "the source used")],
)
def test_what_a_reason_closes(closed: str, said: str) -> None:
    assert words.closes(closed) == said


def test_way_with_size_and_exceptions() -> None:
    assert words.way(made.block().ways[0]) == "bores: bore 0.020, otherwise at bore 3"


def test_no_word_praises_or_shouts() -> None:
    said = " ".join(words.because(part) for part in made.answer().parts)
    assert "!" not in said


def test_ways_that_change_nothing_are_said_in_one() -> None:
    hone = a.WayTaken(concern="bores", way="hone")
    rest = [a.WayTaken(concern=concern, way="as_is") for concern in ("deck", "jacket")]
    assert words.ways([hone, *rest]) == "bores: hone; the rest as is"
    assert words.ways([hone, rest[0]]) == "bores: hone; deck: as is"
    assert words.ways(rest) == "all as is"
    assert words.ways([]) == ""


def test_titles_draw_their_numbers_together() -> None:
    named = ["Head left", "Rod 1", "Rod 2", "Rod 3", "Rod 5", "Head 1", "Pump"]
    assert words.titles(named) == "Head left, Rod 1 to 3, 5, Head 1, Pump"


@pytest.mark.parametrize(
    ("place", "said"),
    [
        ("bore 2", "crack test (bore 2): clean"),
        ("main web 1 to 4, camshaft tunnel, bore 1 to 6, top face, crankcase", "crack test: clean"),
        ("Block: main web 1 to 4, camshaft tunnel, bore 1 to 6, top face", "crack test (Block): clean"),
    ],
)
def test_a_short_fork_leaves_out_long_places_but_names_another_part(place: str, said: str) -> None:
    turns_on = a.Fork.model_validate(
        {
            "if": [{"what": "crack test", "place": place, "answer": "clean"}],
            "else": {"verdict": None, "source": None, "cost": None},
        }
    )
    assert words.fork_conditions(turns_on, brief=True) == [said]


def test_a_look_that_does_not_count_is_told_with_who_when_where_and_why() -> None:
    at = ("bore 1", "bore 2")
    one = a.LeftOut(evidence="l1", kind="look", who="K.O.", when="2026-11-20", places=at, why="not washed")
    assert words.left_out(one) == "Look by K.O., 20 Nov 2026 (bore 1, 2): not washed."
