"""A shared folder that misbehaves as real ones do, by chance and yet the same for one seed.

It reads and writes with errors, kills whoever writes, fills files with zeros with or without
telling, shows old listings and leaves names out. It also watches: whoever changes a good file
of somebody else, or takes one away, has done harm.
"""

from collections import deque
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field
from random import Random

from sync.folder import Folder, Listed, NotThere, NotYet, ShareFull
from sync.names import HEADS, IDENTITY, TABLETS, HeadName, SegmentName, TrustName, short_hash
from sync.tablet_identity import read_tablet_identity

CACHED_FOR_S = 60.0
"""So long a machine reads what it wrote itself from its own memory."""
REMEMBERED = 12
"""So many states of the share may still be shown by a listing."""


class Killed(Exception):
    """The tablet died while it wrote."""


@dataclass(frozen=True)
class Odds:
    """How often what goes wrong, of all calls of a kind."""

    read_fails: float = 0.03
    no_room: float = 0.03
    killed_before: float = 0.02
    killed_after: float = 0.02
    rename_fails_with_zeros: float = 0.02
    silent_zeros: float = 0.02
    blocked: float = 0.02
    listing_is_old: float = 0.15
    listing_leaves_out: float = 0.15
    left_out_of_it: float = 0.10
    not_seen: float = 0.01
    """A file that is there is said not to be."""
    written_over: float = 0.01
    """Whoever puts a file does not see that it is there already."""


NONE_AT_ALL = Odds(**dict.fromkeys(Odds.__dataclass_fields__, 0.0))


@dataclass
class SimulatedShare:
    """The share as it is, whatever its clients see of it."""

    chance: Random
    odds: Odds = field(default_factory=Odds)
    now_s: float = 0.0
    files: dict[str, bytes] = field(default_factory=dict)
    before: "deque[dict[str, bytes]]" = field(default_factory=lambda: deque(maxlen=REMEMBERED))
    writes: int = 0
    harm: list[str] = field(default_factory=list)

    def happens(self, odds: float) -> bool:
        """Throw the dice."""
        return odds > 0 and self.chance.random() < odds

    def be_fair(self) -> None:
        """Keep its word from now on."""
        self.odds = NONE_AT_ALL

    def change(self, path: str, content: bytes | None) -> None:
        """Have other bytes under a name, or none."""
        self.before.append(dict(self.files))
        self.writes += 1
        if content is None:
            self.files.pop(path, None)
        else:
            self.files[path] = content

    def there(self) -> dict[str, bytes]:
        """Give the files that it holds now."""
        return dict(self.files)

    def put_back(self, files: dict[str, bytes]) -> None:
        """Be as a backup has it."""
        self.before.clear()
        self.files = dict(files)


class SimulatedFolder(Folder):
    """One machine's sight of the share.

    Parameters
    ----------
    share : SimulatedShare
        What it looks at.
    ids : callable
        Gives the tablet ids that its machine goes by, whose files it may change.
    """

    def __init__(self, share: SimulatedShare, ids: Callable[[], Collection[str]]) -> None:
        self.place = "the simulated share"
        self.asked: list[str] = []
        self.written: list[str] = []
        self._share = share
        self._ids = ids
        self._cached: dict[str, tuple[bytes, float]] = {}

    def forget(self) -> None:
        """Start again with nothing in memory."""
        self._cached.clear()

    def listing(self, path: str) -> Iterable[Listed]:
        self.asked.append(f"list {path}")
        share, files = self._share, self._share.files
        if share.before and share.happens(share.odds.listing_is_old):
            files = share.chance.choice(share.before)
        found = listed(files, path)
        if share.happens(share.odds.listing_leaves_out):
            found = [it for it in found if not share.happens(share.odds.left_out_of_it)]
        return found

    def read(self, path: str, *, at_most: int) -> bytes:
        self.asked.append(f"read {path}")
        share = self._share
        if share.happens(share.odds.read_fails):
            raise NotYet(path)
        cached = self._cached.get(path)
        if cached and abs(share.now_s - cached[1]) < CACHED_FOR_S and share.odds != NONE_AT_ALL:
            return cached[0][: at_most + 1]
        if path not in share.files or share.happens(share.odds.not_seen):
            raise NotThere(path)
        return share.files[path][: at_most + 1]

    def put(self, path: str, content: bytes) -> None:
        self.asked.append(f"put {path}")
        share, odds = self._share, self._share.odds
        if share.happens(odds.killed_before):
            raise Killed(path)
        if share.happens(odds.no_room):
            raise ShareFull(self.place)
        if share.happens(odds.blocked):
            raise NotYet(path)
        if share.files.get(path) != content or share.happens(odds.written_over):
            self._write(path, content)
        if share.happens(odds.killed_after):
            raise Killed(path)

    def _write(self, path: str, content: bytes) -> None:
        share, odds = self._share, self._share.odds
        self._watch(path, content)
        self.written.append(path)
        if share.happens(odds.rename_fails_with_zeros):
            share.change(path, bytes(len(content)))
            raise NotYet(path)
        if share.happens(odds.silent_zeros):
            share.change(path, lost(content, share.chance))
            self._cached[path] = content, share.now_s
            return
        share.change(path, content)

    def remove(self, path: str) -> None:
        self.asked.append(f"remove {path}")
        if path in self._share.files:
            if owner(path) not in self._ids():
                self._share.harm.append(f"{path} was taken away")
            self._share.change(path, None)

    def _watch(self, path: str, content: bytes) -> None:
        there = self._share.files.get(path)
        if there is not None and harms(path, there, content, self._ids()):
            self._share.harm.append(f"{path} was good and was changed")


def lost(content: bytes, chance: Random) -> bytes:
    """Give what a share kept of a file that it lost without a word: zeros, a part, nothing."""
    return chance.choice((bytes(len(content)), content[: len(content) // 2], b""))


def listed(files: Mapping[str, bytes], path: str) -> list[Listed]:
    """Give the names right below a folder."""
    found: dict[str, int] = {}
    start, length = path + "/", len(path) + 1
    for name, content in files.items():
        if name.startswith(start):
            first, deeper, _ = name[length:].partition("/")
            found[first] = 0 if deeper else len(content)
    return [Listed(name, size) for name, size in found.items()]


def harms(path: str, there: bytes, content: bytes, ids: Collection[str]) -> bool:
    """Tell whether a good file of somebody else is changed by putting other bytes there."""
    if path.startswith(f"{HEADS}/"):
        return owner(path) not in ids
    return is_good(path, there) and not is_good(path, content)


def is_good(path: str, content: bytes) -> bool:
    """Tell whether a file's bytes are what its name says."""
    folder, _, file = path.rpartition("/")
    if file == IDENTITY:
        return read_tablet_identity(folder.rpartition("/")[2], content) is not None
    named = SegmentName.of_file("", file) or TrustName.of_file(file)
    return named is not None and named.hash16 == short_hash(content)


def owner(path: str) -> str | None:
    """Give the tablet whose file it is; None for nobody's."""
    if path.startswith(f"{HEADS}/"):
        head = HeadName.of_file(path.rpartition("/")[2])
        return head.tablet if head else None
    return path.split("/")[1] if path.startswith(f"{TABLETS}/") else None
