"""Whatever comes in is taken or refused in words that help: no other error, and nothing half written."""

import hashlib
import io
import json
import shutil
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from inspect_app import store
from inspect_app.bundle import CORE_FILE, add_readings, judge_folder
from inspect_app.bundle.sheet_csv_out import csv_of_sheet
from inspect_app.bundle.sheet_file import read_typed_sheet
from inspect_app.bundle.sheet_view import sheet_text
from inspect_app.model.problems import Problems
from inspect_app.photos import take_in
from inspect_app.rulebook.book import Rulebook
from inspect_app.rulebook.check_sheet import sheet_problems
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import shipped
from tests.bundle.folders import six_folder
from tests.cli.test_import import all_readings
from tests.intake.damage import in_bytes, in_data
from tests.judge import six
from tests.ui.pictures_made import jpeg, png

SHORT = {"bundle": 80, "core": 120, "rules": 50, "sheet": 90, "readings": 80, "photo": 80}
assert sum(SHORT.values()) == 500
TIMES = 40
"""How much more the long forms try: 20,000 in all."""


def sized(kind: str, long: bool = False) -> settings:
    return settings(
        max_examples=SHORT[kind] * (TIMES if long else 1),
        deadline=None,
        phases=(Phase.explicit, Phase.generate),
        suppress_health_check=list(HealthCheck),
    )


@pytest.fixture(scope="module")
def book() -> Rulebook:
    return load_rulebook(shipped("rules"))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return six_folder(tmp_path_factory.mktemp("sound"))


def helps(problems: Problems) -> None:
    """Everything is told in words, each with a place and what to do, and nothing of the program itself."""
    assert problems.items
    for problem in problems.items:
        assert problem.where.strip(), problem
        assert problem.what.strip(), problem
        # A form's own words say in one what is wrong and what to write.
        assert problem.advice.strip() or len(problem.what.split()) > 4, problem
        assert "Traceback" not in str(problem)
        assert "object at 0x" not in str(problem)


def state(path: Path) -> dict[str, str]:
    """Every file below a folder with its hash."""
    return {
        str(file.relative_to(path)): hashlib.sha256(file.read_bytes()).hexdigest()
        for file in sorted(path.rglob("*"))
        if file.is_file()
    }


def held(shop: store.ShopFile) -> list[object]:
    with shop.reading() as connection:
        tables = ("core", "record", "evidence", "photo", "file_bytes")
        return [connection.exec_driver_sql(f"SELECT count(*) FROM {name}").scalar() for name in tables]


def core_json(folder: Path) -> bytes:
    return (folder / CORE_FILE).read_bytes()


def sound_zip(folder: Path) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as file:
        for path in sorted(folder.rglob("*")):
            file.write(path, path.relative_to(folder))
    return out.getvalue()


class Bundles:
    """Bundles brought into one shop file, which must stay sound and never hold a part of one."""

    def __init__(self, shop: store.ShopFile, book: Rulebook, scratch: Path) -> None:
        self.shop, self.book, self.scratch = shop, book, scratch

    def take(self, data: bytes) -> None:
        path = self.scratch / "in.zip"
        path.write_bytes(data)
        before = held(self.shop)
        try:
            store.import_bundle(self.shop, self.book, path, "A.T.")
        except Problems as problems:
            helps(problems)
            assert held(self.shop) == before
            assert list(self.scratch.iterdir()) == [path]


@pytest.fixture(scope="module")
def bundles(book: Rulebook, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bundles]:
    with store.create_shop_file(tmp_path_factory.mktemp("shop") / "shop.sqlite") as shop:
        yield Bundles(shop, book, tmp_path_factory.mktemp("scratch"))
        assert store.check_shop_file(shop) == []


@pytest.mark.parametrize("long", [False, pytest.param(True, marks=pytest.mark.long)])
def test_a_damaged_zip_is_taken_whole_or_refused(folder: Path, bundles: Bundles, long: bool) -> None:
    @seed(1)
    @sized("bundle", long)
    @given(in_bytes(sound_zip(folder)))
    def tried(data: bytes) -> None:
        bundles.take(data)

    tried()


@pytest.mark.parametrize("long", [False, pytest.param(True, marks=pytest.mark.long)])
def test_a_damaged_core_is_judged_or_refused(
    folder: Path, book: Rulebook, tmp_path: Path, bundles: Bundles, long: bool
) -> None:
    copy = tmp_path / "six"
    shutil.copytree(folder, copy)
    sound = core_json(folder)

    @seed(2)
    @sized("core", long)
    @given(st.one_of(in_data(sound), in_bytes(sound)))
    def tried(data: bytes) -> None:
        (copy / CORE_FILE).write_bytes(data)
        try:
            judge_folder(copy, book)
        except Problems as problems:
            helps(problems)
        else:
            bundles.take(sound_zip(copy))

    tried()


@pytest.mark.parametrize("long", [False, pytest.param(True, marks=pytest.mark.long)])
def test_damaged_rules_are_loaded_or_refused(tmp_path: Path, long: bool) -> None:
    names = ("prices.toml", "pistons.toml", "gauges.toml", "damage.toml")
    sound = {name: (shipped("rules") / name).read_bytes() for name in names}

    @seed(3)
    @sized("rules", long)
    @given(st.sampled_from(names).flatmap(lambda name: st.tuples(st.just(name), in_bytes(sound[name]))))
    def tried(change: tuple[str, bytes]) -> None:
        name, data = change
        overlay = tmp_path / "ours"
        shutil.rmtree(overlay, ignore_errors=True)
        overlay.mkdir()
        (overlay / name).write_bytes(data)
        try:
            load_rulebook(shipped("rules"), [overlay])
        except Problems as problems:
            helps(problems)

    tried()


@pytest.mark.parametrize("long", [False, pytest.param(True, marks=pytest.mark.long)])
def test_a_damaged_sheet_is_read_or_refused(book: Rulebook, tmp_path: Path, long: bool) -> None:
    sound = csv_of_sheet(six.sheet()).encode()
    as_json = json.dumps(six.sheet().model_dump(mode="json", exclude_defaults=True)).encode()

    @seed(4)
    @sized("sheet", long)
    @given(st.one_of(in_bytes(sound).map(lambda d: ("csv", d)), in_data(as_json).map(lambda d: ("json", d))))
    def tried(change: tuple[str, bytes]) -> None:
        end, data = change
        path = tmp_path / f"sheet.{end}"
        path.write_bytes(data)
        try:
            typed = read_typed_sheet(path)
        except Problems as problems:
            helps(problems)
            return
        told = [*typed.problems, *sheet_problems(book, typed.sheet, typed.spot)]
        if told:
            helps(Problems(told))
        else:
            assert sheet_text(typed, book)

    tried()


@pytest.mark.parametrize("long", [False, pytest.param(True, marks=pytest.mark.long)])
def test_damaged_readings_are_added_whole_or_refused(
    folder: Path, book: Rulebook, tmp_path: Path, long: bool
) -> None:
    copy = tmp_path / "six"
    rows = tmp_path / "r.csv"
    sound = "\n".join(all_readings().splitlines()[:25]).encode()

    @seed(5)
    @sized("readings", long)
    @given(in_bytes(sound))
    def tried(data: bytes) -> None:
        shutil.rmtree(copy, ignore_errors=True)
        shutil.copytree(folder, copy)
        rows.write_bytes(data)
        before = state(copy)
        try:
            add_readings(copy, rows, book)
        except Problems as problems:
            helps(problems)
            assert state(copy) == before
        else:
            judge_folder(copy, book)

    tried()


@pytest.mark.parametrize("long", [False, pytest.param(True, marks=pytest.mark.long)])
def test_a_damaged_photo_is_taken_in_or_refused(long: bool) -> None:
    sound = (jpeg(320, 240), png(200, 150))

    @seed(6)
    @sized("photo", long)
    @given(st.sampled_from(sound).flatmap(in_bytes))
    def tried(data: bytes) -> None:
        try:
            taken = take_in(data, "IMG.jpg")
        except Problems as problems:
            helps(problems)
        else:
            assert taken.sha256 == hashlib.sha256(data).hexdigest()

    tried()
