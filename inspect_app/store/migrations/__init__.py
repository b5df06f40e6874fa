"""From any earlier version of the shop file to the present one, by Alembic, without an ini file."""

from collections.abc import Sequence
from pathlib import Path

from sqlalchemy import Connection

REVISIONS = ("0001", "0002", "0003", "0004", "0005")
"""Every version that this program knows, the present one last."""

APPLICATION_ID = 0x63_6F_72_65
"""SQLite's mark of whose file this is, in the file's first bytes: "core" in ASCII."""

_HERE = Path(__file__).resolve().parent


def migrate(connection: Connection, to: str = REVISIONS[-1], also: Sequence[Path] = ()) -> None:
    """Bring the file to a version, within the transaction of the connection: wholly or not at all.

    `also` names more folders of migrations. Foreign keys must be off on the connection: SQLite
    cannot rebuild a table to which others refer while they are on.
    """
    # Alembic takes longer to import than a shop file to open, and is needed once for each version.
    from alembic.config import Config
    from alembic.runtime.environment import EnvironmentContext
    from alembic.runtime.migration import MigrationContext, RevisionStep
    from alembic.script import ScriptDirectory

    folders = [_HERE / "versions", *also]
    script = ScriptDirectory(str(_HERE), version_locations=[str(folder) for folder in folders])

    def steps(revision: object, _: MigrationContext) -> list[RevisionStep]:
        return script._upgrade_revs(to, revision)  # type: ignore[arg-type]

    with EnvironmentContext(Config(), script, fn=steps, destination_rev=to) as environment:
        environment.configure(connection=connection)
        environment.run_migrations()
    connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")


def version_of(connection: Connection) -> str | None:
    """The version of the file, or None if it holds none."""
    table = "SELECT 1 FROM sqlite_master WHERE name = 'alembic_version'"
    if connection.exec_driver_sql(table).first() is None:
        return None
    found = connection.exec_driver_sql("SELECT version_num FROM alembic_version").scalar()
    return None if found is None else str(found)
