"""What a disk may hold after the power was cut at any moment of a job, from a trace of the job.

A real child does the job while every call that changes the disk is written down, bytes and
all. The disk is then modelled: a write reaches it for sure when its file is synced, before
that as a whole, in part, or not at all, and in any order; names change in the order in which
they were changed, as a file system with a journal does it, and for sure when a folder is synced.

Run as a program of its own it is that child: `python -m tests.faults.power_cuts JOB FOLDER`.
"""

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from fieldapp.store import engine
from fieldapp.store.journal import Journal
from tests.faults import jobs
from tests.not_tried import not_tried

ROOT = Path(__file__).resolve().parents[2]
SECTOR = 512
ACKNOWLEDGED = "acknowledged"
CHANGES = ("openat", "write", "pwrite64", "fsync", "fdatasync", "ftruncate", "unlink", "rename")
"""Folders are made and taken away with what lies in them."""
_LINE = re.compile(r"(?:\d+\s+)?(\w+)\((.*)\)\s*= (\d+)")
_BYTES = r"(?:\\x[0-9a-f]{2})*"
_PATH = re.compile(f"<({_BYTES})>")
_TEXT = re.compile(f'"({_BYTES})"')
_LAST_NUMBER = re.compile(r"(\d+)$")

Names = dict[str, int]


@dataclass(frozen=True)
class Call:
    """One call that changed the disk, or waited for it."""

    name: str
    paths: tuple[str, ...]
    content: bytes = b""
    number: int = 0
    """Where it writes, or how long the file is to be."""


@dataclass
class _File:
    kept: bytes = b""
    pending: list[tuple[int, bytes | None]] = field(default_factory=list)
    """Writes, and with None cuts to a length."""

    def after(self, reached: Callable[[bytes], bytes | None]) -> bytes:
        """Give its bytes where only so much of each write has reached the disk."""
        content = bytearray(self.kept)
        for at, written in self.pending:
            if written is None:
                if reached(b"") is not None:
                    del content[at:]
                continue
            piece = reached(written)
            if piece:
                content.extend(bytes(max(0, at - len(content))))
                content[at : at + len(piece)] = piece
        return bytes(content)


class Disk:
    """The files of a folder: what the disk holds for sure, and what the system means to write.

    Parameters
    ----------
    folder : Path
        As it is before the job; all of it has been on the disk for long.
    """

    def __init__(self, folder: Path) -> None:
        self._root = str(folder)
        self._files: dict[int, _File] = {}
        self._names: Names = {}
        self._kept: Names = {}
        self._changed: list[tuple[str, Names]] = []
        self.acknowledged = 0
        self._acts: dict[str, Callable[..., None]] = {
            "openat": self._open,
            "write": self._append,
            "pwrite64": self._write,
            "ftruncate": self._cut,
            "fsync": self._sync,
            "fdatasync": self._sync,
            "unlink": self._remove,
            "rename": self._rename,
        }
        for file in folder.rglob("*"):
            if file.is_file():
                self._make(self._short(str(file)), file.read_bytes())
        self._kept = dict(self._names)

    def take(self, call: Call) -> bool:
        """Take the next call in; tell whether it has to do with these files."""
        if call.paths[0].endswith(ACKNOWLEDGED):
            self.acknowledged += call.name == "write"
            return call.name == "write"
        paths = [path for it in call.paths if (path := self._short(it)) is not None]
        act = self._acts.get(call.name)
        if act is None or len(paths) < len(call.paths):
            return False
        act(call, *paths)
        return True

    def after_a_cut(self, chance: Random | None, *, all_of_it: bool = False) -> dict[str, bytes]:
        """Give what may be found after a cut: all that was meant to be written, or by chance."""

        def reached(written: bytes) -> bytes | None:
            if chance is None:
                return written if all_of_it else None
            part = chance.random()
            if part < 0.4:
                return None
            sectors = len(written) // SECTOR
            return written if part > 0.7 else written[: chance.randrange(sectors + 1) * SECTOR]

        changed = [names for _, names in self._changed]
        if chance is None:
            names = self._names if all_of_it else self._kept
        else:
            names = chance.choice([self._kept, *changed])
        return {name: self._files[number].after(reached) for name, number in names.items()}

    # --- calls ------------------------------------------------------------------------------

    def _open(self, call: Call, path: str) -> None:
        if call.number and path not in self._names:
            self._make(path, b"")
            self._change(path)

    def _write(self, call: Call, path: str) -> None:
        if path in self._names:
            self._files[self._names[path]].pending.append((call.number, call.content))

    def _append(self, call: Call, path: str) -> None:
        if path in self._names:
            file = self._files[self._names[path]]
            at = len(file.after(lambda written: written))
            file.pending.append((at, call.content))

    def _cut(self, call: Call, path: str) -> None:
        if path in self._names:
            self._files[self._names[path]].pending.append((call.number, None))

    def _sync(self, _call: Call, path: str) -> None:
        if path in self._names:
            file = self._files[self._names[path]]
            file.kept, file.pending = file.after(lambda written: written), []
            return
        last = max((n for n, it in enumerate(self._changed) if it[0] == path), default=None)
        if last is not None:
            self._kept = self._changed[last][1]
            del self._changed[: last + 1]

    def _remove(self, _call: Call, path: str) -> None:
        if self._names.pop(path, None) is not None:
            self._change(path)

    def _rename(self, _call: Call, old: str, new: str) -> None:
        moved = {it: n for it, n in self._names.items() if it == old or it.startswith(old + "/")}
        for it, number in moved.items():
            del self._names[it]
            self._names[new + it[len(old) :]] = number
        self._change(new)

    # --- inside -----------------------------------------------------------------------------

    def _short(self, path: str) -> str | None:
        if path != self._root and not path.startswith(self._root + "/"):
            return None
        return path[len(self._root) + 1 :]

    def _make(self, path: str | None, content: bytes) -> None:
        number = len(self._files)
        self._files[number] = _File(content)
        self._names[path or ""] = number

    def _change(self, path: str) -> None:
        self._changed.append((path.rpartition("/")[0], dict(self._names)))


def traced(job: str, folder: Path, journal: Journal | None = None) -> list[Call]:
    """Do a job in a child, and give the calls by which it changed the disk."""
    if not shutil.which("strace"):
        not_tried("cutting the power at each write", "strace is not installed")
    seen = folder.with_name("seen")
    command = ["strace", "-f", "-y", "-xx", "-s", "1000000", "-o", str(seen)]
    command += ["-e", f"trace={','.join(CHANGES)}", sys.executable, "-m", __name__]
    words = [job, str(folder), *((journal.mode, journal.synchronous) if journal else ())]
    subprocess.run([*command, *words], cwd=ROOT, check=True)  # noqa: S603
    return list(_calls(seen.read_text("ascii", "replace")))


def laid_out(found: dict[str, bytes], folder: Path) -> Path:
    """Lay what was found after a cut into a new folder."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    for name, content in found.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return folder


def _calls(trace: str) -> Iterator[Call]:
    for line in trace.splitlines():
        match = _LINE.match(line)
        if match is None:
            continue
        name, words, _ = match.groups()
        if name == "openat":
            yield Call(
                name, (_plain(_TEXT.findall(words)[0]).decode(),), number="O_CREAT" in words
            )
        elif name in ("write", "pwrite64"):
            content = _plain((_TEXT.findall(words) or [""])[0])
            yield Call(name, (_path(words),), content, _last(words) if name == "pwrite64" else 0)
        elif name in ("fsync", "fdatasync", "ftruncate"):
            yield Call(name, (_path(words),), number=_last(words))
        else:
            paths = tuple(_plain(it).decode() for it in _TEXT.findall(words))
            yield Call(name, paths)


def _plain(text: str) -> bytes:
    return bytes.fromhex(text.replace("\\x", ""))


def _path(words: str) -> str:
    found = _PATH.findall(words)
    return _plain(found[0]).decode("utf-8", "replace") if found else ""


def _last(words: str) -> int:
    found = _LAST_NUMBER.search(words)
    return int(found[1]) if found else 0


def _do(job: str, folder: Path, journal: tuple[str, ...]) -> None:
    if journal:
        wanted = Journal(*journal)
        setattr(engine, "journal_for", lambda _version: wanted)  # noqa: B010 - a child's own
    said = os.open(folder.with_name(ACKNOWLEDGED), os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    jobs.JOBS[job](folder, lambda what: os.write(said, what.encode() + b"\n"))


if __name__ == "__main__":
    _do(sys.argv[1], Path(sys.argv[2]), tuple(sys.argv[3:]))
