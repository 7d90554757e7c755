"""Lanes side by side: one begins with what computes, one with windows, one at the disk."""

import re
import subprocess
import sys
import threading
import time
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from tests.run.hanging import OF_A_TEST, PART_ENDS_WITHIN_S, ends, in_a_group
from tests.run.outcome import Outcome, outcome
from tests.run.parts import Part
from tests.run.place import ROOT

Queue = deque[Part]
Variables = dict[str, str]


@dataclass(frozen=True)
class Lane:
    """What it takes parts from, one queue after the other, and the screen that it gives them."""

    queues: tuple[Queue, ...]
    screen: Variables = field(default_factory=dict)
    live: bool = False
    """Whether it shows line by line what its parts say; another one shows each at its end."""


@dataclass(frozen=True)
class Lanes:
    """Runs parts of the tests as processes, and shows what they say without mixing lines."""

    environ: Variables
    quick: Variables
    """What a part is given besides that isn't about the disk."""
    screens: list[Variables]
    """What parts with windows are given besides; one window at a time to a screen."""
    options: list[str]
    folder: Path
    say: Callable[[str], None]
    ends_within_s: float = PART_ENDS_WITHIN_S
    running: list["subprocess.Popen[str]"] = field(default_factory=list)

    def run(self, parts: list[Part]) -> list[Outcome]:
        """Run every part, on as many lanes as there are."""
        outcomes: list[Outcome] = []
        lanes = [
            threading.Thread(target=self._lane, args=(lane, outcomes), daemon=True)
            for lane in lanes_for(parts, self.screens)
        ]
        try:
            for lane in lanes:
                lane.start()
            for lane in lanes:
                lane.join()
        finally:
            for child in self.running:
                ends(child)
        return sorted(outcomes, key=lambda outcome: parts.index(outcome.part))

    def _lane(self, lane: Lane, outcomes: list[Outcome]) -> None:
        for queue in lane.queues:
            while part := _first(queue):
                outcomes.append(self._run(part, lane))

    def _run(self, part: Part, lane: Lane) -> Outcome:
        report = self.folder / f"{re.sub(r'[^a-z0-9]+', '-', part.name)}.xml"
        started = time.monotonic()
        child = self._start(part, report, lane.screen if part.window else {})
        self.running.append(child)
        with child, in_a_group(child, part.name, self.ends_within_s) as late:
            held = [] if lane.live else [f"\n=== {part.name}"]
            for line in child.stdout or ():
                self.say(line.rstrip()) if lane.live else held.append(line.rstrip())
            code = child.wait()
        self.running.remove(child)
        held += late
        if held:
            self.say("\n".join(held))
        return outcome(part, report, code, time.monotonic() - started)

    def _start(self, part: Part, report: Path, screen: Variables) -> "subprocess.Popen[str]":
        command = [sys.executable, "-m", "pytest", *part.paths, *OF_A_TEST, *self.options]
        command += ["--continue-on-collection-errors", f"--junitxml={report}"]
        command += ["--no-header", "--durations=8", "--durations-min=2"]
        return subprocess.Popen(  # noqa: S603
            command,
            cwd=ROOT,
            env={**self.environ, **({} if part.disk else self.quick), **screen},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            errors="replace",
            start_new_session=True,
        )


def lanes_for(parts: list[Part], screens: list[Variables]) -> list[Lane]:
    """Give the lanes, each of which begins with another kind of part and then helps out.

    So there is something to compute for as long as others wait. With one screen only one of
    them takes windows.
    """
    windows = deque(part for part in parts if part.window)
    waiting = deque(part for part in parts if part.waits)
    plain = deque(part for part in parts if not part.window and not part.waits)
    if len(screens) == 1:
        return [
            Lane((plain, waiting), live=True),
            Lane((windows, plain, waiting), screens[0]),
            Lane((waiting, plain)),
        ]
    first, second, third = screens
    return [
        Lane((plain, windows, waiting), first, live=True),
        Lane((windows, plain, waiting), second),
        Lane((waiting, plain, windows), third),
    ]


def _first(queue: Queue) -> Part | None:
    try:
        return queue.popleft()
    except IndexError:
        return None
