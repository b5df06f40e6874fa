"""The latest judgement of each core, which can be dropped at any time."""

import sqlalchemy as sa
from alembic import op

from inspect_app.store.guards import guard

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    """Make the table of judgements."""
    op.create_table(
        "judgement",
        sa.Column("core", sa.Text, sa.ForeignKey("core.id"), primary_key=True),
        sa.Column("record", sa.Integer, nullable=False),
        sa.Column("evidence", sa.Integer, nullable=False),
        sa.Column("rulebook", sa.Text, nullable=False),
        sa.Column("prices", sa.Text, nullable=False),
        sa.Column("verdict", sa.Text),
        sa.Column("standing", sa.Text),
        sa.Column("waits_for", sa.Text),
        sa.Column("cost_likely", sa.Float),
        sa.Column("currency", sa.Text),
        sa.Column("not_judged", sa.Integer, nullable=False),
        sa.Column("answer", sa.Text),
        sa.Column("problems", sa.Text),
    )
    guard(op.get_bind())
