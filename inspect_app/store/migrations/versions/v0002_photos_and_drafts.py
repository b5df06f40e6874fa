"""Photos, what is made from them once, and marks that are not evidence yet."""

import sqlalchemy as sa
from alembic import op

from inspect_app.store.guards import guard

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Make the tables of photos, with a row for every photo that is evidence already."""
    op.create_table(
        "photo",
        sa.Column("evidence", sa.Integer, sa.ForeignKey("evidence.number"), primary_key=True),
        sa.Column("core", sa.Text, sa.ForeignKey("core.id"), nullable=False),
        sa.Column("id", sa.Text, nullable=False),
        sa.Column("sha256", sa.Text, sa.ForeignKey("file_bytes.sha256"), nullable=False),
        sa.Column("size", sa.Integer, nullable=False),
    )
    op.create_index("photo_of_core", "photo", ["core"])
    op.execute(
        "INSERT INTO photo SELECT e.number, e.core, e.id, b.sha256, b.size FROM evidence e "
        "JOIN file_bytes b ON b.sha256 = json_extract(e.body, '$.sha256') WHERE e.kind = 'photo'"
    )
    op.create_table(
        "preview",
        sa.Column("sha256", sa.Text, sa.ForeignKey("file_bytes.sha256"), primary_key=True),
        sa.Column("name", sa.Text, primary_key=True),
        sa.Column("about", sa.Text, nullable=False),
        sa.Column("bytes", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "draft",
        sa.Column("core", sa.Text, sa.ForeignKey("core.id"), primary_key=True),
        sa.Column("photo", sa.Text, primary_key=True),
        sa.Column("session", sa.Text, primary_key=True),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("marks", sa.Text, nullable=False),
        sa.Column("written", sa.Text, nullable=False),
    )
    guard(op.get_bind())
