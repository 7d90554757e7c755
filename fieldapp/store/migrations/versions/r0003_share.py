"""What others sealed is held beside what was stated here, and not all of it counts.

Everything that stood here before was stated here.
"""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "r0003"
down_revision = "r0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Say of every entry that it was stated here, and make room for what comes from a share."""
    op.add_column("entry", sa.Column("origin", sa.Text))
    op.add_column("entry", _flag("counts", "1"))
    op.add_column("segment", _flag("only_receipts", "0"))
    op.drop_index("entry_thing", "entry")
    op.drop_index("entry_heading", "entry")
    op.create_index("entry_thing", "entry", ["thing_id", "heading", "counts"])
    op.create_index("entry_heading", "entry", ["heading", "revision", "counts"])
    op.create_index("entry_clock", "entry", ["clock", "origin", "counts"])
    _held()
    _believed()
    _known_of_the_share()


def _flag(name: str, usual: str) -> sa.Column[bool]:
    return sa.Column(name, sa.Boolean, nullable=False, server_default=sa.text(usual))


def _held() -> None:
    op.create_table(
        "share_segment",
        sa.Column("number", sa.Integer, primary_key=True),
        *_segment_name(),
        sa.Column("before16", sa.Text, nullable=False),
        sa.Column("size", sa.Integer, nullable=False),
        sa.Column("only_receipts", sa.Boolean, nullable=False),
        sa.Column("counts", sa.Boolean, nullable=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
        sa.UniqueConstraint("tablet", "seq", "hash16"),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "former_tablet",
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("tablet", sa.Text, nullable=False),
        sa.Column("sealed_up_to", sa.Integer, nullable=False),
    )


def _believed() -> None:
    op.create_table(
        "certificate",
        sa.Column("tablet", sa.Text, primary_key=True),
        sa.Column("content", sa.LargeBinary, nullable=False),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "pairing",
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("store", sa.Text, nullable=False),
        sa.Column("root_keys", sa.Text, nullable=False),
    )
    op.create_table(
        "trust_record",
        sa.Column("pairing", sa.Integer, sa.ForeignKey("pairing.number"), primary_key=True),
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("hash16", sa.Text, nullable=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
    )
    op.create_table("belief", sa.Column("number", sa.Integer, primary_key=True))


def _known_of_the_share() -> None:
    op.create_table(
        "published",
        *_segment_name(primary_key=True),
        sa.Column("at_s", sa.Double, nullable=False),
    )
    op.create_table(
        "acknowledged",
        *_segment_name(primary_key=True),
        sa.Column("said_in", sa.Integer, primary_key=True),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "bad_file",
        sa.Column("path", sa.Text, primary_key=True),
        sa.Column("reason", sa.Text, nullable=False),
        sa.Column("tries", sa.Integer, nullable=False),
        sa.Column("first_seen_s", sa.Double, nullable=False),
    )


def _segment_name(*, primary_key: bool = False) -> tuple[sa.Column[Any], ...]:
    return (
        sa.Column("tablet", sa.Text, primary_key=primary_key, nullable=False),
        sa.Column("seq", sa.Integer, primary_key=primary_key, nullable=False),
        sa.Column("hash16", sa.Text, primary_key=primary_key, nullable=False),
    )
