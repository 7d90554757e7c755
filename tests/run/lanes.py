"""Two lanes side by side: one for windows, one at a time; one for everything else."""

import re
import subprocess
import sys
import threading
import time
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from tests.run.outcome import Outcome, outcome
from tests.run.parts import Part
from tests.run.place import ROOT

PART_ENDS_WITHIN_S = 25 * 60


@dataclass(frozen=True)
class Lanes:
    """Runs parts of the tests as processes, and shows what they say without mixing lines."""

    environ: dict[str, str]
    screen: dict[str, str]
    """What a part with windows is given besides."""
    options: list[str]
    folder: Path
    say: Callable[[str], None]

    def run(self, parts: list[Part]) -> list[Outcome]:
        """Run every part. The lane of windows helps with the rest when it is done."""
        windows = deque(part for part in parts if part.window)
        plain = deque(part for part in parts if not part.window)
        outcomes: list[Outcome] = []
        lanes = [
            threading.Thread(target=self._lane, args=(queues, outcomes), daemon=True)
            for queues in ((plain,), (windows, plain))
        ]
        for lane in lanes:
            lane.start()
        for lane in lanes:
            lane.join()
        return sorted(outcomes, key=lambda outcome: parts.index(outcome.part))

    def _lane(self, queues: tuple[deque[Part], ...], outcomes: list[Outcome]) -> None:
        for queue in queues:
            while part := _first(queue):
                outcomes.append(self._run(part, live=len(queues) == 1))

    def _run(self, part: Part, *, live: bool) -> Outcome:
        """Run one part; a live one is shown line by line, another one as a whole at its end."""
        report = self.folder / f"{re.sub(r'[^a-z0-9]+', '-', part.name)}.xml"
        started = time.monotonic()
        child = self._start(part, report)
        limit = threading.Timer(PART_ENDS_WITHIN_S, child.kill)
        limit.start()
        held = [] if live else [f"\n=== {part.name}"]
        for line in child.stdout or ():
            self.say(line.rstrip()) if live else held.append(line.rstrip())
        code = child.wait()
        limit.cancel()
        if held:
            self.say("\n".join(held))
        return outcome(part, report, code, time.monotonic() - started)

    def _start(self, part: Part, report: Path) -> "subprocess.Popen[str]":
        command = [sys.executable, "-m", "pytest", *part.paths, *self.options]
        command += ["--continue-on-collection-errors", f"--junitxml={report}"]
        command += ["--no-header", "--durations=8", "--durations-min=2"]
        return subprocess.Popen(  # noqa: S603
            command,
            cwd=ROOT,
            env={**self.environ, **(self.screen if part.window else {})},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            errors="replace",
        )


def _first(queue: deque[Part]) -> Part | None:
    try:
        return queue.popleft()
    except IndexError:
        return None
