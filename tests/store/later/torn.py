"""A migration that fails when it has changed much."""

from alembic import op

revision = "torn"
down_revision = "0005"


def upgrade() -> None:
    op.execute("DROP TRIGGER evidence_no_delete")
    op.execute("DELETE FROM evidence")
    raise ZeroDivisionError
