"""Begin a core: from a few words, like a core here, from a file; what is wrong; its first Verdict."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from inspect_app.bundle.sheet_file import write_sheet
from inspect_app.ui.shelf import Shelf
from inspect_app.ui.typed_text import Reader, id_from, id_problem, written
from tests.ui.rack_shop import FOUR, html, shop_with


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    with shop_with(tmp_path, FOUR) as made:
        yield made


def new_core() -> AppTest:
    def script() -> None:
        from inspect_app.ui import new_core

        new_core.page()

    app = AppTest.from_function(script, default_timeout=20)
    app.session_state["who"] = "B.W."
    return app.run()


def verdict(core: str) -> str:
    def script() -> None:
        from inspect_app.ui import verdict

        verdict.page()

    app = AppTest.from_function(script, default_timeout=20)
    app.query_params["core"] = core
    return html(app.run())


def typed(app: AppTest, **boxes: str) -> AppTest:
    for key, text in boxes.items():
        box = app.text_area if key in ("claims", "numbers", "alternatives") else app.text_input
        box(key=f"new_{key}").set_value(text)
    return app


def begun(app: AppTest) -> str:
    return html(app.button(key="do_begin").click().run())


def test_a_title_and_a_few_words_are_enough(cores: Shelf) -> None:
    app = typed(new_core(), title="0512 Harrow Eight")
    assert "Begun: 0512 Harrow Eight." in begun(app)
    slot = cores.get("0512-harrow-eight")
    assert slot is not None
    assert slot.held is not None
    assert slot.held.sheet.counts == {"cylinders": 4, "mains": 5, "rod_journals": 4, "heads": 1}
    assert slot.held.sheet.conventions["fuel"] == "petrol"
    assert slot.answer is not None
    assert slot.answer.core.verdict is None


def test_its_verdict_is_all_dots_with_one_next_step(cores: Shelf) -> None:
    begun(typed(new_core(), title="New one"))
    page = verdict("new-one")
    assert '<h1 class="ia-answer">Not judged</h1>' in page
    assert "Nobody has looked at this core yet." in page
    slot = cores.get("new-one")
    assert slot is not None
    assert slot.answer is not None
    first = slot.answer.parts[0]
    assert f'href="/part?core=new-one&amp;part={first.position}"' in page
    assert "Next: look at the" not in verdict(FOUR)


def test_all_that_is_typed_is_kept(cores: Shelf) -> None:
    app = typed(
        new_core(),
        title="Full",
        use="tows a trailer",
        asking_price="450",
        value_built="1800 2000 2300,50",
        value_in_parts="300",
        claims="ran until it was taken out\n\nnever opened",
        numbers="casting number: side: 4417",
        alternatives="exchange engine: 1900\nanother core: 300 350 500",
    )
    app.selectbox(key="new_stage").set_value("teardown")
    app.selectbox(key="new_standard").set_value("rebuild")
    app.selectbox(key="new_material_block").set_value("aluminium")
    app.selectbox(key="new_fuel").set_value("diesel")
    app.selectbox(key="new_content").set_value("long")
    begun(app)
    slot = cores.get("full")
    assert slot is not None
    assert slot.held is not None
    core, record = slot.held.core, slot.held.core.record
    assert (core.use, core.stage, core.build_standard) == ("tows a trailer", "teardown", "rebuild")
    assert (written(record.value_built), written(record.asking_price)) == ("1800 2000 2300.50", "450")
    assert [claim.text for claim in record.claims] == ["ran until it was taken out", "never opened"]
    assert [(one.what, one.text) for one in record.numbers_read] == [("casting number: side", "4417")]
    assert [(one.name, written(one.price)) for one in record.alternatives] == [
        ("exchange engine", "1900"),
        ("another core", "300 350 500"),
    ]
    assert slot.held.sheet.materials["block"] == "aluminium"
    assert slot.held.sheet.conventions["fuel"] == "diesel"
    assert record.content == "long"


def test_everything_wrong_is_said_at_once_and_nothing_is_written(cores: Shelf) -> None:
    app = typed(
        new_core(),
        id="Not An Id",
        asking_price="about 400",
        value_built="500 400 600",
        numbers="4417",
        alternatives="exchange engine: cheap",
    )
    app.session_state["who"] = ""
    page = begun(app)
    for words in (
        "Who enters: it is empty. Type your initials.",
        "Title: it is empty. Type it.",
        "Id: &quot;Not An Id&quot; is no id.",
        "Asking price: &quot;about 400&quot; is no amount of money. Type one number such as 450",
        "Value when built: low 500, likely 400 and high 600 are out of order.",
        "Numbers read, line 1: &quot;4417&quot; has no colon between two words.",
        "Alternatives, line 1: &quot;cheap&quot; is no amount of money.",
    ):
        assert words in page, words
    assert [row.id for row in cores.rows()] == [FOUR]


@pytest.mark.parametrize(
    ("title", "words"),
    [
        ("x" * 10_000, "Title: it has 10,000 characters, 200 at most."),
        ("bell\x07", "Title: it holds a character that cannot be printed (U+0007)."),
        ("right\u202eto left", "cannot be printed (U+202E)"),
    ],
)
def test_a_title_that_cannot_be_shown_is_refused(cores: Shelf, title: str, words: str) -> None:
    assert words in begun(typed(new_core(), title=title))
    assert len(cores.rows()) == 1


@pytest.mark.usefixtures("cores")
def test_markup_in_a_title_stays_text() -> None:
    begun(typed(new_core(), title="<img src=x onerror=alert(1)> **bold**", id="plain"))
    page = verdict("plain")
    assert "<img" not in page
    assert "&lt;img src=x onerror=alert(1)&gt; **bold**" in page


def test_an_engine_like_that_of_a_core_here(cores: Shelf) -> None:
    app = typed(new_core(), title="Second")
    app.session_state["new_way"] = "family"
    app.run()
    assert "1 core" in app.selectbox(key="new_family").options[0]
    begun(app)
    first, second = cores.get(FOUR), cores.get("second")
    assert first is not None
    assert second is not None
    assert first.held is not None
    assert second.held is not None
    assert second.held.sheet == first.held.sheet


def test_an_engine_of_a_sheet_file(cores: Shelf) -> None:
    folder = cores.shop.path.parent / "sheets"
    folder.mkdir()
    slot = cores.get(FOUR)
    assert slot is not None
    assert slot.held is not None
    write_sheet(slot.held.sheet.model_copy(update={"title": "From a file"}), folder / "harrow.csv")
    (folder / "broken.json").write_text("{")
    app = typed(new_core(), title="Filed")
    app.session_state["new_way"] = "file"
    app.run()
    assert app.selectbox(key="new_file").options == ["broken.json", "harrow.csv"]
    assert "broken.json" in begun(app)
    app.selectbox(key="new_file").select_index(1).run()
    begun(app)
    filed = cores.get("filed")
    assert filed is not None
    assert filed.held is not None
    assert filed.held.sheet.title == "From a file"


def test_a_v_has_two_heads_by_name(cores: Shelf) -> None:
    begin = cores.book.pack.begin
    assert begin is not None
    app = typed(new_core(), title="Vee")
    app.session_state["new_layout"] = begin.layout[1].id
    app.run()
    app.selectbox(key="new_number_vee").set_value(8)
    begun(app)
    slot = cores.get("vee")
    assert slot is not None
    assert slot.held is not None
    assert slot.held.sheet.counts["heads"] == 2
    assert slot.answer is not None


@pytest.mark.parametrize(
    ("title", "made"),
    [
        ("0512 Harrow Eight", "0512-harrow-eight"),
        ("Größe", "groe"),
        ("---", "core"),
        ("", "core"),
        ("Taken", "taken-3"),
        ("x" * 100, "x" * 60),
    ],
)
def test_an_id_is_made_from_the_title(title: str, made: str) -> None:
    taken = {"taken", "taken-2"}
    assert id_from(title, taken) == made
    assert id_problem(id_from(title, taken), taken) is None


@pytest.mark.parametrize("core_id", ["", "A", "-a", "a b", "a/b", "x" * 61, "taken", "a\n"])
def test_ids_that_are_none(core_id: str) -> None:
    assert id_problem(core_id, {"taken"}) is not None


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("450", "450"),
        ("450,5", "450.50"),
        ("  1 2  3 ", "1 2 3"),
        ("0", "0"),
        ("", ""),
        ("-1", None),
        ("1 2", None),
        ("1e3", None),
        ("inf", None),
        ("1.234", None),
        ("3 2 1", None),
        ("9" * 10_000, None),
    ],
)
def test_amounts_as_typed(typed: str, read: str | None) -> None:
    reader = Reader()
    amount = reader.amount("Price", typed)
    assert (not reader.problems) == (read is not None)
    assert written(amount) == (read or "")
    assert all(len(str(problem)) < 600 for problem in reader.problems)
