"""From every version of the file to the present one, and through a rebuilt table: the guards stay."""

import ast
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory

from inspect_app.store import ReadOnly, ShopFile, check_shop_file, load_core, open_shop_file, photos_of
from inspect_app.store import migrations as package
from inspect_app.store.connections import make_engine, writer
from inspect_app.store.file import create_shop_file
from inspect_app.store.guards import APPEND_ONLY, existing, wanted
from inspect_app.store.migrations import REVISIONS, migrate, version_of
from inspect_app.store.tables import metadata

from .pumps import begin, photo, worn
from .test_append_only import attempts
from .test_read_only import without_rights

HERE = Path(__file__).parent
VERSIONS = Path(package.__file__).parent / "versions"
FIRST_TABLES = ("core", "record", "record_follows", "evidence", "file_bytes")


def file_at(path: Path, version: str) -> Path:
    """An empty file as the program of that version would have made it."""
    path.touch()
    engine = make_engine(path, foreign_keys=False)
    with writer(engine).begin() as connection:
        migrate(connection, version)
    engine.dispose()
    return path


def filled_at(tmp_path: Path, version: str) -> Path:
    """The same with a core, evidence and a photo, copied row by row from a present file."""
    with create_shop_file(tmp_path / "now.sqlite") as shop:
        begin(shop, worn("r1"), photo("p1"))
    path = file_at(tmp_path / "old.sqlite", version)
    with closing(sqlite3.connect(path, isolation_level=None)) as raw:
        raw.execute("ATTACH ? AS now", (str(tmp_path / "now.sqlite"),))
        for table in ("core", "record", "file_bytes", "evidence"):
            raw.execute(f"INSERT INTO main.{table} SELECT * FROM now.{table}")
        if version != REVISIONS[0]:
            raw.execute("INSERT INTO main.photo SELECT * FROM now.photo")
    return path


def test_the_tables_are_those_that_the_program_uses(shop: ShopFile) -> None:
    with shop.reading() as connection:
        assert compare_metadata(MigrationContext.configure(connection), metadata) == []


def test_every_version_is_known_and_follows_the_one_before() -> None:
    script = ScriptDirectory(str(VERSIONS.parent), version_locations=[str(VERSIONS)])
    assert [step.revision for step in script.walk_revisions()][::-1] == list(REVISIONS)


@pytest.mark.parametrize("path", sorted(VERSIONS.glob("v*.py")), ids=lambda path: path.stem)
def test_every_migration_makes_the_guards_last(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    (upgrade,) = [f for f in tree.body if isinstance(f, ast.FunctionDef) and f.name == "upgrade"]
    assert ast.unparse(upgrade.body[-1]) == "guard(op.get_bind())"


@pytest.mark.parametrize("version", REVISIONS)
def test_each_version_has_every_guard_of_its_tables(tmp_path: Path, version: str) -> None:
    engine = make_engine(file_at(tmp_path / "old.sqlite", version))
    with engine.begin() as connection:
        assert version_of(connection) == version
        assert existing(connection) == dict(wanted(connection))
        tables = APPEND_ONLY if version != REVISIONS[0] else FIRST_TABLES
        assert len(existing(connection)) == 3 * len(tables)
    engine.dispose()


@pytest.mark.parametrize("version", REVISIONS)
def test_a_file_of_any_version_is_brought_up_with_all_that_is_in_it(tmp_path: Path, version: str) -> None:
    with open_shop_file(filled_at(tmp_path, version)) as shop:
        assert check_shop_file(shop) == []
        assert load_core(shop, "pump-1").core.evidence == (worn("r1"), photo("p1"))
        assert [held.photo.id for held in photos_of(shop, "pump-1")] == ["p1"]


@pytest.mark.parametrize("version", REVISIONS)
def test_after_every_migration_nothing_can_be_changed(tmp_path: Path, version: str) -> None:
    path = filled_at(tmp_path, version)
    open_shop_file(path).close()
    refuses_every_change(path)


def refuses_every_change(path: Path) -> None:
    with closing(sqlite3.connect(path)) as raw:
        for table in set(APPEND_ONLY) - {"record_follows"}:
            before = raw.execute(f"SELECT * FROM {table}").fetchall()
            assert before, table
            for sql in attempts(raw, table):
                with pytest.raises(sqlite3.IntegrityError):
                    raw.execute(sql)
                raw.rollback()
            assert raw.execute(f"SELECT * FROM {table}").fetchall() == before


def test_a_migration_that_rebuilds_tables_leaves_guards_and_rows(tmp_path: Path) -> None:
    path = filled_at(tmp_path, REVISIONS[-1])
    with open_shop_file(path) as shop:
        before = load_core(shop, "pump-1")
    engine = make_engine(path, foreign_keys=False)
    with writer(engine).begin() as connection:
        migrate(connection, "rebuilt", also=[HERE / "later"])
        assert existing(connection) == dict(wanted(connection))
        assert connection.exec_driver_sql("PRAGMA foreign_key_check").first() is None
        assert connection.exec_driver_sql("SELECT DISTINCT seen_by FROM evidence").scalar() == "nobody"
    engine.dispose()
    refuses_every_change(path)
    with closing(sqlite3.connect(path, isolation_level=None)) as raw:
        raw.execute("UPDATE alembic_version SET version_num = ?", (REVISIONS[-1],))
    with open_shop_file(path) as shop:
        assert load_core(shop, "pump-1") == before


def test_a_migration_that_fails_leaves_the_file_as_it_was(tmp_path: Path) -> None:
    path = filled_at(tmp_path, REVISIONS[0])
    engine = make_engine(path, foreign_keys=False)
    with pytest.raises(ZeroDivisionError), writer(engine).begin() as connection:
        migrate(connection, "torn", also=[HERE / "later"])
    with engine.begin() as connection:
        assert version_of(connection) == REVISIONS[0]
        assert existing(connection) == dict(wanted(connection))
        assert connection.exec_driver_sql("SELECT 1 FROM sqlite_master WHERE name = 'photo'").first() is None
    engine.dispose()


def test_an_older_file_that_cannot_be_written_is_told(open_folder: Path) -> None:
    path = file_at(open_folder / "shop.sqlite", REVISIONS[0])
    path.chmod(0o444)
    open_folder.chmod(0o777)
    with without_rights(), pytest.raises(ReadOnly) as caught:
        open_shop_file(path)
    assert str(caught.value) == (
        f"{path}: it is of an older version and cannot be written, so it cannot be brought up to this "
        "program. Copy it to where it can be written and open the copy."
    )
