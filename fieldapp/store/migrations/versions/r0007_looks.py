"""What was found about files that others report as bad is kept: nobody looks twice for nothing."""

import sqlalchemy as sa
from alembic import op

revision = "r0007"
down_revision = "r0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make room for what was found."""
    op.create_table(
        "look",
        sa.Column("report", sa.Text, primary_key=True),
        sa.Column("at_s", sa.Double, nullable=False),
        sa.Column("good", sa.Boolean, nullable=False),
        sa.Column("put_right", sa.Boolean, nullable=False),
    )
