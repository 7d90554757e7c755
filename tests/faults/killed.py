"""Kills a job again and again, each time from the same start, and hands over what is left."""

import json
import random
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from itertools import count
from pathlib import Path
from typing import Protocol

from fieldapp.store import Store, open_store
from tests.faults.jobs import JOBS
from tests.faults.nursery import ACKNOWLEDGED, COMMIT, STATEMENT, Ended, Order

ROOT = Path(__file__).resolve().parents[2]
CALLS = ("fsync", "fdatasync", "pwrite64", "unlink", "ftruncate", "rename")
"""The steps on the disk by which SQLite and we make something last."""
WRITE, WRITES_AT_ONCE = "pwrite64", 3
"""Of writes in a row each third is enough: none of them lasts before the next sync."""


@dataclass
class Nursery:
    """The warmed parent, seen from the test."""

    process: "subprocess.Popen[str]"

    def raised(self, order: Order) -> Ended:
        """Raise one child and wait for its end."""
        assert self.process.stdin
        assert self.process.stdout
        self.process.stdin.write(json.dumps(asdict(order)) + "\n")
        self.process.stdin.flush()
        answer = self.process.stdout.readline()
        assert answer, "the nursery died"
        ended = Ended(**json.loads(answer))
        assert ended.killed or ended.code == 0, f"the job itself failed: {order}"
        return ended


@contextmanager
def nursery() -> Iterator[Nursery]:
    """Start the warmed parent."""
    command = [sys.executable, "-m", "tests.faults.nursery"]
    with subprocess.Popen(  # noqa: S603
        command, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as process:
        yield Nursery(process)
        assert process.stdin
        process.stdin.close()


@dataclass(frozen=True)
class Trial:
    """A job, and the folder in which it always starts again."""

    job: str
    start: Path
    place: Path
    nursery: Nursery
    calls: tuple[str, ...] = CALLS
    """Before which it is killed, one after the other."""
    furnish: Callable[[Path], None] = lambda _folder: None
    """Makes ready what is not in the folder, before each start."""

    @property
    def folder(self) -> Path:
        """Where the child works; what it left is found here."""
        return self.place / "home"

    def acknowledged(self) -> list[str]:
        """Give what the child was told is kept before it died."""
        said = self.place / ACKNOWLEDGED
        return said.read_text().splitlines() if said.exists() else []

    def killed_at_steps(self, least_kills: int) -> Iterator[str]:
        """Kill before each step on the disk, then once more from the first until it is enough."""
        done = 0
        for passed in count():
            for call in self.calls:
                apart = WRITES_AT_ONCE if call == WRITE else 1
                for step in count(1 + passed % apart, apart):
                    if passed and done >= least_kills:
                        return
                    if not self._run(call=call, step=step).killed:
                        break
                    done += 1
                    yield f"before {call} {step}"

    def killed_at_statements(self) -> Iterator[str]:
        """Kill before every single statement that is handed to the database."""
        return self._killed_at(STATEMENT)

    def killed_at_commits(self) -> Iterator[str]:
        """Kill before every single commit of what was written."""
        return self._killed_at(COMMIT)

    def _killed_at(self, what: str) -> Iterator[str]:
        for step in count(1):
            if not self._run(call=what, step=step).killed:
                return
            yield f"before {what} {step}"

    def killed_at_random(self, kills: int, seed: int) -> Iterator[str]:
        """Kill at moments drawn evenly over the time that the job takes."""
        chance = random.Random(seed)  # noqa: S311 - moments, not secrets
        lasts_s = max(self._run().lasted_s for _ in range(3))
        done = 0
        while done < kills:
            after_s = chance.uniform(0, lasts_s)
            if self._run(after_s=after_s).killed:
                done += 1
                yield f"after {after_s * 1000:.2f} ms (seed {seed})"

    def again(self) -> None:
        """Do the job once more where it was cut short, to its end and in this process."""
        JOBS[self.job](self.folder, lambda _what: None)

    def _run(self, call: str = "", step: int = 0, after_s: float | None = None) -> Ended:
        shutil.rmtree(self.place, ignore_errors=True)
        self.place.mkdir()
        if self.start.exists():
            shutil.copytree(self.start, self.folder)
        self.furnish(self.folder)
        return self.nursery.raised(Order(self.job, str(self.folder), call, step, after_s))


def prepared(folder: Path, prepare: Callable[[Store], None]) -> Path:
    """Make the store from which every child of a trial starts."""
    with open_store(folder) as store:
        prepare(store)
    return folder


Killing = Callable[[Trial], Iterator[str]]
"""Kills a trial's job again and again, and tells of each time what it died of."""


class MakeTrial(Protocol):
    """Makes the trial of a job, from a store that is prepared for it."""

    def __call__(
        self, job: str, prepare: Callable[[Store], None], *, calls: tuple[str, ...] = CALLS
    ) -> Trial: ...
