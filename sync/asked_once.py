"""Holdings for the length of one exchange: what they answer is asked for once.

An exchange asks the same at many places, and each question is a transaction of the database.
An answer stands until the exchange itself changes something. What somebody else states or
takes in meanwhile is met by the next exchange, as if it had come a moment later.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, TypeVar

from schemas.bodies.bad_file import BadFile
from schemas.entry import Entry
from schemas.signatures import SigningKey
from sync.holdings import Held, Holdings, Look, MetBad
from sync.names import SegmentName, TrustName
from sync.segment import Segment
from sync.tablet_identity import TabletIdentity
from sync.trust import Trust

Answer = TypeVar("Answer")


class AskedOnce(Holdings):
    """Holdings in front of others; all but the bytes of segments is remembered.

    Parameters
    ----------
    holdings : Holdings
        Those behind.
    """

    def __init__(self, holdings: Holdings) -> None:
        self.behind = holdings
        self._answers: dict[object, Any] = {}

    def _once(self, ask: Callable[..., Answer], *given: object) -> Answer:
        question = ask, *given
        if question not in self._answers:
            self._answers[question] = ask(*given)
        answer: Answer = self._answers[question]
        return answer

    def _changing(self) -> Holdings:
        self._answers.clear()
        return self.behind

    # --- asked --------------------------------------------------------------------------

    def rows(self) -> Mapping[str, tuple[Held, ...]]:
        """Give every segment that is held, by tablet and in order."""
        return self._once(self.behind.rows)

    def identity(self, tablet: str) -> TabletIdentity | None:
        """Give a tablet's certificate, if it was read before."""
        return self._once(self.behind.identity, tablet)

    def trust(self) -> Trust:
        """Give who is believed."""
        return self._once(self.behind.trust)

    def trust_records(self) -> Sequence[tuple[TrustName, bytes]]:
        """Give the records of trust, from the first."""
        return self._once(self.behind.trust_records)

    def bad_files(self) -> Mapping[str, MetBad]:
        """Give what was found bad in the share and has not been seen good since."""
        return self._once(self.behind.bad_files)

    def tablet_key(self) -> SigningKey:
        """Give the key that this tablet goes by now."""
        return self._once(self.behind.tablet_key)

    def own_tablets(self) -> tuple[str, ...]:
        """Give the ids that this tablet went by, the present one last."""
        return self._once(self.behind.own_tablets)

    def content(self, name: SegmentName) -> bytes | None:
        """Give a held segment's bytes."""
        return self.behind.content(name)

    def published(self) -> Mapping[SegmentName, float]:
        """Give when own segments were put into the share, or last seen good there."""
        return self._once(self.behind.published)

    def acknowledged(self) -> frozenset[SegmentName]:
        """Give the segments that another enrolled machine says it holds."""
        return self._once(self.behind.acknowledged)

    def said_bad(self) -> Sequence[tuple[str, Entry]]:
        """Give every entry that counts here about a bad file."""
        return self._once(self.behind.said_bad)

    def looks(self) -> Mapping[str, Look]:
        """Give what was found about the reports of others, by revision."""
        return self._once(self.behind.looks)

    # --- changed ------------------------------------------------------------------------

    def take_in(self, segment: Segment, name: SegmentName) -> None:
        """Keep a verified segment and its entries."""
        self._changing().take_in(segment, name)

    def keep_identity(self, identity: TabletIdentity) -> None:
        """Keep a tablet's certificate."""
        self._changing().keep_identity(identity)

    def take_trust(self, name: TrustName, content: bytes) -> None:
        """Keep the next record of trust."""
        self._changing().take_trust(name, content)

    def note_bad(self, paths: Iterable[str], reason: str, at_s: float) -> None:
        """Keep that files were found bad once more."""
        self._changing().note_bad(paths, reason, at_s)

    def note_good(self, path: str) -> None:
        """Keep that a file is good now."""
        self._changing().note_good(path)

    def seal(self) -> bool:
        """Seal every own entry that waits; tell whether there was one."""
        sealed = self.behind.seal()
        if sealed:
            self._answers.clear()
        return sealed

    def set_published(self, names: Iterable[SegmentName], at_s: float | None) -> None:
        """Keep that segments were put, or have to be put again."""
        self._changing().set_published(names, at_s)

    def acknowledge(self, names: Sequence[SegmentName]) -> None:
        """State that this tablet holds segments of others."""
        self._changing().acknowledge(names)

    def say_bad(self, new: Sequence[BadFile], good_again: Sequence[Entry]) -> None:
        """State which files stay bad, and which of its reports end."""
        self._changing().say_bad(new, good_again)

    def note_looks(self, looks: Mapping[str, Look]) -> None:
        """Keep what was found about reports of others."""
        self._changing().note_looks(looks)

    def begin_anew(self) -> None:
        """Take a new key."""
        self._changing().begin_anew()
