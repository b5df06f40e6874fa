"""The page itself, without a browser: what it draws, and what becomes of an outbox."""

from collections.abc import Iterator

import pytest
from streamlit.testing.v1 import AppTest

from inspect_app import store
from inspect_app.model.evidence import Reading
from inspect_app.model.sheet import SheetQuantity
from inspect_app.ui import bench, bench_asked, bench_panel, shelf
from inspect_app.ui.bench_entry import Outbox
from inspect_app.ui.bench_groups import groups
from inspect_app.ui.shelf import Shelf
from tests.ui.bench_support import BORES, Shop


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    file = tmp_path_factory.mktemp("bench") / "shop.sqlite"
    made = Shop(file)
    with store.create_shop_file(file) as opened:
        shelf.use(Shelf(opened, lambda: made.book))
        yield made
    shelf._current = None


def page(**query: str) -> AppTest:
    def script() -> None:
        from inspect_app.ui import bench

        bench.page()

    app = AppTest.from_function(script, default_timeout=30)
    for name, value in query.items():
        app.query_params[name] = value
    app.run()
    assert not app.exception
    return app


def html(app: AppTest) -> str:
    return "\n".join(element.proto.body for element in app.get("html")).replace("\u00a0", " ")


def test_the_address_names_the_group_or_the_part(shop: Shop) -> None:
    core_id = shop.begin_measured()
    assert page(core=core_id, group="rod/big_end/diameter").selectbox(key="bench_group").value == (
        "rod/big_end/diameter"
    )
    named = page(core=core_id, part="rod 2").selectbox(key="bench_group").value
    assert named is not None
    assert named.startswith("rod/")
    first = page(core=core_id, group="nobody/knows").selectbox(key="bench_group").value
    found = bench_asked.link(core_id, str(first))
    assert found == f"/bench?core={core_id}&group={str(first).replace('/', '%2F').replace(' ', '%20')}"


@pytest.mark.parametrize(
    ("part", "name", "place", "key"),
    [
        ("block", "taper", "bore 2", BORES),
        ("block", "wall", "bore 2", "block/bore/wall"),
        ("crankshaft", "diameter", "rod_journal 3", "crankshaft/rod_journal/diameter"),
        ("rod 2", "diameter", "big_end", "rod/big_end/diameter"),
    ],
)
def test_an_open_point_leads_to_the_group_that_answers_it(
    shop: Shop, part: str, name: str, place: str, key: str
) -> None:
    app = page(core=shop.begin(), part=part, name=name, place=place, enter="reading")
    assert app.selectbox(key="bench_group").value == key
    shown = html(app)
    assert f'ia-part-name">{part.capitalize()}' in shown or part == "rod 2"
    assert place.replace("_", " ") in shown.lower()


def test_every_group_of_a_measured_core_is_drawn(shop: Shop) -> None:
    core_id = shop.begin_measured()
    slot = shelf.current().get(core_id)
    assert slot is not None
    for key in ("block/bore/sweep", "block/deck/bank_angle", "cylinder_head/head_face/hardness", BORES):
        shown = html(page(core=core_id, group=key))
        assert "of" in shown
        assert "All 84 groups of readings" in shown or "groups of readings" in shown


def test_figures_profile_and_verdict_of_the_place_in_hand_stand_beside_the_boxes(shop: Shop) -> None:
    shown = html(page(core=shop.begin_measured(), group=BORES))
    for said in ("Block, bore 1", "Recondition", "32 of 32 read", 'data-drawing="profile|440"', "Taper"):
        assert said in shown
    assert "set to 3.4370 in, washed, session bore diameter, " in shown


def test_without_readings_the_page_says_what_is_missing(shop: Shop) -> None:
    shown = html(page(core=shop.begin(), group="block/main_web/diameter"))
    assert "0 of 30 read" in shown
    assert bench_panel.NOTHING in shown
    assert "Saved, but not counted until read so: washed." in shown


def test_a_title_that_looks_like_markup_stays_text(shop: Shop) -> None:
    core_id = shop.begin()
    slot = shelf.current().get(core_id)
    assert slot is not None
    assert slot.held is not None
    core = slot.held.core.model_copy(update={"title": "<b>Four</b> *1*"})
    shelf.current().revise(core, slot.held.sheet, "A.T.", slot.held.records)
    assert "&lt;b&gt;Four&lt;/b&gt; *1*" in html(page(core=core_id, group=BORES))


def test_an_outbox_of_any_group_is_answered(shop: Shop) -> None:
    core_id = shop.begin()
    slot = shelf.current().get(core_id)
    assert slot is not None
    box = next(one for one in groups(slot) if one.key == BORES).boxes[0]
    setup = {"unit": "in", "state": "as_found"}
    edit = {"id": "0" * 16, "box": box.key, "text": "3.4390", "setup": setup}
    sent = Outbox.model_validate({"seq": 1, "core": core_id, "group": BORES, "edits": [edit]})
    assert {told.state for told in bench.answer(sent, "B.W.").values()} == {"saved"}
    assert [i.value for i in shop.core(core_id).evidence if isinstance(i, Reading)] == ["3.4390"]
    for changes in ({"core": "nobody"}, {"group": "nobody/knows"}):
        (told,) = bench.answer(sent.model_copy(update=changes), "B.W.").values()
        assert told.state == "retry"
        assert "is not there any more" in told.words


@pytest.mark.parametrize("text", ["<b>x</b> *1* ${y}\x07", "x" * 10_000, "3,43,7"])
def test_what_is_typed_into_the_fields_asked_once_stays_text(shop: Shop, text: str) -> None:
    core_id = shop.begin()
    app = page(core=core_id, group=BORES)
    for label in ("Set to, in", "Session", "Part, if not 20 C", "Gauge, if not as the part"):
        field = next(one for one in app.text_input if one.label == label)
        field.set_value(text).run()
        assert not app.exception, label
    shown = html(app)
    assert "<b>x</b>" not in shown
    assert "Set to: " in shown


def test_reading_again_is_a_session_of_its_own(shop: Shop) -> None:
    app = page(core=shop.begin_measured(), group=BORES)
    first = next(one for one in app.text_input if one.label == "Session").value
    next(one for one in app.checkbox if one.label.startswith("Read again")).check().run()
    assert next(one for one in app.text_input if one.label == "Session").value == f"{first}, again"


def test_the_unit_begins_with_that_of_the_readings_or_the_sheet(shop: Shop) -> None:
    metric = shop.bundle.sheet.model_copy(
        update={
            "quantities": shop.bundle.sheet.quantities
            | {"bore.diameter": SheetQuantity(nominal="86 mm", minimum="85.99 mm", maximum="86.01 mm")}
        }
    )
    core = shop.bundle.core.model_copy(
        update={"id": "metric", "title": "Metric", "files": (), "evidence": ()}
    )
    with store.open_shop_file(shop.file) as opened:
        store.add_core(opened, shop.book, core, metric, "A.T.")
    assert page(core="metric", group=BORES).selectbox(key=f"bench|metric|{BORES}|unit").value == "mm"
    inch = shop.begin()
    assert page(core=inch, group=BORES).selectbox(key=f"bench|{inch}|{BORES}|unit").value == "in"
    read = Reading.model_validate(
        {
            "id": "r1",
            "kind": "reading",
            "piece": "block",
            "quantity": "diameter",
            "place": "bore 1",
            "station": "top",
            "direction": "across",
            "value": "87,30",
            "unit": "mm",
            "who": "A.T.",
            "when": "2026-11-22T10:00",
            "stage": "bench",
            "state": "washed",
        }
    )
    read_in_mm = shop.begin((read,))
    app = page(core=read_in_mm, group=BORES)
    assert app.selectbox(key=f"bench|{read_in_mm}|{BORES}|unit").value == "mm"
