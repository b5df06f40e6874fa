"""The shop's own entries: written, read back by the loader, taken out again; what was there by hand stays."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inspect_app.model.problems import Problems
from inspect_app.rulebook.forms_quantities import GaugeForm
from inspect_app.rulebook.forms_rules import PriceBookForm, PriceForm
from inspect_app.rulebook.load import load_rulebook
from inspect_app.rulebook.shop_rules import drop_entry, file_of, put_back, put_entry
from inspect_app.shipped import shipped


def price(**changes: object) -> PriceForm:
    fields = {"id": "used-crankshaft", "title": "Used crankshaft", "low": 50, "likely": 60, "high": 70}
    return PriceForm(**(fields | {"by": "B.W.", "date": "2026-11-25"} | changes))  # type: ignore[arg-type]


def test_a_price_of_the_shop_replaces_the_shipped_one_with_who_and_when(tmp_path: Path) -> None:
    put_entry(tmp_path / "ours", "price", price())
    book = load_rulebook(shipped("rules"), [tmp_path / "ours"])
    assert book.prices["used-crankshaft"] == price()
    assert book.from_shop("price", "used-crankshaft")
    assert not book.from_shop("price", "strip-engine")
    put_entry(tmp_path / "ours", "price", price(likely=65, by=""))
    assert load_rulebook(shipped("rules"), [tmp_path / "ours"]).prices["used-crankshaft"] == price(
        likely=65, by=""
    )
    drop_entry(tmp_path / "ours", "price", "used-crankshaft")
    book = load_rulebook(shipped("rules"), [tmp_path / "ours"])
    assert book.prices["used-crankshaft"].likely == 120


def test_every_file_before_a_change_is_kept(tmp_path: Path) -> None:
    for likely in (60, 61, 62):
        put_entry(tmp_path, "price", price(likely=likely))
    kept = sorted((tmp_path / "history").glob("prices-*.toml"))
    assert ["likely = 60" in path.read_text() for path in kept] == [True, False]
    assert "likely = 61" in kept[1].read_text()


def test_what_was_written_by_hand_stays(tmp_path: Path) -> None:
    by_hand = '# Our own list.\n[price_book]\ntitle = "Ours"\ndate = "2026-01-01"\ncurrency = "USD"\n'
    (tmp_path / "prices.toml").write_text(by_hand)
    put_entry(tmp_path, "price", price())
    text = (tmp_path / "prices.toml").read_text()
    assert text.startswith(by_hand)
    put_entry(tmp_path, "price_book", PriceBookForm(title="Ours, winter", date="2026-11-25", currency="USD"))
    book = load_rulebook(shipped("rules"), [tmp_path])
    assert (book.price_book.title, book.prices["used-crankshaft"].likely) == ("Ours, winter", 60)
    assert "# Our own list." in (tmp_path / "prices.toml").read_text()


def test_gauges_stand_in_a_file_of_their_own(tmp_path: Path) -> None:
    gauge = GaugeForm(id="bore gauge 2", title="Bore gauge 2", resolution="0.0001 in", half_width="0.0003 in")
    put_entry(tmp_path, "gauge", gauge)
    assert load_rulebook(shipped("rules"), [tmp_path]).gauges["bore gauge 2"] == gauge
    assert [path.name for path in tmp_path.glob("*.toml")] == ["gauges.toml"]


def test_a_file_that_is_not_toml_is_left_as_it_is(tmp_path: Path) -> None:
    (tmp_path / "prices.toml").write_text("low = = 5")
    with pytest.raises(Problems, match=r"prices.toml: this is not TOML: .* nothing was changed"):
        put_entry(tmp_path, "price", price())
    assert (tmp_path / "prices.toml").read_text() == "low = = 5"


def test_a_place_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(Problems, match=r"it cannot be written: .* Nothing was changed"):
        put_entry(tmp_path / "file" / "rules", "price", price())


def test_a_change_can_be_put_back(tmp_path: Path) -> None:
    assert file_of(tmp_path, "price") is None
    put_entry(tmp_path, "price", price())
    before = file_of(tmp_path, "price")
    put_entry(tmp_path, "price", price(likely=61))
    put_back(tmp_path, "price", before)
    assert file_of(tmp_path, "price") == before
    put_back(tmp_path, "price", None)
    assert file_of(tmp_path, "price") is None


def test_what_cannot_be_put_back_is_said_with_where_the_old_file_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put_entry(tmp_path, "price", price())
    before = file_of(tmp_path, "price")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("inspect_app.rulebook.shop_rules._write", full)
    put_back(tmp_path, "price", before)
    (tmp_path / "prices.toml").write_text("")
    with pytest.raises(
        Problems, match=r"cannot be taken back: No space left .* Make room, and copy .*history"
    ):
        put_back(tmp_path, "price", before)


@settings(max_examples=50, deadline=None)
@given(st.text(min_size=1).filter(lambda text: text.isprintable()))
def test_any_title_comes_back_as_it_was_typed(tmp_path_factory: pytest.TempPathFactory, title: str) -> None:
    folder = tmp_path_factory.mktemp("rules")
    put_entry(folder, "price", price(title=title, by=title))
    found = load_rulebook(shipped("rules"), [folder]).prices["used-crankshaft"]
    assert (found.title, found.by) == (title, title)
