"""Entries are found by the heading and the round that they name.

What was gathered about a heading is remembered beside them.
"""

import json
from collections.abc import Iterator
from hashlib import sha256
from typing import Any

import sqlalchemy as sa
from alembic import op

from fieldapp.store.troubles import DatabaseDamaged

revision = "r0002"
down_revision = "r0001"
branch_labels = None
depends_on = None

_FILL = sa.text("UPDATE entry SET heading = :heading, round = :round WHERE sequence = :seq")
_LINES = sa.text(
    "SELECT sequence, revision, line FROM entry WHERE sequence > :after"
    " ORDER BY sequence LIMIT 500"
)


def upgrade() -> None:
    """Read the new columns out of every line."""
    op.add_column("entry", sa.Column("heading", sa.Text))
    op.add_column("entry", sa.Column("round", sa.Text))
    for filled in _filled(op.get_bind()):
        op.get_bind().execute(_FILL, filled)
    op.drop_index("entry_thing", "entry")
    op.create_index("entry_thing", "entry", ["thing_id", "heading"])
    op.create_index("entry_heading", "entry", ["heading", "revision"])
    op.create_index("entry_round", "entry", ["round"])
    op.create_table(
        "gathered",
        sa.Column("heading", sa.Text, primary_key=True),
        sa.Column("state", sa.Text, nullable=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
        sa.Column("check_crc", sa.Integer, nullable=False),
    )


def _filled(connection: sa.Connection) -> Iterator[list[dict[str, Any]]]:
    after = 0
    while rows := connection.execute(_LINES, {"after": after}).all():
        yield [_columns(connection, *row) for row in rows]
        after = rows[-1].sequence


def _columns(connection: sa.Connection, seq: int, name: str, line: bytes) -> dict[str, Any]:
    """Read one line; one that is damaged would be found under no heading, so it is told."""
    if sha256(line).hexdigest() != name:
        path = str(connection.engine.url.database)
        raise DatabaseDamaged(path, f"entry {seq}: its bytes do not fit its revision")
    entry = json.loads(line)
    named = {field: entry["body"].get(field) for field in ("heading", "round")}
    texts = {field: it if isinstance(it, str) else None for field, it in named.items()}
    return {"seq": seq, **texts}
