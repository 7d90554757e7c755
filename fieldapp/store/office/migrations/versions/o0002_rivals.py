"""Two records of trust may have one number: an office that was restored from a copy went on."""

import sqlalchemy as sa
from alembic import op

revision = "o0002"
down_revision = "o0001"
branch_labels = None
depends_on = None

_TEXT = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")
_NUMBER = sa.BigInteger().with_variant(sa.Integer, "sqlite")


def upgrade() -> None:
    """Name a record by its hash too."""
    op.rename_table("trust_record", "trust_record_before")
    op.create_table(
        "trust_record",
        sa.Column("pairing", _NUMBER, sa.ForeignKey("pairing.number"), primary_key=True),
        sa.Column("number", _NUMBER, primary_key=True, autoincrement=False),
        sa.Column("hash16", _TEXT, primary_key=True),
        sa.Column("content", sa.LargeBinary, nullable=False),
    )
    op.execute("INSERT INTO trust_record SELECT * FROM trust_record_before")
    op.drop_table("trust_record_before")
