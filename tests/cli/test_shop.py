"""The commands on a shop file: cores in and out, judged there, backed up and restored."""

from argparse import Namespace
from pathlib import Path

import pytest

from inspect_app import cli_shop
from inspect_app.rulebook.forms_rules import PriceForm
from inspect_app.rulebook.load import load_rulebook
from inspect_app.rulebook.shop_rules import put_entry
from inspect_app.shipped import shipped
from inspect_app.store import open_shop_file, rack
from tests.cli.test_import import all_readings

VEE = shipped("demo_cores") / "brackwater-vee"


@pytest.fixture
def shop(run, tmp_path, monkeypatch) -> Path:
    monkeypatch.chdir(tmp_path)
    done = run("import", VEE)
    assert done.code == 0
    assert done.out.startswith("Made shop.sqlite.\nbrackwater-vee: ")
    assert done.out.endswith(" items added, 0 were here already. A new core.\n")
    return tmp_path / "shop.sqlite"


def test_a_core_in_the_shop_is_judged_as_its_folder_is(run, shop) -> None:
    for command in (("judge",), ("judge", "--json"), ("fits",), ("fits", "--json")):
        in_shop = run(*command, "brackwater-vee", "--shop", shop)
        assert in_shop == run(*command, VEE)
        assert in_shop.code == 0


def test_twice_is_once(run, shop) -> None:
    assert ": 0 items added, " in run("import", VEE).out
    assert run("import", VEE).out.endswith("Its record is the one that is here.\n")


def test_out_as_a_zip_and_into_another_shop_loses_nothing(run, shop, tmp_path) -> None:
    assert run("export", "brackwater-vee", tmp_path / "v.zip", "--shop", shop).out.endswith("v.zip.\n")
    other = tmp_path / "other.sqlite"
    assert run("import", tmp_path / "v.zip", "--shop", other, "--who", "B.W.").code == 0
    judged = [run("judge", "brackwater-vee", "--shop", file, "--json").out for file in (shop, other)]
    assert judged[0] == judged[1]


def test_readings_go_to_a_core_of_the_shop_all_or_none(run, refused, six, shop, tmp_path) -> None:
    assert run("import", six, "--shop", shop).code == 0
    rows = tmp_path / "r.csv"
    rows.write_text(all_readings())
    count = len(all_readings().splitlines()) - 1
    done = run("import", "six", "--shop", shop, "--readings", rows)
    assert done.out == f"Added {count} readings to six.\n"
    told = refused("import", "six", "--shop", shop, "--readings", rows)
    assert len(told) == count
    assert told[0] == "r.csv, line 2: the core holds this reading already. Take the row out."


def test_what_is_not_there_is_said_and_nothing_is_made(refused, tmp_path, monkeypatch) -> None:
    monkeypatch.chdir(tmp_path)
    (said,) = refused("import", "none")
    assert said == "none: there is no such file. Name a core's folder, or a zip that was exported."
    for command in (
        ("judge", "six", "--shop", "s.sqlite"),
        ("fits", "six", "--shop", "s.sqlite"),
        ("export", "six", "o.zip", "--shop", "s.sqlite"),
        ("check-shop", "--shop", "s.sqlite"),
        ("backup", "b.sqlite", "--shop", "s.sqlite"),
    ):
        (said,) = refused(*command)
        assert said == "s.sqlite: it cannot be read: No such file or directory. Name the shop's own file."
    assert list(tmp_path.iterdir()) == []


def test_an_unknown_core_is_said(refused, shop) -> None:
    (said,) = refused("judge", "nobody", "--shop", shop)
    assert said == 'core "nobody": no core here has this id. Look for it on the rack.'


def test_backup_and_restore_keep_the_file_they_replace(run, refused, shop, tmp_path) -> None:
    assert run("backup", "b.sqlite").out == "Wrote b.sqlite, and read it through: it is sound.\n"
    assert refused("backup", "b.sqlite")[0].startswith("b.sqlite: something of this name is there already.")
    run("import", shipped("demo_cores") / "brackwater-four")
    done = run("restore", "b.sqlite")
    assert done.out.startswith("Restored shop.sqlite from b.sqlite. The old file is kept as shop-before-")
    book = load_rulebook(shipped("rules"))
    with open_shop_file(shop) as restored:
        assert [row.id for row in rack(restored, book)] == ["brackwater-vee"]
    (kept,) = tmp_path.glob("shop-before-restore-*")
    with open_shop_file(kept) as old:
        assert len(rack(old, book)) == 2


def test_a_shop_file_is_looked_over(run, refused, shop, tmp_path) -> None:
    assert run("check-shop").out == "shop.sqlite is sound.\n"
    (tmp_path / "x.sqlite").write_bytes(b"no such thing")
    (said,) = refused("check-shop", "--shop", "x.sqlite")
    assert said == "x.sqlite: this is not a shop file. Name the shop's own file."


def options(**given) -> Namespace:
    return Namespace(**({"shop": None, "cores": None} | given))


def test_the_usual_shop_file_begins_with_the_demo_cores_and_a_named_one_empty(tmp_path, monkeypatch) -> None:
    monkeypatch.chdir(tmp_path)
    book = load_rulebook(shipped("rules"))
    for given, count in (({}, 4), ({}, 4), ({"shop": Path("own.sqlite")}, 0)):
        with cli_shop.shop_for_serving(options(**given), book) as served:
            assert len(rack(served, book)) == count


def test_cores_of_a_folder_come_in_and_a_broken_one_is_told(tmp_path, monkeypatch, capsys, six) -> None:
    monkeypatch.chdir(tmp_path)
    holder = tmp_path / "holder"
    holder.mkdir()
    six.rename(holder / "six")
    (holder / "broken").mkdir()
    (holder / ".git").mkdir()
    (holder / "notes.txt").write_text("")
    book = load_rulebook(shipped("rules"))
    with cli_shop.shop_for_serving(options(cores=holder), book) as served:
        assert [row.id for row in rack(served, book)] == ["six"]
    told = capsys.readouterr()
    assert told.err.startswith("broken was not brought in:\n")
    assert "core.json: there is no such file." in told.err


def test_the_shops_own_entries_beside_its_file_count_in_every_command(run, shop, tmp_path) -> None:
    price = PriceForm(id="strip-engine", title="Strip the engine", low=1, likely=1, high=1)
    plain = run("judge", "brackwater-vee", "--shop", shop, "--json").out
    put_entry(tmp_path / "shop-rules", "price", price)
    ours = run("judge", "brackwater-vee", "--shop", shop, "--json").out
    assert plain != ours
    assert '"shop-rules"' in ours
    assert run("judge", VEE, "--json").out == plain
