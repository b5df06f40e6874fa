"""The shelf over a real shop file with real rules."""

import logging
from collections.abc import Iterator
from pathlib import Path

import pytest

from inspect_app import store
from inspect_app.bundle import judge_folder, limits_of_folder
from inspect_app.judge import judge
from inspect_app.model.evidence import Finding
from inspect_app.model.problems import Problems
from inspect_app.rulebook.forms_quantities import GaugeForm
from inspect_app.rulebook.forms_rules import PriceForm
from inspect_app.rulebook.load import load_rulebook
from inspect_app.rulebook.shop_rules import in_use
from inspect_app.shipped import shipped
from inspect_app.ui import shelf
from inspect_app.ui.shelf import Shelf

FOUR, VEE = "brackwater-four", "brackwater-vee"


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    book = load_rulebook(shipped("rules"))
    with store.create_shop_file(tmp_path / "shop.sqlite") as shop:
        for name in (FOUR, VEE):
            store.import_bundle(shop, book, shipped("demo_cores") / name, "A.T.")
        yield Shelf(shop, lambda: book)


def crack() -> Finding:
    return Finding(
        id="new-crack",
        who="B.W.",
        when="2026-11-25",
        stage="bench",
        piece="crankshaft",
        damage="crack",
        place="rod_journal 1/fillet/front",
        strength="seen",
    )


def test_a_core_is_what_its_folder_is(cores: Shelf) -> None:
    slot = cores.get(FOUR)
    assert slot is not None
    assert slot.answer == judge_folder(shipped("demo_cores") / FOUR, cores.book)
    assert cores.limits(FOUR) == limits_of_folder(shipped("demo_cores") / FOUR, cores.book)
    assert slot.plan is not None
    assert cores.fits(FOUR) is not None
    assert cores.get("nobody") is cores.fits("nobody") is cores.limits("nobody") is None


def test_new_evidence_is_in_the_next_answer_and_only_that_core_is_judged_again(cores: Shelf) -> None:
    before, other = cores.get(VEE), cores.get(FOUR)
    assert before is cores.get(VEE)
    revision = cores.add(VEE, [crack()])
    after = cores.get(VEE)
    assert after is not None
    assert after.held is not None
    assert after.answer is not None
    assert after.held.revision == revision
    assert after.answer == judge(after.held.core, after.engine)  # type: ignore[arg-type]
    shaft = next(part for part in after.answer.parts if part.position == "crankshaft")
    assert shaft.verdict == "replace"
    assert "new-crack" in {item for reason in shaft.closed for item in reason.evidence}
    assert cores.get(FOUR) is other


def test_rows_are_fresh_once_each_core_was_asked_for(cores: Shelf) -> None:
    assert [(row.id, row.fresh) for row in cores.rows()] == [(FOUR, False), (VEE, False)]
    for row in cores.rows():
        cores.get(row.id)
    assert [(row.id, row.fresh) for row in cores.rows()] == [(FOUR, True), (VEE, True)]
    cores.add(VEE, [crack()])
    assert [row.fresh for row in cores.rows()] == [True, False]


def test_an_entry_that_the_rules_do_not_know_is_refused_whole(cores: Shelf) -> None:
    wrong = crack().model_copy(update={"id": "new-2", "place": "rod_journal 9"})
    with pytest.raises(Problems, match="rod_journal 9"):
        cores.add(VEE, [crack(), wrong])
    slot = cores.get(VEE)
    assert slot is not None
    assert slot.held is not None
    assert not any(item.id.startswith("new-") for item in slot.held.core.evidence)


def test_changed_rules_make_a_new_answer(tmp_path: Path) -> None:
    overlay = tmp_path / "ours"
    overlay.mkdir()
    overlays: list[Path] = []
    with store.create_shop_file(tmp_path / "shop.sqlite") as shop:
        cores = Shelf(shop, lambda: load_rulebook(shipped("rules"), overlays))
        store.import_bundle(shop, cores.book, shipped("demo_cores") / VEE, "A.T.")
        plain = cores.get(VEE)
        (overlay / "prices.toml").write_text(
            '[[price]]\nid = "used-crankshaft"\ntitle = "Used crankshaft"\n'
            'low = 1\nlikely = 1\nhigh = 1\ndays = 1\nsupplier = "yard"\n'
        )
        overlays.append(overlay)
        assert cores.get(VEE) is plain
        cores.reload_rules()
        ours = cores.get(VEE)
    assert ours is not None
    assert ours.answer is not None
    assert [used.id for used in ours.answer.rulebook.overlays] == ["ours"]


def test_rules_that_cannot_be_read_leave_those_in_use(cores: Shelf) -> None:
    def broken() -> None:
        raise Problems([])

    book = cores.book
    cores._rules._load = broken  # type: ignore[assignment]
    with pytest.raises(Problems):
        cores.reload_rules()
    assert cores.book is book


def test_a_fault_of_the_program_is_one_line_in_the_log_and_words_on_the_shelf(
    cores: Shelf, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def fails(*_: object) -> None:
        raise KeyError("bore 9")

    monkeypatch.setattr(store, "judge_core", fails)
    with caplog.at_level(logging.ERROR):
        slot = cores.get(VEE)
    assert slot is not None
    assert "fault of the program" in (slot.problem or "")
    assert caplog.messages[0].startswith("brackwater-vee: KeyError('bore 9') in test_shelf.py, line ")


def test_no_more_cores_are_kept_in_memory_than_stated(cores: Shelf, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shelf, "IN_MEMORY", 1)
    first = cores.get(FOUR)
    cores.get(VEE)
    assert cores.get(FOUR) is not first


def test_page_without_shelf_says_how_to_start() -> None:
    with pytest.raises(RuntimeError, match="inspect-app serve"):
        shelf.current()


def price(likely: float) -> PriceForm:
    return PriceForm(id="used-crankshaft", title="Used crankshaft", low=1, likely=likely, high=900, by="B.W.")


def test_a_price_of_the_shop_counts_at_once_and_can_be_dropped(tmp_path: Path) -> None:
    with store.create_shop_file(tmp_path / "ours.sqlite") as shop:
        folder = tmp_path / "ours-rules"
        cores = Shelf(shop, lambda: load_rulebook(shipped("rules"), in_use(folder)))
        cores.change_rules("price", price(77))
        assert cores.book.prices["used-crankshaft"].likely == 77
        assert (folder / "prices.toml").exists()
        cores.change_rules("price", drop="used-crankshaft")
        assert cores.book.prices["used-crankshaft"].likely == 120


def test_an_entry_that_the_rulebook_does_not_bear_leaves_all_as_it_was(tmp_path: Path) -> None:
    with store.create_shop_file(tmp_path / "ours.sqlite") as shop:
        folder = tmp_path / "ours-rules"
        cores = Shelf(shop, lambda: load_rulebook(shipped("rules"), in_use(folder)))
        cores.change_rules("price", price(77))
        before, book = (folder / "prices.toml").read_bytes(), cores.book
        wrong = GaugeForm(id="new", title="New", resolution="0.0001 kg", half_width="0.0002 in")
        with pytest.raises(Problems, match="kg"):
            cores.change_rules("gauge", wrong)
        assert cores.book is book
        assert [path.name for path in folder.glob("*.toml")] == ["prices.toml"]
        assert (folder / "prices.toml").read_bytes() == before
