"""The tables that hold what is worked out, made of the classes of its lines."""

import re
from collections.abc import Mapping
from dataclasses import astuple, fields
from typing import Any, Final, get_args, get_type_hints

from sqlalchemy import (
    BigInteger,
    Boolean,
    Column,
    Double,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
)
from sqlalchemy.types import TypeEngine

from fieldapp.store.office.line import Line
from fieldapp.store.office.lines import LINES

FORM: Final = 9
"""Of what is worked out and the views of it: raise it when either changes."""

_TEXT = Text().with_variant(Text(collation="C"), "postgresql")
_NUMBER = BigInteger().with_variant(Integer, "sqlite")
_TYPES: Mapping[object, TypeEngine[Any]] = {
    str: _TEXT,
    int: _NUMBER,
    float: Double(),
    bool: Boolean(),
}
_NUL = re.compile("\0")

METADATA: Final = MetaData()


def _table_of(line: type[Line]) -> Table:
    columns = [_column(name, hint) for name, hint in _hints(line)]
    made_anew_by = columns[0].name
    index = Index(f"{line.table}_{made_anew_by}", made_anew_by)
    return Table(line.table, METADATA, *columns, index)


def _hints(line: type[Line]) -> list[tuple[str, object]]:
    hints = get_type_hints(line)
    return [(it.name, hints[it.name]) for it in fields(line)]


def _column(name: str, hint: object) -> Column[Any]:
    kinds = [it for it in get_args(hint) if it is not type(None)] or [hint]
    return Column(name, _TYPES[kinds[0]], nullable=bool(get_args(hint)))


TABLES: Final = {line: _table_of(line) for line in LINES}

JUDGED: Final = Table(
    "office_judged",
    METADATA,
    Column("round_revision", _TEXT, primary_key=True),
    Column("heading_id", _TEXT, nullable=False, index=True),
    Column("judged_by", _TEXT, nullable=False),
)
"""Which revisions of rounds were judged, and a hash of all that they were judged by."""

RECORDS: Final = Table(
    "office_record",
    METADATA,
    Column("heading_id", _TEXT, primary_key=True),
    Column("content", LargeBinary, nullable=False),
)
"""What the entries about each heading come to, before the clock has its say."""

DONE: Final = Table(
    "office_done",
    METADATA,
    Column("version", _TEXT, nullable=False),
    Column("turn", _NUMBER, nullable=False),
    Column("newest", _NUMBER, nullable=False),
    Column("belief", _NUMBER, nullable=False),
)
"""Up to which state of the ledger everything is worked out, and in which form: one row.

`turn` counts the collations: the one with the highest works it out.
"""


def columns_of(line: type[Line]) -> tuple[str, ...]:
    """Give the columns of a kind of line, in their order."""
    return tuple(it.name for it in fields(line))


def row_of(line: Line) -> tuple[Any, ...]:
    """Give a line's values; PostgreSQL keeps every letter in a text but one."""
    return tuple(_NUL.sub("\N{REPLACEMENT CHARACTER}", it) if isinstance(it, str) else it
                 for it in astuple(line))  # fmt: skip
