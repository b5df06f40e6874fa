"""The phones that were paired with this shop, which can be revoked at any time."""

import sqlalchemy as sa
from alembic import op

from inspect_app.store.guards import guard

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    """Make the table of paired phones."""
    op.create_table(
        "paired",
        sa.Column("token_sha256", sa.Text, primary_key=True),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("made", sa.Text, nullable=False),
        sa.Column("seen", sa.Text, nullable=False),
        sa.Column("expires", sa.Text, nullable=False),
        sa.Column("revoked", sa.Text),
    )
    guard(op.get_bind())
