"""Both pages through Streamlit's own test runner: what is on them, for each kind of core."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from inspect_app.model import answer as a
from inspect_app.pictures.tokens import LIGHT
from inspect_app.ui import money_view, part_panel, shelf
from inspect_app.ui import rack as rack_page
from tests.ui import made
from tests.ui.made import judge_made, put_core
from tests.ui.made_shelf import MadeShelf


def rack() -> AppTest:
    def script() -> None:
        from inspect_app.ui import rack

        rack.page()

    return AppTest.from_function(script)


def verdict(**query: str) -> AppTest:
    def script() -> None:
        from inspect_app.ui import verdict

        verdict.page()

    app = AppTest.from_function(script)
    for name, value in query.items():
        app.query_params[name] = value
    return app


def shown(app: AppTest) -> str:
    """The HTML of the page, which must have drawn without an error."""
    assert not app.exception
    return "\n".join(element.proto.body for element in app.get("html"))


def test_main_script_draws_the_rack(made_shelf: MadeShelf) -> None:
    main = Path(shelf.__file__).with_name("main.py")
    html = shown(AppTest.from_file(str(main)).run())
    assert "5 cores, 4 wait for something" in html
    assert "--ia-paper: #FBFCFB" in html


@pytest.mark.usefixtures("made_shelf")
def test_rack_lists_every_core_those_that_wait_first() -> None:
    html = shown(rack().run())
    order = ["0500-broken", "0501-fault", "0420 Nasty", "0417 Brackwater Four", "0431 Harrow Six"]
    assert sorted(order, key=html.index) == order
    for text in (
        "Build it, provisional",
        "Break it for parts, settled",
        "Bench",
        "Bill $812",
        "<strong>$520</strong>",
        "1 not judged",
        "the pressure test of the jacket",
    ):
        assert text in html, text
    assert html.count('<a class="ia-core"') == 5
    assert 'href="/verdict?core=0417"' in html
    assert "core.json, title: this key is missing. Add it." in html


def test_rack_draws_the_money_of_each_core_that_has_a_choice(made_shelf: MadeShelf) -> None:
    drawn = rack_page.money_lines(made_shelf.rows(), LIGHT)
    assert set(drawn) == {"money|0417", "money|0431"}
    assert "$520" in drawn["money|0417"]
    html = shown(rack().run())
    assert {f'data-drawing="{name}"' in html for name in drawn} == {True}


@pytest.mark.usefixtures("made_shelf")
def test_typed_text_stays_text_on_both_pages() -> None:
    for app in (rack(), verdict(core="0420")):
        html = shown(app.run())
        assert "<img" not in html
        assert "&lt;img src=x" in html


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[MadeShelf]:
    yield from _used(MadeShelf(tmp_path, judge_made))


def _used(made_shelf: MadeShelf) -> Iterator[MadeShelf]:
    shelf.use(made_shelf)  # type: ignore[arg-type]
    yield made_shelf
    shelf._current = None


@pytest.mark.usefixtures("empty")
def test_empty_shelf_says_what_to_do() -> None:
    assert 'Next: <a href="/new">begin a core</a>' in shown(rack().run())
    assert "Open the Rack" in shown(verdict().run())


def test_long_rack_is_cut_and_can_be_searched(empty: MadeShelf) -> None:
    for at in range(201):
        put_core(empty.folder, f"c{at:03}", title=f"Core {at:03}")
    app = rack().run()
    assert "200 of 201 shown" in shown(app)
    assert "Core 200" not in shown(app)
    found = shown(app.text_input[0].set_value("core 200").run())
    assert "Core 200" in found
    assert "Core 199" not in found


@pytest.mark.usefixtures("made_shelf")
def test_verdict_shows_the_answer_its_money_and_what_is_not_judged() -> None:
    html = shown(verdict(core="0417").run())
    for text in (
        '<h1 class="ia-answer">Build it, provisional</h1>',
        "Built it leaves $520, in parts it brings $310.",
        "Waits for: the pressure test of the jacket.",
        "No price for the freight is entered.",
        "Rebuild",
        "63 items, last 2026-11-24",
        "2026.3; Autumn list, 2026-10-01",
        "<strong>Built, less the bill, it leaves</strong> (chosen)",
        "not known",
        "Parts: 1 reuse, 1 recondition, 2 replace, 1 not judged",
        "all lines at their low",
        "Not judged, and in the total at the cheapest way not closed: Oil pump.",
        "1 of 5 parts is not judged; the bill takes each at its cheapest way not closed.",
    ):
        assert text in html, text


def test_parts_that_a_way_asks_the_same_of_are_said_together() -> None:
    why = "Bored cylinders need the new size"
    asked = [a.Forced(position=f"piston {n}", choice="not own piece", why=why) for n in (1, 2, 3)]
    block = made.block()
    options = (block.options[0].model_copy(update={"forces": tuple(asked)}),)
    titled = [made.part(position=f"piston {n}", title=f"Piston {n}") for n in (1, 2, 3)]
    parts = (block.model_copy(update={"options": options}), *titled)
    html = part_panel.panel(parts[0], made.answer().model_copy(update={"parts": parts}))
    assert "Piston 1 to 3, not own piece: Bored cylinders need the new size." in html
    assert html.count("Bored cylinders need the new size") == 1


def test_a_quantity_by_chance_is_explained_below_the_bill() -> None:
    said = "A quantity that is not whole counts"
    whole = made.answer()
    part = whole.bill[0].model_copy(update={"quantity": 1.1})
    assert said not in money_view.bill(whole)
    assert said in money_view.bill(whole.model_copy(update={"bill": (part,)}))


BEHIND = {
    "block": (
        "Pressure test (jacket): holds.",
        "Else: Replace, used.",
        "Pressure test, jacket. Needed for the own piece.",
        "Deck flatness, deck: 0.0041",
        "Pistons and rings, new: Bored cylinders need the new size.",
        "Bore to 0.020 in, all four",
        "3 figures: 2 beyond, 1 without a limit",
        "Profiles of bore 1, 2, at one scale",
    ),
    "crankshaft": (
        "Closes the own piece. </strong>Crack in the fillet of rod journal 2",
        "It can break in service, and no machining removes the crack.",
        "Rule crack-in-journal-fillet, hard rule. Basis: Common practice. Evidence: f3.",
        "0.0002\u00a0in past it",
        "no price",
        "Piece p1: closed the own piece.",
        "Old piece: scrap, $9.",
    ),
    "piston_set": ("Block, bores: bore to 0.020 in: Bored cylinders need the new size.",),
    "oil_pump": ("<strong>Not judged</strong>", "Look at the gears, every gear. Needed for the own piece."),
}


@pytest.mark.usefixtures("made_shelf")
@pytest.mark.parametrize("position", BEHIND)
def test_panel_shows_all_that_stands_behind_the_part_asked_for(position: str) -> None:
    html = shown(verdict(core="0417", part=position).run())
    assert html.count('data-panel="') == 1
    assert f'data-panel="{position}"' in html
    for text in BEHIND[position]:
        assert text in html, text


@pytest.mark.usefixtures("made_shelf")
@pytest.mark.parametrize("query", [{}, {"part": "no such part"}])
def test_panel_shows_the_part_that_costs_most_when_none_is_asked_for(query: dict[str, str]) -> None:
    html = shown(verdict(core="0417", **query).run())
    assert 'data-panel="piston_set"' in html
    assert html.count("ia-chosen") == 1


@pytest.mark.usefixtures("made_shelf")
def test_list_of_parts_leads_to_the_panel_of_each() -> None:
    html = shown(verdict(core="0417").run())
    for part in made.answer().parts:
        assert f'href="/verdict?core=0417&amp;part={part.position}"' in html
    assert "If pressure test (jacket): holds, else Replace, used." in html


@pytest.mark.usefixtures("made_shelf")
def test_first_core_is_shown_when_none_is_asked_for_and_another_can_be_chosen() -> None:
    app = verdict().run()
    assert "0417 Brackwater Four" in shown(app)
    app.selectbox[0].set_value("0431").run()
    assert "Break it for parts, settled" in shown(app)
    assert app.query_params["core"] == "0431"


@pytest.mark.usefixtures("made_shelf")
def test_unknown_and_broken_cores_are_said_in_words() -> None:
    assert "No core here has the id &quot;9999&quot;." in shown(verdict(core="9999").run())
    broken = shown(verdict(core="0500-broken").run())
    assert "0500-broken cannot be judged" in broken
    assert "<p>photos: gone.</p>" in broken


@pytest.mark.usefixtures("made_shelf")
def test_reasons_of_one_rule_are_told_together_the_surest_first() -> None:
    reasons = tuple(
        made.closed(place=f"main_journal {at}", p_beyond=chance) for at, chance in ((1, 0.6), (2, 0.99))
    )
    html = part_panel.panel(made.part(closed=reasons), made.answer())
    assert html.count("Closes mains: polish.") == 1
    assert html.index("near certain beyond") < html.index("Also main journal 1: 0.0007")
    assert "; likely beyond" not in html


def test_sampled_total_names_its_odds(empty: MadeShelf) -> None:
    cost = made.answer().core.cost.model_dump() | {"basis": "sampled"}
    put_core(empty.folder, "s", cost=cost)
    html = shown(verdict(core="s").run())
    assert "Eight times in ten" in html
    assert "Bill: likely $812, eight times in ten from $650 to $974." in html


def test_panel_says_which_look_does_not_count_and_why() -> None:
    one = a.LeftOut(
        evidence="l1", kind="look", who=made.NASTY, when="2026-11-20", places=("*",), why="not washed"
    )
    html = part_panel.panel(made.part(left_out=(one,)), made.answer())
    assert '<h3 class="ia-group">Does not count</h3><ul><li>Look by &lt;img' in html
    assert "20 Nov 2026 (the whole piece): not washed.</li>" in html
    assert "Does not count" not in part_panel.panel(made.part(), made.answer())


def test_panel_says_why_a_verdict_turns_on_another_part() -> None:
    own = a.ForkIf(what="pressure test", place="jacket", answer="holds", positions=("sump",))
    why = {"answer": "inside", "positions": ("lid 1", "lid 2"), "because": "lids are cut to the sump"}
    others = [a.ForkIf(what=what, place="Lid 1, 2: face", **why) for what in ("flatness", "height")]
    fork = made.block().fork
    assert fork is not None
    part = made.part(
        fork=fork.model_copy(update={"if_": (others[0], own, others[1])}), standing="provisional"
    )
    named = [made.part(position=f"lid {n}", title=f"Lid {n}") for n in (1, 2)]
    html = part_panel.panel(part, made.answer().model_copy(update={"parts": (part, *named)}))
    assert (
        "<li>Pressure test (jacket): holds.</li>"
        "<li>Lid 1, 2, because: Lids are cut to the sump."
        "<ul><li>Flatness (Lid 1, 2: face): inside.</li><li>Height (Lid 1, 2: face): inside.</li></ul></li>"
        "<li>Else" in html
    )
