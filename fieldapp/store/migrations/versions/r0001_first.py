"""The first version: entries, drafts, keys, segments.

Written out, not taken from `tables`: those move on, this stays what it was.
"""

import sqlalchemy as sa
from alembic import op

revision = "r0001"
down_revision = None
branch_labels = None
depends_on = None

_APPLICATION_ID = 0x4C526F77


def upgrade() -> None:
    """Make an empty file into a database of this version."""
    op.execute(f"PRAGMA application_id = {_APPLICATION_ID}")
    _entries()
    _drafts()
    _keys()
    op.create_table(
        "segment",
        sa.Column("seq", sa.Integer, primary_key=True),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("first_sequence", sa.Integer, nullable=False),
        sa.Column("last_sequence", sa.Integer, nullable=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
    )


def _entries() -> None:
    op.create_table(
        "entry",
        sa.Column("sequence", sa.Integer, primary_key=True),
        sa.Column("revision", sa.Text, nullable=False, unique=True),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("thing_id", sa.Text, nullable=False),
        sa.Column("made_at", sa.Text, nullable=False),
        sa.Column("clock", sa.Text, nullable=False),
        sa.Column("line", sa.LargeBinary, nullable=False),
        sqlite_autoincrement=True,
    )
    op.create_index("entry_kind", "entry", ["kind"])
    op.create_index("entry_thing", "entry", ["thing_id"])
    op.create_index("entry_made_at", "entry", ["made_at"])
    op.create_table(
        "entry_parent",
        sa.Column("parent", sa.Text, primary_key=True),
        sa.Column("child", sa.Text, primary_key=True),
        sqlite_with_rowid=False,
    )


def _drafts() -> None:
    op.create_table(
        "draft",
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("draft_id", sa.Text, nullable=False, unique=True),
        sa.Column("about", sa.LargeBinary, nullable=False),
        sa.Column("check_crc", sa.Integer, nullable=False),
        sa.Column("closed", sa.Boolean, nullable=False),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "touch",
        sa.Column("draft", sa.Integer, sa.ForeignKey("draft.number"), primary_key=True),
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("line", sa.LargeBinary, nullable=False),
        sa.Column("check_crc", sa.Integer, nullable=False),
        sqlite_with_rowid=False,
    )


def _keys() -> None:
    op.create_table(
        "kept_key",
        sa.Column("owner", sa.Text, primary_key=True),
        sa.Column("content", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "code_try",
        sa.Column("owner", sa.Text, primary_key=True),
        sa.Column("wrong", sa.Integer, nullable=False),
        sa.Column("last_at", sa.Text, nullable=False),
    )
