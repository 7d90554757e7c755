"""What a person sees of the first run. It goes to standard error: output is the command's own."""

import queue
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from contextlib import nullcontext
from dataclasses import dataclass

from schemas.trouble import Trouble

SILENCE_S = 5.0
KEPT_LINES = 400


@dataclass(frozen=True)
class Ended:
    """How a command ended, and the last of what it said."""

    code: int
    lines: tuple[str, ...]


def say(line: str = "") -> None:
    """Show one line now."""
    sys.stderr.write(line + "\n")
    sys.stderr.flush()


def tell(trouble: Trouble) -> None:
    """Tell what happened, what was kept and what to do, and what belongs below that."""
    say()
    for sentence in trouble.sentences():
        say(sentence)
    for line in getattr(trouble, "below", "").splitlines():
        say(f"    {line}")


def run_shown(
    command: list[str],
    environ: dict[str, str],
    shown: Callable[[str], str],
    meanwhile: Callable[[], str] = str,
) -> Ended:
    """Run a command, showing what `shown` makes of each of its lines.

    In a silence `meanwhile` is asked how far it is, so that the screen never stands still.
    """
    child = subprocess.Popen(  # noqa: S603
        command,
        env=environ,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
        close_fds=False,  # the child holds on to the lock when this process is killed alone
    )
    lines = _lines_of(child)
    kept: list[str] = []
    started = time.monotonic()
    while (line := _next(lines)) is not None:
        if line:
            kept = [*kept[-KEPT_LINES:], line]
            news = shown(line)
        else:
            news = f"{meanwhile()} … {time.monotonic() - started:.0f} s".strip()
        if news:
            say(f"      {news}")
    return Ended(child.wait(), tuple(kept))


def _lines_of(child: "subprocess.Popen[str]") -> "queue.Queue[str | None]":
    """Read the child's lines in a thread of their own: a pipe can't be waited for everywhere."""
    lines: queue.Queue[str | None] = queue.Queue()

    def read() -> None:
        with child.stdout or nullcontext(()) as said:
            for line in said:
                if line.strip():
                    lines.put(line.rstrip())
        lines.put(None)

    threading.Thread(target=read, daemon=True).start()
    return lines


def _next(lines: "queue.Queue[str | None]") -> str | None:
    """Give the next line, an empty one after a silence, None at the end."""
    try:
        return lines.get(timeout=SILENCE_S)
    except queue.Empty:
        return ""
