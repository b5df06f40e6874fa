"""Cores with their records, evidence, and the bytes of files."""

import sqlalchemy as sa
from alembic import op

from inspect_app.store.guards import guard

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make the first tables."""
    op.create_table("core", sa.Column("id", sa.Text, primary_key=True), _text("made"))
    op.create_table(
        "record",
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("core", sa.Text, sa.ForeignKey("core.id"), nullable=False),
        *map(_text, ("title", "stage", "digest", "body", "sheet", "who", "written")),
        sqlite_autoincrement=True,
    )
    op.create_index("record_of_core", "record", ["core", "digest"])
    op.create_table(
        "record_follows",
        sa.Column("record", sa.Integer, sa.ForeignKey("record.number"), primary_key=True),
        sa.Column("follows", sa.Integer, sa.ForeignKey("record.number"), primary_key=True),
    )
    op.create_index("record_followed", "record_follows", ["follows"])
    op.create_table(
        "evidence",
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("core", sa.Text, sa.ForeignKey("core.id"), nullable=False),
        *map(_text, ("id", "kind")),
        sa.Column("piece", sa.Text),
        *map(_text, ("who", "when", "written", "digest", "body")),
        sa.UniqueConstraint("core", "id", name="evidence_once"),
        sqlite_autoincrement=True,
    )
    op.create_index("evidence_of_core", "evidence", ["core"])
    op.create_table(
        "file_bytes",
        sa.Column("sha256", sa.Text, primary_key=True),
        sa.Column("size", sa.Integer, nullable=False),
        sa.Column("bytes", sa.LargeBinary, nullable=False),
    )
    guard(op.get_bind())


def _text(name: str) -> sa.Column[str]:
    return sa.Column(name, sa.Text, nullable=False)
