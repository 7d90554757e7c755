"""What stands beside the entries' own bytes is bound, so that an edited row is recognised.

What was remembered of headings is forgotten: it is gathered anew and bound then. The entries
are bound at the first look, once they were compared with what was sealed.
"""

import sqlalchemy as sa
from alembic import op

revision = "r0006"
down_revision = "r0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make room for the keyed hashes."""
    op.drop_table("gathered")
    op.create_table(
        "gathered",
        sa.Column("heading", sa.Text, primary_key=True),
        sa.Column("state", sa.Text, nullable=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
        sa.Column("bound", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "bound_part",
        sa.Column("first", sa.Integer, primary_key=True),
        sa.Column("up_to", sa.Integer, nullable=False),
        sa.Column("bound", sa.LargeBinary, nullable=False),
    )
