"""The record of a core: each change is kept beside what stood; two that cross are there to settle."""

import zipfile
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest
from starlette.applications import Starlette
from starlette.testclient import TestClient
from streamlit.testing.v1 import AppTest

from inspect_app import store
from inspect_app.shipped import shipped
from inspect_app.ui import bring_in, core_zip
from inspect_app.ui.shelf import HeldCore, Shelf
from inspect_app.ui.typed_text import written
from tests.ui.rack_shop import FOUR, VEE, html, shop_with


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    with shop_with(tmp_path, VEE) as made:
        yield made


def record() -> AppTest:
    def script() -> None:
        from inspect_app.ui import record

        record.page()

    app = AppTest.from_function(script, default_timeout=20)
    app.query_params["core"] = VEE
    app.session_state["who"] = "B.W."
    return app.run()


def held(cores: Shelf) -> HeldCore:
    return store.load_core(cores.shop, VEE)


def box(app: AppTest, cores: Shelf, name: str) -> str:
    return f"record_{VEE}_{app.session_state['record_seen'][VEE]}_{name}"


def saved(app: AppTest) -> str:
    return html(app.button(key="do_record").click().run())


def test_a_change_is_a_new_record_and_the_evidence_stays(cores: Shelf) -> None:
    before = held(cores)
    app = record()
    app.text_input(key=box(app, cores, "title")).set_value("Renamed")
    app.text_input(key=box(app, cores, "asking_price")).set_value("275")
    app.text_area(key=box(app, cores, "numbers")).set_value("casting number: 4417")
    position = next(one for one in app.multiselect(key=box(app, cores, "parts_missing")).options)
    app.multiselect(key=box(app, cores, "parts_missing")).set_value([app_position(cores, position)])
    told = saved(app)
    assert told.index("Nothing is overwritten") < told.index("Saved: the record.") < told.index("Take out")
    assert "Saved: the record." not in html(app.run())
    after = held(cores)
    assert after.core.title == "Renamed"
    assert written(after.core.record.asking_price) == "275"
    assert after.core.record.numbers_read[0].text == "4417"
    assert after.core.record.parts[app_position(cores, position)] == "missing"
    assert after.core.evidence == before.core.evidence
    assert after.core.pieces == before.core.pieces
    assert len(cores.records(VEE)) == 2
    assert [one.core.title for one in cores.records(VEE)] == [before.core.title, "Renamed"]


def app_position(cores: Shelf, title: str) -> str:
    slot = cores.get(VEE)
    assert slot is not None
    assert slot.engine is not None
    return next(one.id for one in slot.engine.positions.values() if one.title == title)


def test_nothing_changed_is_nothing_written(cores: Shelf) -> None:
    assert "Nothing is changed." in saved(record())
    assert len(cores.records(VEE)) == 1


def test_everything_wrong_is_said_and_nothing_is_written(cores: Shelf) -> None:
    app = record()
    app.text_input(key=box(app, cores, "title")).set_value("")
    app.text_input(key=box(app, cores, "use")).set_value("y" * 10_000)
    app.text_input(key=box(app, cores, "value_built")).set_value("much")
    page = saved(app)
    for words in ("Not saved.", "Title: it is empty.", "Used for: it has 10,000", "no amount of money"):
        assert words in page
    assert len(cores.records(VEE)) == 1


def test_a_change_by_somebody_else_meanwhile_leaves_both_to_settle(cores: Shelf) -> None:
    app = record()
    now = held(cores)
    cores.revise(now.core.model_copy(update={"title": "Theirs"}), now.sheet, "C.D.", now.records)
    app.text_input(key=box(app, cores, "title")).set_value("<b>Ours</b>")
    page = html(app.run())
    assert "C.D. changed this record after it was opened here" in page
    page = saved(app)
    assert "both stand until one is settled on" in page
    assert "2 records stand beside each other" in page
    assert "Theirs" in page
    assert "&lt;b&gt;Ours&lt;/b&gt;" in page
    assert len(held(cores).records) == 2
    ours = next(one for one in cores.records(VEE) if one.core.title == "<b>Ours</b>")
    page = html(app.button(key=f"settle_{ours.number}").click().run())
    assert "Settled: the record of B.W. counts." in page
    assert len(held(cores).records) == 1
    assert held(cores).core.title == "<b>Ours</b>"
    assert len(cores.records(VEE)) == 4, "nothing was overwritten"


def test_a_change_elsewhere_is_taken_over_where_nothing_was_typed(cores: Shelf) -> None:
    app = record()
    now = held(cores)
    cores.revise(now.core.model_copy(update={"title": "Theirs"}), now.sheet, "C.D.", now.records)
    app.run()
    assert app.text_input(key=box(app, cores, "title")).value == "Theirs"


def client() -> TestClient:
    return TestClient(Starlette(routes=core_zip.ROUTES))


def test_a_core_goes_out_as_a_zip_that_comes_in_again(cores: Shelf, tmp_path: Path) -> None:
    response = client().get(core_zip.address(VEE))
    assert response.status_code == 200
    assert response.headers["content-disposition"] == f'attachment; filename="{VEE}.zip"'
    assert "core.json" in zipfile.ZipFile(BytesIO(response.content)).namelist()
    with store.create_shop_file(tmp_path / "other.sqlite") as other:
        path = tmp_path / "out.zip"
        path.write_bytes(response.content)
        done = store.import_bundle(other, cores.book, path, "A.T.")
        assert done.record == "new"
        assert store.load_core(other, VEE).core.evidence == held(cores).core.evidence


@pytest.mark.usefixtures("cores")
@pytest.mark.parametrize("name", ["nobody", "..%2f..%2fetc", "%3Cb%3E"])
def test_an_unknown_core_is_no_zip(name: str) -> None:
    response = client().get(f"/export/{name}.zip")
    assert response.status_code == 404
    assert "<" not in response.text


def zipped(name: str) -> BytesIO:
    data = BytesIO()
    with zipfile.ZipFile(data, "w") as archive:
        for path in sorted((shipped("demo_cores") / name).rglob("*")):
            archive.write(path, str(path.relative_to(shipped("demo_cores") / name)))
    data.seek(0)
    return data


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    said: list[str] = []
    monkeypatch.setattr(bring_in.entry, "tell", lambda *words: said.extend(words))
    monkeypatch.setattr(bring_in.entry, "refuse", lambda problems: said.append(f"Not: {problems}"))
    return said


def test_a_zip_is_brought_in_once(cores: Shelf, told: list[str]) -> None:
    bring_in.take_in(zipped(FOUR), "B.W.")
    count = len(store.load_core(cores.shop, FOUR).core.evidence)
    assert told[0] == f"Brought in: {FOUR}, {count} items of evidence. It is new here."
    bring_in.take_in(zipped(FOUR), "B.W.")
    assert f"{count} here already. It is here already, with the same record." in told[1]
    assert len(cores.rows()) == 2


def test_what_is_no_core_is_refused_in_words(cores: Shelf, told: list[str]) -> None:
    bring_in.take_in(BytesIO(b"not a zip"), "B.W.")
    bring_in.take_in(BytesIO(zipped(FOUR).getvalue()[:2000]), "B.W.")
    assert told[0] == (
        "Not: core.zip: this is neither the folder of a core nor a zip. "
        "Name a core's folder, or a zip that was exported."
    )
    assert told[1].startswith("Not: core.zip: ")
    assert len(told) == 2
    assert len(cores.rows()) == 1
