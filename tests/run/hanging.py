"""No run hangs for ever: what takes too long is ended, and says where it was.

pytest itself ends a test that takes far too long, with the line at which each of its threads
stood. What hangs outside of a test is ended from here; so is whatever a part leaves behind,
which would hold the pipe of its words open.
"""

import os
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress

TEST_ENDS_WITHIN_S = 10 * 60
PART_ENDS_WITHIN_S = 30 * 60
DIES_WITHIN_S = 10.0
OF_A_TEST = (
    "-o",
    f"faulthandler_timeout={TEST_ENDS_WITHIN_S}",
    "-o",
    "faulthandler_exit_on_timeout=true",
)
"""pytest's words for that."""

Child = subprocess.Popen[str]


@contextmanager
def in_a_group(child: Child, name: str, ends_within_s: float) -> Iterator[list[str]]:
    """Watch over a process that leads a group of its own; give what there is to say of it."""
    late: list[str] = []

    def watch() -> None:
        try:
            child.wait(ends_within_s)
        except subprocess.TimeoutExpired:
            late.append(f"{name} was ended: it hung for {ends_within_s:.0f} s.")
            _says_where(child)
        ends(child)

    watching = threading.Thread(target=watch, daemon=True)
    watching.start()
    yield late
    watching.join()


def ends(child: Child) -> None:
    """End a process and whatever it started."""
    if sys.platform == "win32":
        child.kill()
        return
    with suppress(ProcessLookupError, PermissionError):  # all of the group has ended
        os.killpg(child.pid, signal.SIGKILL)


def _says_where(child: Child) -> None:
    """Have pytest's fault handler write where each thread stands."""
    if sys.platform != "win32":
        child.send_signal(signal.SIGABRT)
        with suppress(subprocess.TimeoutExpired):
            child.wait(DIES_WITHIN_S)
