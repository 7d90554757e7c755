"""A screen for the window tests: the one that is there, or some in memory of their own."""

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from select import select

from fieldapp.first_run import machine
from fieldapp.first_run.telling import tell
from schemas.trouble import Trouble

STARTS_WITHIN_S = 30.0
SIZE = "2048x2048x24"  # holds the tablet upright and lying


@contextmanager
def screens(
    missing: list[str], *, wanted: bool = True, most: int = 3
) -> Iterator[list[dict[str, str]]]:
    """Give, screen by screen, the variables that bring windows to it, until the tests are over.

    Where there is a screen, it is the only one: two windows on it would cover each other. What
    can't be had is told, noted in `missing`, and left to the window tests to fail on.
    """
    if sys.platform != "linux" or not wanted:
        yield [{}]
        return
    here = bool(os.environ.get("DISPLAY"))
    try:
        machine.provide(machine.WINDOW if here else machine.WINDOW + machine.XVFB)
    except Trouble as trouble:
        tell(trouble)
        missing.append(f"windows: {trouble.sentences()[0]}")
        yield [{"SDL_VIDEODRIVER": "x11"}]
        return
    if here:
        yield [{"SDL_VIDEODRIVER": "x11", "DISPLAY": os.environ["DISPLAY"]}]
        return
    ours = {"SDL_VIDEODRIVER": "x11", "LIBGL_ALWAYS_SOFTWARE": "1"}
    with ExitStack() as stack:
        yield [{**ours, "DISPLAY": stack.enter_context(_xvfb())} for _ in range(most)]


@contextmanager
def _xvfb() -> Iterator[str]:
    """Start a screen in memory on the first free number, and end it afterwards."""
    ours, its = os.pipe()
    command = ["Xvfb", "-displayfd", str(its), "-screen", "0", SIZE, "-nolisten", "tcp"]
    child = subprocess.Popen(  # noqa: S603
        [*command, "-noreset"],
        pass_fds=[its],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
    )
    os.close(its)
    try:
        yield f":{_number(child, ours)}"
    finally:
        os.close(ours)
        child.terminate()
        child.communicate()


def _number(child: "subprocess.Popen[bytes]", ours: int) -> str:
    ready, _, _ = select([ours], [], [], STARTS_WITHIN_S)
    number = os.read(ours, 64).decode().strip() if ready else ""
    if not number:
        child.terminate()
        _, words = child.communicate()
        sys.exit(f"Xvfb did not start: {words.decode(errors='replace').strip()}")
    return number
