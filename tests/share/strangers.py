"""Other tablets, as far as this one meets them: their keys, and what they sealed."""

from collections.abc import Sequence

from schemas.canonical import JsonValue
from schemas.entry import Entry
from schemas.signatures import SigningKey
from sync.holdings import Holdings
from sync.names import SegmentName, TrustName
from sync.segment import FIRST_PREVIOUS, Segment, open_segment, seal, tablet_id
from sync.tablet_identity import TabletIdentity
from sync.trust import Act, EnrolTablet, RevokeTablet, State, Trust
from tests.made import entry

ROOT = SigningKey(b"r" * 32)
SHARE = "0197a5f0-0000-7000-8000-000000000001"
TRUST = Trust(SHARE, (ROOT.public_key,))

Sealed = tuple[Segment, SegmentName]


class Stranger:
    """A tablet that seals what it is given, segment after segment."""

    def __init__(self, number: int, *, before: "Stranger | None" = None) -> None:
        self.key = SigningKey(number.to_bytes(32, "big"))
        self.id = tablet_id(self.key.public_key)
        self.identity = TabletIdentity.of_key(self.key, before=before.key if before else None)
        self._seq, self._prev = 0, FIRST_PREVIOUS

    def seals(self, *entries: Entry) -> Sealed:
        """Seal entries, and read them as whoever fetches them does."""
        self._seq += 1
        made = seal([it.line for it in entries], key=self.key, seq=self._seq, prev=self._prev)
        self._prev = made.sha256
        name = SegmentName.of_file(self.id, made.name)
        assert name is not None
        return open_segment(name.file, made.content, public_key=self.key.public_key), name

    def acknowledges(self, *names: SegmentName, number: int = 900) -> Sealed:
        """Seal nothing but the word that it holds segments."""
        return self.seals(receipt(*names, number=number))


def receipt(*names: SegmentName, number: int = 900) -> Entry:
    """Give the entry in which somebody says that they hold segments."""
    holds: list[JsonValue] = [
        {"tablet": it.tablet, "seq": it.seq, "hash16": it.hash16} for it in names
    ]
    return entry(number, {"holds": holds}, kind="receipt")


def take(holdings: Holdings, sealed: Sealed, identity: TabletIdentity) -> SegmentName:
    """Take a segment in, as an exchange does: the certificate first."""
    holdings.keep_identity(identity)
    holdings.take_in(*sealed)
    return sealed[1]


def enrolled(key: SigningKey) -> EnrolTablet:
    """Give the act that enrols the tablet of a key."""
    return EnrolTablet(
        tablet=tablet_id(key.public_key), public_key=key.public_key, name="a tablet"
    )


def revoked(tablet: str, valid_through: int) -> RevokeTablet:
    """Give the act that cuts a tablet's row."""
    return RevokeTablet(tablet=tablet, valid_through=valid_through, reason="stolen")


def states(made: Entry) -> State:
    """Give the act by which the site states an entry."""
    return State(line=made.line.decode())


def records(*acts: Sequence[Act]) -> list[tuple[TrustName, bytes]]:
    """Give a row of records, one for each group of acts."""
    trust, found = TRUST, []
    for some in acts:
        name, content = trust.next_record(some, ROOT)
        trust, _ = trust.with_record(name.path.rpartition("/")[2], content)
        found.append((name, content))
    return found


def say(holdings: Holdings, *acts: Act) -> None:
    """Let the site say something to a tablet."""
    holdings.take_trust(*holdings.trust().next_record(acts, ROOT))
