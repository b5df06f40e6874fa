"""What the rack shows of a core beside its latest judgement, and the answer behind all that is read.

A judgement that is there stays as what was last known; without what is new it does not count as fresh.
"""

import sqlalchemy as sa
from alembic import op

from inspect_app.store.guards import guard

revision = "0005"
down_revision = "0004"

_KEPT = (
    "core, record, evidence, prices, verdict, standing, waits_for, cost_likely, currency, not_judged, "
    "problems, answer"
)


def upgrade() -> None:
    """Make the table of judgements anew, with the answer last: whoever reads a row need not pass it."""
    op.rename_table("judgement", "judgement_before")
    op.create_table(
        "judgement",
        sa.Column("core", sa.Text, sa.ForeignKey("core.id"), primary_key=True),
        sa.Column("record", sa.Integer, nullable=False),
        sa.Column("evidence", sa.Integer, nullable=False),
        sa.Column("rulebook", sa.Text, nullable=False),
        sa.Column("prices", sa.Text, nullable=False),
        *(sa.Column(name, sa.Text) for name in ("verdict", "standing", "waits_for", "waits_by")),
        sa.Column("cost_likely", sa.Float),
        sa.Column("currency", sa.Text),
        sa.Column("not_judged", sa.Integer, nullable=False),
        sa.Column("sheet_title", sa.Text),
        sa.Column("parts", sa.Text),
        *(sa.Column(f"money_{end}", sa.Float) for end in ("low", "likely", "high", "mean")),
        sa.Column("problems", sa.Text),
        sa.Column("answer", sa.Text),
    )
    op.execute(f"INSERT INTO judgement ({_KEPT}, rulebook) SELECT {_KEPT}, '' FROM judgement_before")
    op.drop_table("judgement_before")
    guard(op.get_bind())
