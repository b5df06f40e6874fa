"""Append-only tables: triggers that refuse every way to change or remove a row.

A REPLACE removes the old row without firing a trigger wherever `recursive_triggers` is off, and a
migration that rebuilds a table loses its triggers. So a row whose key is held already is refused
before it comes in, and every migration calls `guard` last.
"""

from collections.abc import Iterator, Mapping

from sqlalchemy import Connection

APPEND_ONLY = ("core", "record", "record_follows", "evidence", "photo", "file_bytes")
_TEXT = "nothing in the table {table} is changed or removed: write a correction"


def guard(connection: Connection) -> None:
    """Make the triggers of every append-only table that is there, in place of those there were."""
    for name in existing(connection):
        connection.exec_driver_sql(f'DROP TRIGGER "{name}"')
    for sql in wanted(connection).values():
        connection.exec_driver_sql(sql)


def existing(connection: Connection) -> dict[str, str]:
    """Every trigger in the file: its name and its SQL."""
    rows = connection.exec_driver_sql("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
    return {str(name): str(sql) for name, sql in rows}


def wanted(connection: Connection) -> Mapping[str, str]:
    """The triggers that the append-only tables in the file must have."""
    rows = connection.exec_driver_sql("SELECT name FROM sqlite_master WHERE type = 'table'")
    there = {str(name) for (name,) in rows}
    return {
        f"{table}_{name}": f"CREATE TRIGGER {table}_{name} BEFORE {when} "
        f"BEGIN SELECT RAISE(ABORT, '{_TEXT.format(table=table)}'); END"
        for table in APPEND_ONLY
        if table in there
        for name, when in _moments(connection, table)
    }


def _moments(connection: Connection, table: str) -> Iterator[tuple[str, str]]:
    held = " OR ".join(
        "(" + " AND ".join(f'"{column}" = NEW."{column}"' for column in key) + ")"
        for key in _keys(connection, table)
    )
    yield "no_update", f"UPDATE ON {table}"
    yield "no_delete", f"DELETE ON {table}"
    yield "no_replace", f"INSERT ON {table} WHEN EXISTS (SELECT 1 FROM {table} WHERE {held})"


def _keys(connection: Connection, table: str) -> list[tuple[str, ...]]:
    """The columns of the primary key and of every unique index, any of which a REPLACE goes by."""
    columns = connection.exec_driver_sql(f"PRAGMA table_info({table})").all()
    primary = tuple(str(row[1]) for row in sorted(columns, key=lambda row: int(row[5])) if row[5])
    indexes = connection.exec_driver_sql(f"PRAGMA index_list({table})").all()
    unique = {
        tuple(str(row[2]) for row in connection.exec_driver_sql(f'PRAGMA index_info("{index[1]}")'))
        for index in indexes
        if index[2]
    }
    return [primary, *sorted(unique - {primary})]
