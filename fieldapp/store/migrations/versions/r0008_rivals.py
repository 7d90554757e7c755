"""Two records of trust may have one number: an office that was restored from a copy went on."""

import sqlalchemy as sa
from alembic import op

revision = "r0008"
down_revision = "r0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Name a record by its hash too."""
    op.rename_table("trust_record", "trust_record_before")
    op.create_table(
        "trust_record",
        sa.Column("pairing", sa.Integer, sa.ForeignKey("pairing.number"), primary_key=True),
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("hash16", sa.Text, primary_key=True),
        sa.Column("content", sa.LargeBinary, nullable=False),
    )
    op.execute("INSERT INTO trust_record SELECT * FROM trust_record_before")
    op.drop_table("trust_record_before")
