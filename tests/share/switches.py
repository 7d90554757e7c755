"""The rules of the exchange, each with a switch that drops it: what is it for?

A switch takes the place of a rule in the tests only. The simulator has to find what is lost
without it; a simulator that finds nothing proves nothing.
"""

import zlib
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import takewhile

import pytest

import sync.deep_scan
import sync.exchange
import sync.lying
import sync.photos
import sync.pulling
import sync.pushing
import sync.trust_exchange
import tests.share.model_clock
from schemas.canonical import Unreadable
from schemas.entry import read_entry
from schemas.logical_clock import LARGEST_MS, LogicalClock, LogicalTime
from sync.asked_once import AskedOnce
from sync.folder import Folder, Listed, NotThere, NotYet
from sync.holdings import Held
from sync.meeting import Meeting
from sync.names import TRUST as TRUST_FOLDER
from sync.names import PhotoName, SegmentName, TrustName, short_hash
from sync.photo_shelf import PhotoShelf
from sync.pulling import LARGEST_FILE, fetch
from sync.pushing import is_proved_bad
from sync.segment import Header, Segment
from sync.trust import Trust
from sync.trust_exchange import read_trust
from sync.visit import Visit
from tests.share.holdings import ListHoldings
from tests.share.mine import OFFICE, TRUST, Rules
from tests.share.shelf import Photographing, shelf_of
from tests.share.simulated_folder import Odds
from tests.share.simulator import Setting


@dataclass(frozen=True)
class Switch:
    """What the exchange is without one of its rules, where that shows, and how soon."""

    setting: Setting
    drop: Callable[[pytest.MonkeyPatch], None]
    found_within: int
    """So many seeds, at most, until something is lost."""
    rules: Rules = field(default_factory=Rules)
    """What the machines go by where no rule is dropped."""

    def kept(self) -> Setting:
        """Give what may happen besides, where all rules are kept."""
        return Setting(cloud=self.setting.cloud, clone=self.setting.clone, rules=self.rules)

    @contextmanager
    def dropped(self) -> Iterator[Setting]:
        """Exchange without the rule."""
        with pytest.MonkeyPatch.context() as patch:
            self.drop(patch)
            yield self.setting


Fetch = Callable[[Meeting, SegmentName], bool]


class UpToHere(ListHoldings):
    """Thinks that it holds whatever it once tried to read, as a cursor that is a number does."""

    def rows(self) -> Mapping[str, tuple[Held, ...]]:
        passed: set[SegmentName] = vars(self).setdefault("passed", set())
        rows = {tablet: list(row) for tablet, row in super().rows().items()}
        for name in passed - self._segments.keys():
            rows.setdefault(name.tablet, []).append(Held(name, "0" * 16, 0))
        return {tablet: tuple(sorted(row, key=_by_name)) for tablet, row in rows.items()}


def _by_name(held: Held) -> SegmentName:
    return held.name


def _pass_over(meeting: Meeting, name: SegmentName, *, lying_at: str | None = None) -> bool:
    own = name.tablet in meeting.holdings.own_tablets()
    if not fetch(meeting, name, lying_at=lying_at) and not own:
        assert isinstance(meeting.holdings, AskedOnce)
        vars(meeting.holdings.behind).setdefault("passed", set()).add(name)
        meeting.holdings.note_good(name.path)
    return True


def _cursor(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(sync.pulling, "fetch_all", _all_by(_pass_over))


def _all_by(fetches: Fetch) -> Callable[[Meeting, Iterable[SegmentName]], set[SegmentName]]:
    return lambda meeting, names: {name for name in names if fetches(meeting, name)}


def _take_what_parses(meeting: Meeting, name: SegmentName, *, lying_at: str | None = None) -> bool:
    try:
        content = meeting.folder.read(lying_at or name.path, at_most=LARGEST_FILE)
    except (NotThere, NotYet):
        return False
    head, _, packed = content.partition(b"\n")
    lines = tuple(_lines(packed))
    if not lines or not head:
        return False
    try:
        header = Header.model_validate_json(head)
    except ValueError:
        return False
    meeting.holdings.take_in(Segment(name.file, header, lines, content), name)
    return True


def _lines(packed: bytes) -> Iterator[bytes]:
    """Yield the entries that can still be read of a part of a file."""
    try:
        raw = zlib.decompressobj(wbits=31).decompress(packed)
    except zlib.error:
        return
    for line in raw.split(b"\n"):
        try:
            read_entry(line, source="a part")
        except Unreadable:
            return
        yield line


def _no_hash(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(sync.pulling, "fetch_all", _all_by(_take_what_parses))
    patch.setattr(sync.lying, "fetch_all", _all_by(_take_what_parses))
    patch.setattr(sync.lying, "fetch", _take_what_parses)


def _nothing_is_read_again(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(sync.exchange, "audit", lambda _meeting: None)
    patch.setattr(sync.deep_scan, "_part_of_the_day", lambda _names, _now_s: ())


class Numbered(Folder):
    """Files segments by their number alone; another one of that number takes its place."""

    def __init__(self, folder: Folder) -> None:
        self.place = folder.place
        self._folder = folder

    def listing(self, path: str) -> Iterable[Listed]:
        for it in self._folder.listing(path):
            if it.name.endswith(".seg"):
                content = self._content(f"{path}/{it.name}")
                yield Listed(f"{it.name[:8]}-{short_hash(content)}.seg", len(content))
            else:
                yield it

    def _content(self, path: str) -> bytes:
        try:
            return self._folder.read(path, at_most=LARGEST_FILE)
        except (NotThere, NotYet):
            return b""

    def read(self, path: str, *, at_most: int) -> bytes:
        return self._folder.read(_numbered(path), at_most=at_most)

    def put(self, path: str, content: bytes) -> None:
        self._folder.put(_numbered(path), content)

    def remove(self, path: str) -> None:
        self._folder.remove(path)


def _numbered(path: str) -> str:
    return f"{path.rpartition('-')[0]}.seg" if path.endswith(".seg") else path


def _no_look_at_the_own_row(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(sync.exchange, "notice_another_of_us", lambda _meeting: None)
    patch.setattr(Meeting, "take_new_identity", lambda _meeting: None)


def _an_error_is_a_proof(patch: pytest.MonkeyPatch) -> None:
    def proved(meeting: Meeting, path: str, is_good: Callable[[bytes], bool]) -> bool:
        try:
            meeting.folder.read(path, at_most=LARGEST_FILE)
        except NotYet:
            return True
        except NotThere:
            pass
        return is_proved_bad(meeting, path, is_good)

    patch.setattr(sync.pushing, "is_proved_bad", proved)


def _no_cut(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(Trust, "believes", lambda trust, tablet, _seq: tablet in trust.tablets)


class AsTheShareHasIt(ListHoldings):
    """Believes what the share has of records now; only the office keeps what it wrote."""

    def forget(self, gone: Collection[TrustName]) -> None:
        """Go back to the records before the first that is gone."""
        if self._seed == OFFICE + 1:
            return
        left = list(takewhile(lambda it: it[0] not in gone, self._records))
        self._trust, self._records, self._stated = TRUST, [], {}
        for name, content in left:
            self.take_trust(name, content)


def _no_number_is_kept(patch: pytest.MonkeyPatch) -> None:
    def take_what_is_there(meeting: Meeting) -> frozenset[TrustName]:
        gone = read_trust(meeting)
        assert isinstance(meeting.holdings, AskedOnce)
        assert isinstance(meeting.holdings.behind, AsTheShareHasIt)
        meeting.holdings.behind.forget(gone)
        meeting.holdings.note_good(TRUST_FOLDER)
        return gone

    patch.setattr(sync.trust_exchange, "read_trust", take_what_is_there)


def _the_first_that_comes(patch: pytest.MonkeyPatch) -> None:
    take_in = sync.trust_exchange._take_in_one

    def take_in_what_follows(visit: Visit, name: TrustName) -> None:
        if name.number > visit.holdings.trust().number:
            take_in(visit, name)

    patch.setattr(sync.trust_exchange, "_take_in_one", take_in_what_follows)


def _bring_whatever_lies_there(meeting: Meeting, shelf: PhotoShelf, name: PhotoName) -> bool:
    try:
        content = meeting.folder.read(name.path, at_most=LARGEST_FILE)
    except (NotThere, NotYet):
        return False
    shelf.take_in(name, content)
    return True


def _no_photo_is_verified(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(sync.photos, "_bring", _bring_whatever_lies_there)


def _whoever_is_ahead_is_followed(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(tests.share.model_clock, "farthest_followed", lambda _wall_ms: THE_LATEST)


def _the_wall_is_the_clock(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(LogicalClock, "tick", lambda _clock, wall_ms: LogicalClock(LogicalTime(wall_ms)))


def _nothing(_patch: pytest.MonkeyPatch) -> None:
    """Drop a rule by the setting alone."""


THE_LATEST = LogicalTime(LARGEST_MS)
WITH_PHOTOS = Rules(holdings=Photographing, shelf=shelf_of)

SWITCHES: dict[str, Switch] = {
    "the cursor moves past what can't be read, and nobody looks deep": Switch(
        Setting(rules=Rules(holdings=UpToHere, deep=False)), _cursor, 20
    ),
    "what parses is taken in, whatever its hash": Switch(Setting(cloud=True), _no_hash, 60),
    "nothing is read again": Switch(Setting(cloud=False), _nothing_is_read_again, 60),
    "no hash in names, no look at the own row, and a clone": Switch(
        Setting(cloud=False, clone=True, rules=Rules(folder=Numbered)),
        _no_look_at_the_own_row,
        20,
    ),
    "nobody looks deep": Switch(Setting(clone=True, rules=Rules(deep=False)), _nothing, 60),
    "an error while reading is a proof, and whoever puts a file does not look": Switch(
        Setting(cloud=False, odds=Odds(read_fails=0.5, silent_zeros=0.4, written_over=1.0)),
        _an_error_is_a_proof,
        60,
    ),
    "who is revoked is not cut at a place": Switch(Setting(), _no_cut, 20),
    "what the share's records say now is believed, whatever they said before": Switch(
        Setting(cloud=False, rules=Rules(holdings=AsTheShareHasIt)), _no_number_is_kept, 20
    ),
    "of two records of one number the one that comes first is believed": Switch(
        Setting(cloud=False), _the_first_that_comes, 60
    ),
    "what is heard from years ahead is followed": Switch(
        Setting(), _whoever_is_ahead_is_followed, 20
    ),
    "a clock that is set back turns the order of what is stated": Switch(
        Setting(), _the_wall_is_the_clock, 20
    ),
    "a photo is brought whatever its hash": Switch(
        Setting(cloud=False, rules=WITH_PHOTOS), _no_photo_is_verified, 20, WITH_PHOTOS
    ),
}
