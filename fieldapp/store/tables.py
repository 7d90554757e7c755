"""What the database holds. Bytes are kept as they were written; the rest finds them again.

`check_crc` is the CRC-32 of the bytes beside it, so that a flipped bit is noticed where no
revision tells of it.
"""

from sqlalchemy import (
    BigInteger,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    Text,
    UniqueConstraint,
    text,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

SITE = "site"
"""The origin of an entry that a record of trust states; no tablet has such an id."""
HERE = 0
"""In place of a segment's number: it was stated on this tablet."""


class Table(DeclarativeBase):
    """The register of all tables."""

    type_annotation_map = {  # noqa: RUF012 - SQLAlchemy's form
        str: Text().with_variant(Text(collation="C"), "postgresql"),  # sorted by bytes, as here
        int: BigInteger().with_variant(Integer, "sqlite"),
        bytes: LargeBinary,
    }


class EntryRow(Table):
    """One entry. `line` is the truth; the columns up to `round` are read out of it.

    `heading` and `round` are what the body names, None where it names none. `origin` is the
    tablet in whose segment it came first, or `SITE`; None was stated here and always counts.
    """

    __tablename__ = "entry"
    __table_args__ = (
        Index("entry_kind", "kind"),
        Index("entry_thing", "thing_id", "heading", "counts"),
        Index("entry_made_at", "made_at"),
        Index("entry_heading", "heading", "revision", "counts"),  # `filed` reads nothing else
        Index("entry_clock", "clock", "origin", "counts"),
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
    origin: Mapped[str | None]
    counts: Mapped[bool] = mapped_column(server_default=text("1"))


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
    """A sealed segment of this tablet, as it goes by its key now.

    It holds what was stated here from one number to another.
    """

    __tablename__ = "segment"

    seq: Mapped[int] = mapped_column(primary_key=True)
    name: Mapped[str]
    first_sequence: Mapped[int]
    last_sequence: Mapped[int]
    content: Mapped[bytes]
    only_receipts: Mapped[bool] = mapped_column(server_default=text("0"))


class ShareSegmentRow(Table):
    """A segment that another tablet sealed, or this one under a key that it had before."""

    __tablename__ = "share_segment"
    __table_args__ = (
        UniqueConstraint("tablet", "seq", "hash16"),
        {"sqlite_autoincrement": True},
    )

    number: Mapped[int] = mapped_column(primary_key=True)
    tablet: Mapped[str]
    seq: Mapped[int]
    hash16: Mapped[str]
    before16: Mapped[str]
    size: Mapped[int]
    only_receipts: Mapped[bool]
    counts: Mapped[bool]
    content: Mapped[bytes]


class FormerTabletRow(Table):
    """An id that this tablet went by, and how far its entries were sealed then."""

    __tablename__ = "former_tablet"

    number: Mapped[int] = mapped_column(primary_key=True)
    tablet: Mapped[str]
    sealed_up_to: Mapped[int]


class CertificateRow(Table):
    """What a tablet says of itself, as it was verified."""

    __tablename__ = "certificate"
    __table_args__ = {"sqlite_with_rowid": False}  # noqa: RUF012

    tablet: Mapped[str] = mapped_column(primary_key=True)
    content: Mapped[bytes]


class PairingRow(Table):
    """The share that this tablet belongs to; the last one counts."""

    __tablename__ = "pairing"

    number: Mapped[int] = mapped_column(primary_key=True)
    store: Mapped[str]
    root_keys: Mapped[str]


class ExchangedRow(Table):
    """When this tablet last exchanged with the share of a pairing."""

    __tablename__ = "exchanged"

    pairing: Mapped[int] = mapped_column(ForeignKey("pairing.number"), primary_key=True)
    at_s: Mapped[float]


class TrustRecordRow(Table):
    """A numbered record of who is believed, of one pairing; rivals have one number."""

    __tablename__ = "trust_record"

    pairing: Mapped[int] = mapped_column(ForeignKey("pairing.number"), primary_key=True)
    number: Mapped[int] = mapped_column(primary_key=True)
    hash16: Mapped[str] = mapped_column(primary_key=True)
    content: Mapped[bytes]


class BeliefRow(Table):
    """Once more it changed which of the entries that were here count."""

    __tablename__ = "belief"

    number: Mapped[int] = mapped_column(primary_key=True)


class PublishedRow(Table):
    """A segment of ours was put into the share, or last seen good there."""

    __tablename__ = "published"

    tablet: Mapped[str] = mapped_column(primary_key=True)
    seq: Mapped[int] = mapped_column(primary_key=True)
    hash16: Mapped[str] = mapped_column(primary_key=True)
    at_s: Mapped[float]


class AcknowledgedRow(Table):
    """A held segment says that another one is held; `said_in` is its number, or `HERE`."""

    __tablename__ = "acknowledged"
    __table_args__ = {"sqlite_with_rowid": False}  # noqa: RUF012

    tablet: Mapped[str] = mapped_column(primary_key=True)
    seq: Mapped[int] = mapped_column(primary_key=True)
    hash16: Mapped[str] = mapped_column(primary_key=True)
    said_in: Mapped[int] = mapped_column(primary_key=True)


class PhotoRow(Table):
    """A photo whose file is here; `brought` from a share, or taken on this machine."""

    __tablename__ = "photo"
    __table_args__ = {"sqlite_with_rowid": False}  # noqa: RUF012

    sha256: Mapped[str] = mapped_column(primary_key=True)
    month: Mapped[str]
    ending: Mapped[str]
    brought: Mapped[bool]
    published_s: Mapped[float | None]


class PhotoWordRow(Table):
    """A held segment says that a photo is held; `said_in` is its number, or `HERE`."""

    __tablename__ = "photo_word"
    __table_args__ = {"sqlite_with_rowid": False}  # noqa: RUF012

    sha256: Mapped[str] = mapped_column(primary_key=True)
    said_in: Mapped[int] = mapped_column(primary_key=True)


class BadFileRow(Table):
    """A file of the share that was found bad and not good since."""

    __tablename__ = "bad_file"

    path: Mapped[str] = mapped_column(primary_key=True)
    reason: Mapped[str]
    tries: Mapped[int]
    first_seen_s: Mapped[float]


class LookRow(Table):
    """What this machine found when it looked at a file that another one reports as bad."""

    __tablename__ = "look"

    report: Mapped[str] = mapped_column(primary_key=True)
    at_s: Mapped[float]
    good: Mapped[bool]
    put_right: Mapped[bool]


class GatheredRow(Table):
    """What the entries about a heading came to in one state of them. Never the truth.

    `bound` is the keyed hash of the rest (`fieldapp.store.binding`).
    """

    __tablename__ = "gathered"

    heading: Mapped[str] = mapped_column(primary_key=True)
    state: Mapped[str]
    content: Mapped[bytes]
    bound: Mapped[bytes]


class BoundPartRow(Table):
    """The keyed hash of how the entries are filed from one number up to another."""

    __tablename__ = "bound_part"

    first: Mapped[int] = mapped_column(primary_key=True)
    up_to: Mapped[int]
    bound: Mapped[bytes]
