"""The tables of the shop file as they are after the last migration.

Append-only: core, record, record_follows, evidence, photo, file_bytes. What can be made again, or is
not evidence, may change: draft, preview, judgement, paired.
"""

from sqlalchemy import (
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
    UniqueConstraint,
)

metadata = MetaData()


def _core(primary_key: bool = False) -> Column[str]:
    return Column("core", Text, ForeignKey("core.id"), primary_key=primary_key, nullable=False)


core = Table("core", metadata, Column("id", Text, primary_key=True), Column("made", Text, nullable=False))

record = Table(
    "record",
    metadata,
    Column("number", Integer, primary_key=True),
    _core(),
    Column("title", Text, nullable=False),
    Column("stage", Text, nullable=False),
    Column("digest", Text, nullable=False),
    Column("body", Text, nullable=False),
    Column("sheet", Text, nullable=False),
    Column("who", Text, nullable=False),
    Column("written", Text, nullable=False),
    Index("record_of_core", "core", "digest"),
    sqlite_autoincrement=True,
)

record_follows = Table(
    "record_follows",
    metadata,
    Column("record", Integer, ForeignKey("record.number"), primary_key=True),
    Column("follows", Integer, ForeignKey("record.number"), primary_key=True),
    Index("record_followed", "follows"),
)

evidence = Table(
    "evidence",
    metadata,
    Column("number", Integer, primary_key=True),
    _core(),
    Column("id", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("piece", Text),
    Column("who", Text, nullable=False),
    Column("when", Text, nullable=False),
    Column("written", Text, nullable=False),
    Column("digest", Text, nullable=False),
    Column("body", Text, nullable=False),
    UniqueConstraint("core", "id", name="evidence_once"),
    Index("evidence_of_core", "core"),
    sqlite_autoincrement=True,
)

file_bytes = Table(
    "file_bytes",
    metadata,
    Column("sha256", Text, primary_key=True),
    Column("size", Integer, nullable=False),
    Column("bytes", LargeBinary, nullable=False),
)

photo = Table(
    "photo",
    metadata,
    Column("evidence", Integer, ForeignKey("evidence.number"), primary_key=True),
    _core(),
    Column("id", Text, nullable=False),
    Column("sha256", Text, ForeignKey("file_bytes.sha256"), nullable=False),
    Column("size", Integer, nullable=False),
    Index("photo_of_core", "core"),
)

preview = Table(
    "preview",
    metadata,
    Column("sha256", Text, ForeignKey("file_bytes.sha256"), primary_key=True),
    Column("name", Text, primary_key=True),
    Column("about", Text, nullable=False),
    Column("bytes", LargeBinary, nullable=False),
)

draft = Table(
    "draft",
    metadata,
    _core(primary_key=True),
    Column("photo", Text, primary_key=True),
    Column("session", Text, primary_key=True),
    Column("revision", Integer, nullable=False),
    Column("marks", Text, nullable=False),
    Column("written", Text, nullable=False),
)

judgement = Table(
    "judgement",
    metadata,
    _core(primary_key=True),
    Column("record", Integer, nullable=False),
    Column("evidence", Integer, nullable=False),
    Column("rulebook", Text, nullable=False),
    Column("prices", Text, nullable=False),
    Column("verdict", Text),
    Column("standing", Text),
    Column("waits_for", Text),
    Column("waits_by", Text),
    Column("cost_likely", Float),
    Column("currency", Text),
    Column("not_judged", Integer, nullable=False),
    Column("sheet_title", Text),
    Column("parts", Text),
    Column("money_low", Float),
    Column("money_likely", Float),
    Column("money_high", Float),
    Column("money_mean", Float),
    Column("problems", Text),
    # The answer is long, and SQLite passes through what stands before a column to read it.
    Column("answer", Text),
)

paired = Table(
    "paired",
    metadata,
    Column("token_sha256", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("made", Text, nullable=False),
    Column("seen", Text, nullable=False),
    Column("expires", Text, nullable=False),
    Column("revoked", Text),
)
