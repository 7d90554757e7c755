"""The names of everything in the shared folder, and nothing else's.

A name carries what it is the name of: tablet, number, hash of the bytes. Whatever does not
match is somebody else's and is left alone. Names are lower case, at most `LONGEST` characters
deep, and no system reserves one of them (`con`, `nul`, …): many shares fold case, mangle and
reserve.
"""

import hashlib
import re
from dataclasses import dataclass
from typing import Final, Self

ROOT: Final = "lastrow1"
STORE: Final = "store.json"
TRUST: Final = "trust"
TABLETS: Final = "tablets"
SCOPE: Final = "mine"
PHOTOS: Final = "photos"
HEADS: Final = f"heads/{SCOPE}"
IDENTITY: Final = "id.json"
SHORT_HASH: Final = 16
IN_ONE_BUCKET: Final = 1000
"""So many segments lie in one folder: clients slow down over more."""
LONGEST: Final = len(f"{ROOT}/{PHOTOS}/202601/00/{'0' * 64}.webp")
"""No path of ours is longer, from the root on: a photo's."""

_SEGMENT = re.compile(r"([0-9]{8})-([0-9a-f]{16})\.seg")
_HEAD = re.compile(r"([a-z2-7]{16})\.([0-9]{8})\.([0-9a-f]{16})\.head")
_TRUST = re.compile(r"([0-9]{6})-([0-9a-f]{16})\.trust")
_PHOTO = re.compile(r"([0-9a-f]{64})\.(jpg|png|webp)")
_MONTH = re.compile(r"[0-9]{6}")
_TABLET = re.compile(r"[a-z2-7]{16}")
_BUCKET = re.compile(r"[0-9]{6}")
_TEMPORARY = re.compile(r"t-[0-9a-f]{16}\.tmp")


def short_hash(content: bytes) -> str:
    """Give the first 16 hexadecimal digits of the SHA-256 of a file's bytes."""
    return hashlib.sha256(content).hexdigest()[:SHORT_HASH]


@dataclass(frozen=True, order=True)
class SegmentName:
    """One sealed segment: whose, which number, which bytes."""

    tablet: str
    seq: int
    hash16: str

    @classmethod
    def of_file(cls, tablet: str, name: str) -> Self | None:
        """Read a file's name in a tablet's bucket; None for anything else."""
        match = _SEGMENT.fullmatch(name)
        return cls(tablet, int(match[1]), match[2]) if match else None

    @property
    def file(self) -> str:
        """Its file's name, e.g. `00000012-8f14e45fceea167a.seg`."""
        return f"{self.seq:08d}-{self.hash16}.seg"

    @property
    def path(self) -> str:
        """Where it lies below the root."""
        return f"{bucket(self.tablet, self.seq)}/{self.file}"


@dataclass(frozen=True, order=True)
class HeadName:
    """The last segment of a tablet, told by a file's name alone."""

    tablet: str
    seq: int
    hash16: str

    @classmethod
    def of_file(cls, name: str) -> Self | None:
        """Read a file's name in the folder of heads; None for anything else."""
        match = _HEAD.fullmatch(name)
        return cls(match[1], int(match[2]), match[3]) if match else None

    @property
    def segment(self) -> SegmentName:
        """The segment that it tells of."""
        return SegmentName(self.tablet, self.seq, self.hash16)

    @property
    def path(self) -> str:
        """Where it lies below the root."""
        return f"{HEADS}/{self.tablet}.{self.seq:08d}.{self.hash16}.head"


@dataclass(frozen=True, order=True)
class TrustName:
    """One numbered record of who is believed."""

    number: int
    hash16: str

    @classmethod
    def of_file(cls, name: str) -> Self | None:
        """Read a file's name in the folder of trust; None for anything else."""
        match = _TRUST.fullmatch(name)
        return cls(int(match[1]), match[2]) if match else None

    @property
    def file(self) -> str:
        """Its file's name, e.g. `000007-8f14e45fceea167a.trust`."""
        return f"{self.number:06d}-{self.hash16}.trust"

    @property
    def path(self) -> str:
        """Where it lies below the root."""
        return f"{TRUST}/{self.file}"


@dataclass(frozen=True, order=True)
class PhotoName:
    """One photograph: the month under which it lies, and the hash of its bytes."""

    month: str
    sha256: str
    ending: str

    @classmethod
    def of_file(cls, month: str, name: str) -> Self | None:
        """Read a file's name in a month's folder; None for anything else."""
        match = _PHOTO.fullmatch(name)
        return cls(month, match[1], match[2]) if match and _MONTH.fullmatch(month) else None

    @property
    def path(self) -> str:
        """Where it lies below the root."""
        return f"{PHOTOS}/{self.month}/{self.sha256[:2]}/{self.sha256}.{self.ending}"


def name_at(path: str) -> SegmentName | PhotoName | None:
    """Read which segment or photo lies at a path; None for anything else."""
    whose, _, file = path.partition("/")[2].partition("/")
    file = file.rpartition("/")[2]
    names = (SegmentName.of_file(whose, file), PhotoName.of_file(whose, file))
    return next((it for it in names if it is not None and it.path == path), None)


def bucket(tablet: str, seq: int) -> str:
    """Give the folder in which a tablet's segment lies."""
    return f"{TABLETS}/{tablet}/{SCOPE}/{seq // IN_ONE_BUCKET:06d}"


def buckets_of(tablet: str) -> str:
    """Give the folder that holds a tablet's buckets."""
    return f"{TABLETS}/{tablet}/{SCOPE}"


def identity(tablet: str) -> str:
    """Give the file in which a tablet says who it is."""
    return f"{TABLETS}/{tablet}/{IDENTITY}"


def is_tablet(name: str) -> bool:
    """Whether a folder is named for a tablet."""
    return _TABLET.fullmatch(name) is not None


def is_bucket(name: str) -> bool:
    """Whether a folder holds a thousand of a tablet's segments."""
    return _BUCKET.fullmatch(name) is not None


def is_temporary(name: str) -> bool:
    """Whether a file is one that somebody is writing, or was."""
    return _TEMPORARY.fullmatch(name) is not None
