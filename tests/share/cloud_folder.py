"""A shared folder that another program carries to and from a cloud, file by file, in any order.

Each machine has a copy of its own. What is put there goes up some time later, what others put
comes down some time later, perhaps a part of it first. Two that wrote different bytes under
one name both keep theirs, one of them under a name with "conflicted copy" in it.
"""

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, field
from random import Random

from sync.folder import Folder, Listed, NotThere, NotYet, ShareFull
from tests.share.simulated_folder import Killed, Odds, harms, listed, owner

COMES_IN_PARTS = 0.10
MOVES = 0.5
"""So often one file is carried when the cloud's program looks at it."""


@dataclass
class Cloud:
    """What the cloud holds: bytes by path, None where a file was taken away, and a version."""

    chance: Random
    odds: Odds = field(default_factory=Odds)
    files: dict[str, bytes | None] = field(default_factory=dict)
    version: dict[str, int] = field(default_factory=dict)
    harm: list[str] = field(default_factory=list)
    fair: bool = False
    writes: int = 0
    now_s: float = 0.0

    def happens(self, odds: float) -> bool:
        """Throw the dice."""
        return odds > 0 and not self.fair and self.chance.random() < odds

    def change(self, path: str, content: bytes | None) -> None:
        """Take in another version of a file."""
        self.files[path] = content
        self.version[path] = self.version.get(path, 0) + 1

    def there(self) -> dict[str, bytes]:
        """Give the files that it holds now."""
        return {path: it for path, it in self.files.items() if it is not None}

    def be_fair(self) -> None:
        """Keep its word from now on."""
        self.fair = True

    def put_back(self, files: dict[str, bytes]) -> None:
        """Be as a backup has it."""
        for path in {*self.files, *files}:
            if self.files.get(path) != files.get(path):
                self.change(path, files.get(path))


class CloudFolder(Folder):
    """One machine's copy of what is in the cloud.

    Parameters
    ----------
    cloud : Cloud
        What it is a copy of.
    ids : callable
        Gives the tablet ids that its machine goes by, whose files it may change.
    """

    def __init__(self, cloud: Cloud, ids: Callable[[], Collection[str]]) -> None:
        self.place = "a folder in the cloud"
        self.asked: list[str] = []
        self.written: list[str] = []
        self._cloud = cloud
        self._ids = ids
        self._files: dict[str, bytes] = {}
        self._seen: dict[str, int] = {}
        """The version that each file here was, or came from."""
        self._to_go_up: dict[str, None] = {}

    def forget(self) -> None:
        """Start again: what lies in the folder lies there still."""

    def listing(self, path: str) -> Iterable[Listed]:
        self.asked.append(f"list {path}")
        return [*listed(self._files, path), Listed("desktop.ini", 60)]

    def read(self, path: str, *, at_most: int) -> bytes:
        self.asked.append(f"read {path}")
        if self._cloud.happens(self._cloud.odds.read_fails):
            raise NotYet(path)
        if path not in self._files:
            raise NotThere(path)
        return self._files[path][: at_most + 1]

    def put(self, path: str, content: bytes) -> None:
        self.asked.append(f"put {path}")
        cloud, odds = self._cloud, self._cloud.odds
        if cloud.happens(odds.killed_before):
            raise Killed(path)
        if cloud.happens(odds.no_room):
            raise ShareFull(self.place)
        there = self._files.get(path)
        if there != content:
            if there is not None and harms(path, there, content, self._ids()):
                cloud.harm.append(f"{path} was good and was changed")
            self._change(path, content)
        if cloud.happens(odds.killed_after):
            raise Killed(path)

    def remove(self, path: str) -> None:
        self.asked.append(f"remove {path}")
        if path in self._files:
            if owner(path) not in self._ids():
                self._cloud.harm.append(f"{path} was taken away")
            self._change(path, None)

    def carry(self) -> None:
        """Let the cloud's program carry some files up and some down; all of them in a fair one."""
        for path in self._shuffled(self._to_go_up):
            self._carry_up(path)
        newer = [path for path, at in self._cloud.version.items() if at > self._seen.get(path, 0)]
        for path in self._shuffled(newer):
            self._carry_down(path)

    def _shuffled(self, paths: Iterable[str]) -> list[str]:
        found = sorted(paths)
        if not self._cloud.fair:
            self._cloud.chance.shuffle(found)
            found = [path for path in found if self._cloud.happens(MOVES)]
        return found

    def _change(self, path: str, content: bytes | None) -> None:
        self.written.append(path)
        self._cloud.writes += 1
        self._set(path, content)
        self._to_go_up[path] = None

    def _set(self, path: str, content: bytes | None) -> None:
        if content is None:
            self._files.pop(path, None)
        else:
            self._files[path] = content

    def _carry_up(self, path: str) -> None:
        cloud, ours = self._cloud, self._files.get(path)
        del self._to_go_up[path]
        if ours == cloud.files.get(path):
            self._seen[path] = cloud.version.get(path, 0)
        elif self._seen.get(path, 0) == cloud.version.get(path, 0):
            cloud.change(path, ours)
            self._seen[path] = cloud.version[path]
        elif ours is not None:
            stem, dot, kind = path.rpartition(".")
            cloud.change(f"{stem} (conflicted copy){dot}{kind}", ours)

    def _carry_down(self, path: str) -> None:
        if path in self._to_go_up:
            return
        cloud, content = self._cloud, self._cloud.files[path]
        if content is not None and cloud.happens(COMES_IN_PARTS):
            self._set(path, content[: cloud.chance.randrange(len(content) + 1)])
            return
        self._set(path, content)
        self._seen[path] = cloud.version[path]
