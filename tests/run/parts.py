"""What is run in one process, and in which order.

Files of window tests go by length, long ones alone and short ones some to a process, since
starting a window takes longer than many of them. The rest goes by subject, in parts that are
short enough for lanes to end together.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from tests.run.place import ROOT

WINDOWS = Path("tests/ui")
TOGETHER_BYTES = 15_000
"""As much is run in one process: about as long as the longest file of its own."""
UNIT = Path("tests/unit")
OF_UNIT = (
    ("unit: work", "work/**/test_*.py"),
    ("unit: terminal", "cli/**/test_*.py"),
    ("unit: office, store, share", "[os]*/**/test_*.py"),
    ("unit", "**/test_*.py"),
)
PLAIN = (
    ("property, reference", ("tests/property", "tests/reference")),
    ("house", ("tests/house",)),
)
FAULTS = Path("tests/faults")
OF_FAULTS = (
    ("faults: killed", "**/test_killed*.py"),
    ("faults: shares", "**/test_s*.py"),
    ("faults", "**/test_*.py"),
)
"""A file belongs to the first that fits."""
DISK = ("tests/faults", "tests/house")
"""Where tests need a real disk, or run what they install."""
KILLED_OR_SHARED = ("tests/faults/test_killed", "tests/faults/test_s")
"""Not those: a kill leaves what was written, and a share what was put, wherever they lie."""
WAITS = ("tests/faults",)
"""Where tests wait for the disk, for servers and for children."""


@dataclass(frozen=True)
class Part:
    """One process of tests."""

    name: str
    paths: tuple[str, ...]
    window: bool

    @property
    def disk(self) -> bool:
        """Whether any of it needs a real disk."""
        return any(
            path == "tests" or (path.startswith(DISK) and not path.startswith(KILLED_OR_SHARED))
            for path in self.paths
        )

    @property
    def waits(self) -> bool:
        """Whether all of it is about the disk."""
        return all(path.startswith(WAITS) for path in self.paths)


def parts_of(words: list[str], root: Path = ROOT) -> tuple[list[Part], list[str]]:
    """Split a command's words into the parts to run and the options for all of them."""
    chosen = [word for word in words if is_path(word, root)]
    options = [word for word in words if word not in chosen]
    return (some(chosen, root) if chosen else everything(root)), options


def is_path(word: str, root: Path) -> bool:
    """Tell a file, folder or single test from an option and its value."""
    path = word.partition("::")[0]
    return not word.startswith("-") and (root / path).exists()


def everything(root: Path) -> list[Part]:
    """Give every part there is."""
    plain = [
        Part(name, there, window=False)
        for name, paths in PLAIN
        if (there := tuple(path for path in paths if (root / path).is_dir()))
    ]
    return [
        *plain,
        *_in_parts(root, UNIT, OF_UNIT),
        *_in_parts(root, FAULTS, OF_FAULTS),
        *windows((root / WINDOWS).glob("**/test_*.py"), root),
    ]


def _in_parts(root: Path, folder: Path, named: tuple[tuple[str, str], ...]) -> list[Part]:
    parts: list[Part] = []
    taken: set[Path] = set()
    for name, pattern in named:
        files = sorted(set((root / folder).glob(pattern)) - taken)
        taken.update(files)
        if files:
            paths = tuple(path.relative_to(root).as_posix() for path in files)
            parts.append(Part(name, paths, window=False))
    return parts


def some(chosen: list[str], root: Path) -> list[Part]:
    """Give the parts that these paths belong to."""
    plain = tuple(word for word in chosen if not _has_windows(word, root))
    parts = [Part("chosen", plain, window=False)] if plain else []
    for word in chosen:
        if _has_windows(word, root):
            parts += _windows_of(word, root)
    return parts


def _windows_of(word: str, root: Path) -> list[Part]:
    folder = root / word
    if folder.is_dir():
        return windows(folder.glob("**/test_*.py"), root)
    return [Part(word, (word,), window=True)]


def windows(files: Iterable[Path], root: Path) -> list[Part]:
    """Give the parts of window tests, the longest files first, short ones together."""
    by_length = sorted(files, key=lambda path: (-path.stat().st_size, path))
    together: list[list[Path]] = []
    for path in by_length:
        if not together or _bytes_of([*together[-1], path]) > TOGETHER_BYTES:
            together.append([])
        together[-1].append(path)
    return [_windows_part(some, root) for some in together]


def _windows_part(files: list[Path], root: Path) -> Part:
    names = tuple(path.relative_to(root).as_posix() for path in files)
    others = f" and {len(names) - 1} more" if len(names) > 1 else ""
    return Part(names[0] + others, names, window=True)


def _bytes_of(files: list[Path]) -> int:
    return sum(path.stat().st_size for path in files)


def _has_windows(word: str, root: Path) -> bool:
    path = (root / word.partition("::")[0]).resolve()
    return path.is_relative_to((root / WINDOWS).resolve())
