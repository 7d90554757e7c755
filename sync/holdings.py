"""What reading and exchanging need of whatever keeps everybody's segments, and one's own.

Entries are asked for and taken in by segments, with their bytes: whoever holds good bytes can
put them back where a share has lost them.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from schemas.bodies.bad_file import BadFile
from schemas.entry import Entry
from schemas.signatures import SigningKey
from sync.names import SegmentName, TrustName
from sync.segment import Segment
from sync.tablet_identity import TabletIdentity
from sync.trust import Trust


@dataclass(frozen=True)
class MetBad:
    """A file of the share that is missed, whose bytes do not fit its name, or that is refused."""

    path: str
    reason: str
    tries: int
    first_seen_s: float


@dataclass(frozen=True)
class Held:
    """A segment that is held here: its name, and what it names as the one before it."""

    name: SegmentName
    before_hash16: str
    size: int

    @property
    def before(self) -> SegmentName | None:
        """The segment that it follows; None for the first of a row."""
        seq = self.name.seq - 1
        return SegmentName(self.name.tablet, seq, self.before_hash16) if seq else None


@dataclass(frozen=True)
class Look:
    """What this machine found when it looked at a file that another one reports as bad."""

    at_s: float
    good: bool
    put_right: bool
    """Whether it was bad when first looked at, and was put there again."""


class Archive(Protocol):
    """What others sealed, and who is believed. Each call is durable when it returns."""

    def rows(self) -> Mapping[str, tuple[Held, ...]]:
        """Give every segment that is held, by tablet and in order; forks side by side."""

    def take_in(self, segment: Segment, name: SegmentName) -> None:
        """Keep a verified segment and its entries, whether they count or not, in one step.

        Its file is good now, if it was bad before.
        """

    def identity(self, tablet: str) -> TabletIdentity | None:
        """Give a tablet's certificate, if it was read before."""

    def keep_identity(self, identity: TabletIdentity) -> None:
        """Keep a tablet's certificate."""

    def trust(self) -> Trust:
        """Give who is believed."""

    def trust_records(self) -> Sequence[tuple[TrustName, bytes]]:
        """Give the records of trust, from the first."""

    def take_trust(self, name: TrustName, content: bytes) -> None:
        """Keep the next record and let count what counts by it, in one step.

        Raises
        ------
        BrokenTrust
            As in `Trust.with_record`; nothing was kept.
        """

    def bad_files(self) -> Mapping[str, MetBad]:
        """Give what was found bad in the share and has not been seen good since."""

    def note_bad(self, paths: Iterable[str], reason: str, at_s: float) -> None:
        """Keep that files were found bad once more."""

    def note_good(self, path: str) -> None:
        """Keep that a file is good now."""


class Holdings(Archive, Protocol):
    """A tablet's: an archive, what it seals itself, and what it put into the share."""

    def tablet_key(self) -> SigningKey:
        """Give the key that this tablet goes by now."""

    def seal(self) -> bool:
        """Seal every own entry that waits into this tablet's row; tell whether there was one."""

    def own_tablets(self) -> tuple[str, ...]:
        """Give the ids that this tablet went by, the present one last."""

    def content(self, name: SegmentName) -> bytes | None:
        """Give a held segment's bytes."""

    def published(self) -> Mapping[SegmentName, float]:
        """Give when own segments were put into the share, or last seen good there."""

    def set_published(self, names: Iterable[SegmentName], at_s: float | None) -> None:
        """Keep that segments were put, or with None that they have to be put again."""

    def acknowledged(self) -> frozenset[SegmentName]:
        """Give the segments that an enrolled machine other than their own says it holds.

        One that holds nothing but such words counts as acknowledged: it would never end.
        """

    def acknowledge(self, names: Sequence[SegmentName]) -> None:
        """State, as an entry of this tablet, that it holds segments of others."""

    def said_bad(self) -> Sequence[tuple[str, Entry]]:
        """Give every entry that counts here about a bad file, oldest first, and who said it.

        Who said it is the tablet in whose row it stands, whatever the entry says.
        """

    def say_bad(self, new: Sequence[BadFile], good_again: Sequence[Entry]) -> None:
        """State, as entries of this tablet, which files stay bad, and which of its reports end."""

    def looks(self) -> Mapping[str, Look]:
        """Give what was found about the reports of others, by revision."""

    def note_looks(self, looks: Mapping[str, Look]) -> None:
        """Keep what was found about reports of others, by revision."""

    def begin_anew(self) -> None:
        """Take a new key: somebody else goes by this tablet's. What was sealed stays as it is."""
