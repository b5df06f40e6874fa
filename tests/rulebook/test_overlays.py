"""A shop's folder replaces entries by id, and the rulebook remembers which came from where."""

from pathlib import Path

import pytest

from inspect_app.rulebook.load import load_rulebook
from tests.support import PUMP, problems_of, pump_book

CHEAPER = '[[price]]\nid = "boring"\ntitle = "Bore a pocket, in house"\nlow = 5\nlikely = 5\nhigh = 5\n'


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    folder = tmp_path / "our-shop"
    folder.mkdir()
    (folder / "prices.toml").write_text(CHEAPER)
    return folder


def test_an_overlay_replaces_by_id_and_leaves_the_rest(shop: Path) -> None:
    book = load_rulebook(PUMP, [shop])
    assert book.prices["boring"].likely == 5
    assert {name for name, price in book.prices.items() if price != pump_book().prices[name]} == {"boring"}
    assert book.rules == pump_book().rules


def test_an_overlay_is_recorded_with_its_own_hash(shop: Path) -> None:
    (overlay,) = load_rulebook(PUMP, [shop]).overlays
    assert overlay.id == "our-shop"
    assert len(overlay.sha256) == 64
    (shop / "prices.toml").write_text(CHEAPER.replace("= 5", "= 6"))
    assert load_rulebook(PUMP, [shop]).overlays[0].sha256 != overlay.sha256


def test_the_rulebook_says_what_came_from_the_shop(shop: Path) -> None:
    book = load_rulebook(PUMP, [shop])
    assert book.from_shop("price", "boring")
    assert not book.from_shop("price", "sleeving")


def test_prices_of_the_shop_change_the_hash_of_prices_but_not_of_the_rules(shop: Path) -> None:
    book = load_rulebook(PUMP, [shop])
    assert book.sha256 == pump_book().sha256
    assert book.prices_sha256 != pump_book().prices_sha256


def test_the_last_overlay_wins(shop: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.mkdir()
    (other / "prices.toml").write_text(CHEAPER.replace("= 5", "= 7"))
    assert load_rulebook(PUMP, [shop, other]).prices["boring"].likely == 7
    assert load_rulebook(PUMP, [other, shop]).prices["boring"].likely == 5


def test_a_rule_of_the_pack_can_be_made_stricter(shop: Path) -> None:
    block = (PUMP / "rules.toml").read_text().split("[[rule]]")
    (scored,) = (text for text in block if 'id = "cover-scored"' in text)
    (shop / "rules.toml").write_text("[[rule]]" + scored.replace('"face.as_is"', '"own"'))
    assert load_rulebook(PUMP, [shop]).rules["cover-scored"].closes == ("own",)


def test_one_id_twice_in_the_overlay_is_still_a_mistake(shop: Path) -> None:
    (shop / "more.toml").write_text(CHEAPER)
    (problem,) = problems_of(PUMP, shop)
    assert problem.what == "this id stands already in more.toml."


def test_an_overlay_is_checked_together_with_the_pack(shop: Path) -> None:
    (shop / "damage.toml").write_text('[[damage]]\nid = "crack"\nplain = "x"\nsettled_by = ["ear"]\n')
    (problem,) = problems_of(PUMP, shop)
    assert problem.where == "damage.toml, damage crack"


def test_an_overlay_without_rule_files_is_told(tmp_path: Path) -> None:
    (problem,) = problems_of(PUMP, tmp_path)
    assert problem.what == "there are no .toml files here."
