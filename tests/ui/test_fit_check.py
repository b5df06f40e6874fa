"""The Fit check page: one heading that is the answer, what is out first, and the words it is told in."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect
from streamlit.testing.v1 import AppTest

from inspect_app.fit_text import fit_text
from inspect_app.model.answer_figures import LimitShown, Measured
from inspect_app.model.fit_answer import Effect, FitAnswer, FitMissing, FitWindow
from inspect_app.pictures.tokens import LIGHT
from inspect_app.ui import fit_words as say
from inspect_app.ui import shelf
from inspect_app.ui.fit_check import bars
from tests.ui.made import judge_made, put_usual
from tests.ui.made_fits import check_made, fit, fits, out, unread
from tests.ui.made_shelf import CheckFits, MadeShelf


def page(tmp_path: Path, check: CheckFits | None = check_made, **query: str) -> str:
    """The HTML of the page over the usual made cores."""

    def script() -> None:
        from inspect_app.ui import fit_check

        fit_check.page()

    shelf.use(MadeShelf(put_usual(tmp_path / "cores"), judge_made, None, check))  # type: ignore[arg-type]
    app = AppTest.from_function(script)
    for name, value in query.items():
        app.query_params[name] = value
    app.run()
    shelf._current = None
    assert not app.exception
    return "\n".join(element.proto.body for element in app.get("html"))


def test_the_heading_is_the_answer_and_what_is_out_comes_first(tmp_path: Path) -> None:
    html = page(tmp_path, core="0417")
    assert html.count("<h1") == 1
    assert "1 fit out of its window, 1 close, 2 not measured, 2 inside</h1>" in html
    order = ["Out of the window", "Close calls", "Inside", "Still open", "What the engine becomes"]
    assert sorted(order, key=lambda title: html.index(f">{title}</h2>")) == order


def test_a_fit_that_is_out_says_what_to_change(tmp_path: Path) -> None:
    html = page(tmp_path, core="0417")
    for text in (
        "Bearing clearance, main web 3",
        "0.0030 ± 0.0002 in (from parts), window 0.0002 to 0.0022 in; inside with under 1 %.",
        "0.0025 to 0.0030 in round the place.",
        "Too wide: oil runs out.",
        "Main journal, diameter: at least 0.0008 in larger, 0.0018 in to reach the middle, another shaft.",
        "Seat: at least 0.0008 in smaller, another shaft.",
    ):
        assert text in html.replace("\u00a0", " "), text


def test_places_that_wait_for_the_same_stand_in_one_row(tmp_path: Path) -> None:
    html = page(tmp_path, core="0417")
    assert "main web 1, 5" in html
    assert html.count("Measure it.") == 1


def test_a_setting_not_yet_made_is_told_where_it_waits() -> None:
    setting = fit("open", set_to=LimitShown(value=0.008, unit="in"), missing=(FitMissing(what="measure it"),))
    ((_, _, _, missing),) = say.waiting([setting])
    assert missing.replace("\u00a0", " ") == "Set cold: 0.0080 in. Measure it."


def test_effects_tell_before_and_after_or_what_is_lacking(tmp_path: Path) -> None:
    html = page(tmp_path, core="0417").replace("\u00a0", " ")
    assert "2200.0 cc" in html
    assert "2225.7 cc" in html
    assert "Not known: stroke." in html


def test_nothing_typed_is_read_as_html(tmp_path: Path) -> None:
    assert "<img" not in page(tmp_path, core="0417")


def test_an_unknown_core_and_a_server_without_fits_are_told(tmp_path: Path) -> None:
    assert "No core here has the id" in page(tmp_path / "a", core="nobody")
    assert "No fit check here" in page(tmp_path / "b", None, core="0417")
    assert "cannot be judged" in page(tmp_path / "c", core="0500-broken")


def test_only_fits_that_are_out_or_close_are_drawn_with_both_ends_of_their_window() -> None:
    drawn = bars(fits(), LIGHT)
    assert len(drawn) == 4
    wide = drawn["fit|clearance|main web 3|560"]
    assert wide.count('class="limit"') == 2
    assert wide.count('class="beyond"') == 2
    assert "At 140\u00a0% of its window" in wide


@pytest.mark.parametrize(
    ("answer", "heading"),
    [
        (fits(out(), out()), "2 fits out of their window"),
        (fits(fit(), fit()), "All 2 fits inside their windows"),
        (fits(fit()), "The one fit is inside its window"),
        (fits(fit(), unread("a 1")), "No fit out of its window, 1 not measured, 1 inside"),
        (fits(unread("a 1")), "No fit is measured yet"),
        (
            fits(fit("open", window=None), fit()),
            "No fit out of its window, 1 waiting, 1 inside",
        ),
    ],
)
def test_the_heading_counts(answer: FitAnswer, heading: str) -> None:
    assert say.heading(answer) == heading


def test_no_fits_at_all_are_said() -> None:
    assert say.heading(fits().model_copy(update={"fits": ()})) == "No fit is asked for"


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (0.0, "under 1 %"),
        (0.004, "under 1 %"),
        (0.5, "50 %"),
        (0.994, "99 %"),
        (1.0, "over 99 %"),
        (None, ""),
    ],
)
def test_a_chance_is_never_said_to_be_sure(chance: float | None, words: str) -> None:
    assert say.chance(chance).replace("\u00a0", " ") == words


@pytest.mark.parametrize(
    ("low", "high", "unit", "words"),
    [
        (0.08, None, "in", "0.0800 in or more"),
        (None, 5.0, "g", "5.00 g or less"),
        (-2.0, 2.0, "degree", "−2.0 to 2.0°"),
        (15.0, 30.0, "ft_lb", "15.0 to 30.0 lb-ft"),
    ],
)
def test_windows_in_words(low: float | None, high: float | None, unit: str, words: str) -> None:
    bounds = FitWindow(low=low, high=high, unit=unit, whose="pack")
    assert say.window(bounds).replace("\u00a0", " ") == words


def test_places_are_drawn_together_by_their_last_number() -> None:
    places = ["rod 1, big end", "rod 2, big end", "rod 3, big end", "nose", "web 2"]
    assert say.together(places) == "rod 1 to 3, big end; nose; web 2"


def test_fits_that_tell_the_same_stand_together_with_the_evidence_of_all() -> None:
    same = [fit(place=f"main web {n}", evidence=(f"r{n}",)) for n in (1, 2, 3)]
    (together, other) = say.alike([*same, fit(place="main web 4", p_inside=0.97)])
    assert (together.place, together.evidence) == ("main web 1 to 3", ("r1", "r2", "r3"))
    assert other.place == "main web 4"


def test_the_text_of_the_terminal_tells_the_same() -> None:
    text = fit_text(fits()).replace("\u00a0", " ")
    assert text.startswith("0417 Brackwater Four (0417): 1 fit out of its window, 1 close")
    assert "at 140 % of it, inside with under 1 %." in " ".join(text.split())
    assert "Set cold" not in text, "of a fit that is inside one line is enough"
    assert "  Bearing clearance, main web 1, 5 (window 0.0002 to 0.0022 in): Measure it." in text
    assert "Swept volume: 2200.0 cc before, 2225.7 cc by the ways chosen." in text


def test_a_size_without_doubt_shows_none() -> None:
    assert say.measured(Measured(value=4.0, unit="degree", u=0)) == "4.0°"


@pytest.mark.parametrize(("width", "height"), [(1440, 1000), (390, 844)])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_page_fits_its_screen(
    browser: Browser, address: str, width: int, height: int, scheme: str
) -> None:
    opened = browser.new_page(viewport={"width": width, "height": height}, color_scheme=scheme)  # type: ignore[arg-type]
    opened.goto(f"{address}/fits?core=0417")
    expect(opened.locator("h1")).to_have_text("1 fit out of its window, 1 close, 2 not measured, 2 inside")
    expect(opened.locator(".ia-drawing svg:visible")).to_have_count(2)
    assert opened.evaluate("document.documentElement.scrollWidth") <= width
    opened.close()


@pytest.mark.parametrize(
    ("after", "said"),
    [
        (0.0, ("", "no change", "")),
        (0.012, ("", "0.0120\u00a0in", "Heed it.")),
        (-0.001, ("", "−0.0010\u00a0in", "Heed it.")),
        (None, ("", "not known", "Heed it.")),
    ],
)
def test_an_effect_that_is_a_change_has_nothing_before_it(
    after: float | None, said: tuple[str, str, str]
) -> None:
    moved = Effect(effect="stack", title="Height", unit="in", before=0.0, after=after, says="Heed it.")
    assert say.effect(moved) == said
