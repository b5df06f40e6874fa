"""A migration that rebuilds two append-only tables, as SQLite asks for to change a column."""

import sqlalchemy as sa
from alembic import op

from inspect_app.store.guards import guard

revision = "rebuilt"
down_revision = "0005"


def upgrade() -> None:
    with op.batch_alter_table("evidence", recreate="always") as table:
        table.add_column(sa.Column("seen_by", sa.Text, server_default="nobody"))
    with op.batch_alter_table("core", recreate="always") as table:
        table.add_column(sa.Column("shelf", sa.Text))
    guard(op.get_bind())
