import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_app.model.answer_figures import LimitShown, Measured
from inspect_app.ui import figures
from tests.ui import made

S = figures.HARD_SPACE


@pytest.mark.parametrize(
    ("amount", "currency", "said"),
    [
        (1830.4, "USD", "$1,830"),
        (-120, "USD", "−$120"),
        (-0.001, "USD", "$0"),
        (0, "EUR", "€0"),
        (0.4, "USD", "$0.40"),
        (0.999, "USD", "$1"),
        (1234567.5, "CHF", f"CHF{S}1,234,568"),
    ],
)
def test_money(amount: float, currency: str, said: str) -> None:
    assert figures.money(amount, currency) == said


def test_minus_is_true_and_nothing_has_none() -> None:
    assert figures.number(-0.0025, 4) == "−0.0025"
    assert figures.number(-0.00001, 4) == "0.0000"


def test_unbounded_figure_is_said_in_words() -> None:
    assert figures.measured(Measured(value=float("inf"), unit="count", u=0)) == f"not known{S}count"


@pytest.mark.parametrize(("value", "said"), [(4.0, "4"), (0.25, "0.25"), (100.0, "100"), (-1.5, "−1.5")])
def test_quantity(value: float, said: str) -> None:
    assert figures.quantity(value) == said


def test_figure_stays_on_one_line_with_its_unit() -> None:
    assert figures.measured(Measured(value=0.0077, unit="in", u=0.0002)) == f"0.0077{S}±{S}0.0002{S}in"
    assert figures.measured(Measured(value=-0.5, unit="mm", u=0)) == f"−0.500{S}mm"


def test_small_uncertainty_is_not_shown_as_none() -> None:
    said = figures.measured(Measured(value=0.0077, unit="in", u=0.00001))
    assert said == f"0.0077{S}±{S}under{S}0.0001{S}in"


def test_other_units_keep_three_figures() -> None:
    assert figures.measured(Measured(value=9.234, unit="ratio", u=0)) == f"9.23{S}ratio"


def test_figure_and_limit_are_never_shown_equal_when_they_differ() -> None:
    said = figures.against(Measured(value=0.00052, unit="in", u=0), LimitShown(value=0.0005, unit="in"))
    assert said == f"0.00052{S}in against 0.00050{S}in"


@pytest.mark.parametrize(
    ("limit", "said"), [(0.00175, "0.00175"), (0.001, "0.0010"), (0.0016666667, "0.001667")]
)
def test_a_limit_is_shown_with_the_places_it_takes(limit: float, said: str) -> None:
    shown = figures.against(Measured(value=0.0005, unit="in", u=0.0001), LimitShown(value=limit, unit="in"))
    assert shown == f"0.0005{S}±{S}0.0001{S}in against {said}{S}in"


def test_reason_says_figure_limit_owner_and_margin() -> None:
    assert figures.against_limit(made.closed()) == (
        f"Measured 0.0007{S}±{S}0.0001{S}in against 0.0005{S}in, the rule pack's limit; "
        f"0.0002{S}in past it; near certain beyond."
    )


@pytest.mark.parametrize(
    ("origin", "basis", "against", "said"),
    [
        ("pack", "common practice", "limit", "the rule pack's limit (common practice);"),
        ("maker", "manual, p. 3", "limit", "the maker's limit (manual, p. 3);"),
        ("shop", "ten that came back", "metal left", "the shop's limit (ten that came back);"),
        ("maker", "manual, p. 3", "size", "a size of the engine sheet;"),
        ("pack", "", "size", "a usual size of the rule pack;"),
    ],
)
def test_reason_says_what_its_limit_rests_on(origin: str, basis: str, against: str, said: str) -> None:
    reason = made.closed(limit_from=origin, limit_basis=basis, against=against)
    assert f"in, {said}" in figures.against_limit(reason)


def test_reason_short_of_its_limit_says_so() -> None:
    assert f"0.0001{S}in short of it" in figures.against_limit(made.closed(margin=-0.0001))


def test_reason_without_figure_says_nothing() -> None:
    assert figures.against_limit(made.closed(measured=None)) == ""


def test_half_known_figures_say_at_least_or_at_most() -> None:
    for bound, said in (("at_least", f"at{S}least"), ("at_most", f"at{S}most")):
        half = Measured(value=0.0063, unit="in", u=0.0002, bound=bound)  # type: ignore[arg-type]
        assert figures.measured(half) == f"{said}{S}0.0063{S}±{S}0.0002{S}in"
        assert f"Measured {said}{S}0.0063" in figures.against_limit(made.closed(measured=half))


def test_a_listed_size_and_metal_left_are_not_called_limits() -> None:
    size = figures.against_limit(made.closed(against="size", limit_from=None))
    assert size.startswith("Needs 0.0007")
    assert f"against 0.0005{S}in, the size" in size
    wall = figures.against_limit(made.closed(against="metal left", limit_from=None))
    assert wall.startswith("Leaves 0.0007")
    assert f"against 0.0005{S}in, the least wall" in wall


def test_close_call() -> None:
    said = figures.close_call(made.block().close_calls[0])
    assert said == f"Deck flatness, deck: 0.0041{S}±{S}0.0004{S}in against 0.0040{S}in, likely beyond."


@pytest.mark.parametrize(
    ("chance", "word"),
    [
        (0.0, "unlikely"),
        (0.15, "possible"),
        (0.5, "possible"),
        (0.51, "likely"),
        (0.9, "likely"),
        (0.91, "near certain"),
    ],
)
def test_odds(chance: float, word: str) -> None:
    assert figures.odds(chance) == word


@given(st.floats(allow_nan=True, allow_infinity=True), st.sampled_from(["in", "mm", "deg", ""]))
def test_no_figure_breaks_the_page(value: float, unit: str) -> None:
    assert "-" not in figures.measured(Measured(value=value, unit=unit, u=0))
