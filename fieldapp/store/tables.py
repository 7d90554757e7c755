"""What the database holds. Bytes are kept as they were written; the rest finds them again.

`check_crc` is the CRC-32 of the bytes beside it, so that a flipped bit is noticed where no
revision tells of it.
"""

from sqlalchemy import ForeignKey, Index, LargeBinary, Text
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column


class Table(DeclarativeBase):
    """The register of all tables."""

    type_annotation_map = {str: Text, bytes: LargeBinary}  # noqa: RUF012 - SQLAlchemy's form


class EntryRow(Table):
    """One entry. `line` is the truth; the other columns are read out of it.

    `heading` and `round` are what the body names, None where it names none.
    """

    __tablename__ = "entry"
    __table_args__ = (
        Index("entry_kind", "kind"),
        Index("entry_thing", "thing_id", "heading"),
        Index("entry_made_at", "made_at"),
        Index("entry_heading", "heading", "revision"),  # `filed` reads nothing else
        Index("entry_round", "round"),
        {"sqlite_autoincrement": True},  # a number is never used twice
    )

    sequence: Mapped[int] = mapped_column(primary_key=True)
    revision: Mapped[str] = mapped_column(unique=True)
    kind: Mapped[str]
    thing_id: Mapped[str]
    made_at: Mapped[str]
    clock: Mapped[str]
    line: Mapped[bytes]
    heading: Mapped[str | None]
    round: Mapped[str | None]


class ParentRow(Table):
    """An entry names another as the one that it supersedes."""

    __tablename__ = "entry_parent"
    __table_args__ = {"sqlite_with_rowid": False}  # noqa: RUF012

    parent: Mapped[str] = mapped_column(primary_key=True)
    child: Mapped[str] = mapped_column(primary_key=True)


class DraftRow(Table):
    """Something that is being worked on, or was: a closed draft stays, to say so."""

    __tablename__ = "draft"
    __table_args__ = {"sqlite_autoincrement": True}  # noqa: RUF012

    number: Mapped[int] = mapped_column(primary_key=True)
    draft_id: Mapped[str] = mapped_column(unique=True)
    about: Mapped[bytes]
    check_crc: Mapped[int]
    closed: Mapped[bool]


class TouchRow(Table):
    """One touch on a draft. A single tree, ordered by draft: one page written a touch."""

    __tablename__ = "touch"
    __table_args__ = {"sqlite_with_rowid": False}  # noqa: RUF012

    draft: Mapped[int] = mapped_column(ForeignKey("draft.number"), primary_key=True)
    number: Mapped[int] = mapped_column(primary_key=True)
    line: Mapped[bytes]
    check_crc: Mapped[int]


class KeyRow(Table):
    """A key: the tablet's own as it is, everybody else's under a sign code."""

    __tablename__ = "kept_key"

    owner: Mapped[str] = mapped_column(primary_key=True)
    content: Mapped[bytes]


class CodeTryRow(Table):
    """Wrong sign codes since the last right one."""

    __tablename__ = "code_try"

    owner: Mapped[str] = mapped_column(primary_key=True)
    wrong: Mapped[int]
    last_at: Mapped[str]


class SegmentRow(Table):
    """A sealed segment: the entries from one number to another, in the tablet's own row."""

    __tablename__ = "segment"

    seq: Mapped[int] = mapped_column(primary_key=True)
    name: Mapped[str]
    first_sequence: Mapped[int]
    last_sequence: Mapped[int]
    content: Mapped[bytes]


class GatheredRow(Table):
    """What the entries about a heading came to in one state of them. Never the truth."""

    __tablename__ = "gathered"

    heading: Mapped[str] = mapped_column(primary_key=True)
    state: Mapped[str]
    content: Mapped[bytes]
    check_crc: Mapped[int]
