"""Photos are kept beside the database; here is which, and who says to hold them."""

import sqlalchemy as sa
from alembic import op

revision = "r0005"
down_revision = "r0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make room for the shelf of photos."""
    op.create_table(
        "photo",
        sa.Column("sha256", sa.Text, primary_key=True),
        sa.Column("month", sa.Text, nullable=False),
        sa.Column("ending", sa.Text, nullable=False),
        sa.Column("brought", sa.Boolean, nullable=False),
        sa.Column("published_s", sa.Double),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "photo_word",
        sa.Column("sha256", sa.Text, primary_key=True),
        sa.Column("said_in", sa.Integer, primary_key=True),
        sqlite_with_rowid=False,
    )
