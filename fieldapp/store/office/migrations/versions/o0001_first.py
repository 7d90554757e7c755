"""The first version: entries as they were written, what they came in, and who is believed.

Written out, not taken from `tables`: those move on, this stays what it was. The indexes by which
entries are found are made once many are in (`fieldapp.store.office.indexes`).
"""

import sqlalchemy as sa
from alembic import op

revision = "o0001"
down_revision = None
branch_labels = None
depends_on = None

_APPLICATION_ID = 0x4C526F66
_TEXT = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")
_NUMBER = sa.BigInteger().with_variant(sa.Integer, "sqlite")


def upgrade() -> None:
    """Make an empty database into one of this version."""
    if op.get_bind().dialect.name == "sqlite":
        op.execute(f"PRAGMA application_id = {_APPLICATION_ID}")
    _entries()
    _segments()
    _believed()
    op.create_table(
        "bad_file",
        sa.Column("path", _TEXT, primary_key=True),
        sa.Column("reason", _TEXT, nullable=False),
        sa.Column("tries", _NUMBER, nullable=False),
        sa.Column("first_seen_s", sa.Double, nullable=False),
    )


def _entries() -> None:
    op.create_table(
        "kept_entry",
        sa.Column("sequence", _NUMBER, primary_key=True),
        sa.Column("revision", _TEXT, nullable=False, unique=True),
        sa.Column("kind", _TEXT, nullable=False),
        sa.Column("thing_id", _TEXT, nullable=False),
        sa.Column("made_at", _TEXT, nullable=False),
        sa.Column("clock", _TEXT, nullable=False),
        sa.Column("line", sa.LargeBinary, nullable=False),
        sa.Column("heading", _TEXT),
        sa.Column("round", _TEXT),
        sa.Column("origin", _TEXT),
        sa.Column("counts", sa.Boolean, nullable=False),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "entry_parent",
        sa.Column("parent", _TEXT, primary_key=True),
        sa.Column("child", _TEXT, primary_key=True),
        sqlite_with_rowid=False,
    )


def _segments() -> None:
    op.create_table(
        "share_segment",
        sa.Column("number", _NUMBER, primary_key=True),
        sa.Column("tablet", _TEXT, nullable=False),
        sa.Column("seq", _NUMBER, nullable=False),
        sa.Column("hash16", _TEXT, nullable=False),
        sa.Column("before16", _TEXT, nullable=False),
        sa.Column("size", _NUMBER, nullable=False),
        sa.Column("only_receipts", sa.Boolean, nullable=False),
        sa.Column("counts", sa.Boolean, nullable=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
        sa.UniqueConstraint("tablet", "seq", "hash16"),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "certificate",
        sa.Column("tablet", _TEXT, primary_key=True),
        sa.Column("content", sa.LargeBinary, nullable=False),
        sqlite_with_rowid=False,
    )


def _believed() -> None:
    op.create_table(
        "pairing",
        sa.Column("number", _NUMBER, primary_key=True),
        sa.Column("store", _TEXT, nullable=False),
        sa.Column("root_keys", _TEXT, nullable=False),
    )
    op.create_table(
        "trust_record",
        sa.Column("pairing", _NUMBER, sa.ForeignKey("pairing.number"), primary_key=True),
        sa.Column("number", _NUMBER, primary_key=True, autoincrement=False),
        sa.Column("hash16", _TEXT, nullable=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
    )
    op.create_table("belief", sa.Column("number", _NUMBER, primary_key=True))
