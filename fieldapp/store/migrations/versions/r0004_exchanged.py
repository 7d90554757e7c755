"""When this tablet last exchanged with the share is kept: how old is what others said."""

import sqlalchemy as sa
from alembic import op

revision = "r0004"
down_revision = "r0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make room for the time of the last exchange."""
    op.create_table(
        "exchanged",
        sa.Column("pairing", sa.Integer, sa.ForeignKey("pairing.number"), primary_key=True),
        sa.Column("at_s", sa.Double, nullable=False),
    )
