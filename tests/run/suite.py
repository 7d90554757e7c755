"""Runs the tests and says how it went."""

import os
import signal
import sys
import threading
import time

from tests.run import ending, tools
from tests.run.lanes import Lanes
from tests.run.outcome import NO_TESTS
from tests.run.parts import parts_of
from tests.run.place import NOTES, is_ci, place_apart, quick_place, surroundings
from tests.run.screen import screens

_one_speaker = threading.Lock()
STOPPED = 130


def say(text: str) -> None:
    """Show lines whole, whichever lane they come from."""
    with _one_speaker:
        sys.stdout.write(text + "\n")
        sys.stdout.flush()


def run(words: list[str]) -> int:
    """Run what was asked for; 0 when all of it passed and, in CI, nothing was missing."""
    parts, options = parts_of(words)
    missing = tools.missing()
    started = time.monotonic()
    signal.signal(signal.SIGTERM, signal.default_int_handler)  # the parts end with the run
    try:
        windows = any(part.window for part in parts)
        with (
            place_apart() as folder,
            quick_place() as quick,
            screens(missing, wanted=windows) as shown,
        ):
            environ = surroundings(folder, dict(os.environ), quick)
            outcomes = Lanes(environ, quick, shown, options, folder, say).run(parts)
            noted = missing + ending.not_tried(folder / NOTES)
    except KeyboardInterrupt:
        say("Stopped.")
        return STOPPED
    for line in ending.last_page(outcomes, noted, strict=is_ci()):
        say(line)
    say(f"{time.monotonic() - started:.0f} s in all")
    totals = ending.totals(outcomes, len(noted), strict=is_ci())
    say(totals.line())
    return NO_TESTS if totals.nothing() else int(totals.failed > 0)
