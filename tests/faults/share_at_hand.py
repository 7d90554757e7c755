"""Two enrolled tablets and a share in a real directory, and folders that fail on purpose."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from sync.exchange import exchange
from sync.folder import Folder, Listed
from sync.local_folder import LocalFolder
from sync.meeting import Meeting
from sync.names import ROOT, STORE, SegmentName
from sync.outcome import Outcome
from sync.trust import Trust
from tests.share.holdings import ListHoldings
from tests.share.mine import ROOT as SITE_KEY
from tests.share.mine import STORE_JSON, TRUST
from tests.share.simulated_folder import Killed
from tests.share.strangers import enrolled

HOUR_S = 3600.0


@dataclass
class AtHand:
    """A directory with a share in it, and two tablets of the mine."""

    place: Path
    one: ListHoldings
    other: ListHoldings

    def met(
        self,
        tablet: ListHoldings,
        now_s: float = 0,
        *,
        deep: bool = False,
        folder: Folder | None = None,
    ) -> Outcome:
        """Have a tablet exchange."""
        with_folder = folder or LocalFolder(self.place)
        return exchange(Meeting(with_folder, tablet, now_s=lambda: now_s), deep=deep)

    def file(self, path: str) -> Path:
        """Give where a file of the share lies."""
        return self.place / ROOT / path

    def files(self, ending: str = "") -> list[Path]:
        """Give the files of the share whose names end so."""
        return sorted(it for it in (self.place / ROOT).rglob(f"*{ending}") if it.is_file())

    def segments(self) -> list[Path]:
        """Give the segments that lie in it."""
        return self.files(".seg")


def share_at_hand(place: Path, trust: Trust = TRUST) -> AtHand:
    """Make a share in a directory, with two tablets enrolled."""
    return AtHand(place, *two_enrolled_in(LocalFolder(place), trust))


def two_enrolled_in(folder: Folder, trust: Trust = TRUST) -> tuple[ListHoldings, ListHoldings]:
    """Make a share of a folder, and two tablets that are enrolled in it."""
    one, other = ListHoldings(1, trust), ListHoldings(2, trust)
    folder.put(STORE, STORE_JSON)
    acts = [enrolled(it.tablet_key()) for it in (one, other)]
    name, content = trust.next_record(acts, SITE_KEY)
    folder.put(name.path, content)
    return one, other


def sealed_by(tablet: ListHoldings) -> list[SegmentName]:
    """Give the segments of a tablet's own row."""
    return [it.name for it in tablet.rows().get(tablet.own_tablets()[-1], ())]


class Watched(Folder):
    """A folder in front of another one, for the tests to come between.

    Parameters
    ----------
    folder : Folder
        The one behind.
    killed_before, killed_after : callable
        Tells for the path of a file that is put whether the tablet dies before, or after it.
    """

    def __init__(
        self,
        folder: Folder,
        *,
        killed_before: Callable[[str], bool] = lambda _path: False,
        killed_after: Callable[[str], bool] = lambda _path: False,
    ) -> None:
        self.place = folder.place
        self.behind = folder
        self.puts: list[str] = []
        self._killed_before = killed_before
        self._killed_after = killed_after

    def listing(self, path: str) -> Iterable[Listed]:
        return self.behind.listing(path)

    def read(self, path: str, *, at_most: int) -> bytes:
        return self.behind.read(path, at_most=at_most)

    def put(self, path: str, content: bytes) -> None:
        if self._killed_before(path):
            raise Killed(path)
        self.puts.append(path)
        self.behind.put(path, content)
        if self._killed_after(path):
            raise Killed(path)

    def remove(self, path: str) -> None:
        self.behind.remove(path)
