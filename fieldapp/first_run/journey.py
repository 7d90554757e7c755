"""The way of one start: what the machine lacks, the environment, then inside it."""

import os
import subprocess
import sys
from collections.abc import Callable
from typing import NoReturn

from fieldapp.first_run import mark

NOT_A_COMMAND = ("--help", "--version", "--show-completion", "--install-completion")
WITH_A_WINDOW = ("", "demo")
STOPPED = 130  # what a shell expects after Ctrl-C


def enter(extra: str, words: list[str] | None) -> None:
    """Return inside an environment that has everything, or end this process."""
    if words is not None and opens_a_window(words, dict(os.environ), sys.platform):
        _attempt(_window)
    if not mark.is_checkout() or stands_already(extra):
        return
    if not mark.fits(extra):
        _attempt(_environment, extra)
    go_inside()


def opens_a_window(words: list[str], environ: dict[str, str], platform: str) -> bool:
    """Tell whether this command will open a window; without a screen none does."""
    if not has_screen(environ, platform) or any(word in NOT_A_COMMAND for word in words):
        return False
    return command_of(words) in WITH_A_WINDOW


def has_screen(environ: dict[str, str], platform: str) -> bool:
    """Tell whether there is a screen to draw on."""
    if platform in ("win32", "darwin"):
        return True
    return bool(environ.get("DISPLAY") or environ.get("WAYLAND_DISPLAY"))


def command_of(words: list[str]) -> str:
    """Give the first word that is a command; empty where the app itself is asked for."""
    values = {place + 1 for place, word in enumerate(words) if word == "--home"}
    commands = (
        word
        for place, word in enumerate(words)
        if place not in values and not word.startswith("-")
    )
    return next(commands, "")


def stands_already(extra: str) -> bool:
    """Tell whether the running Python has everything, so that there is nothing to do."""
    if mark.is_inside():
        return mark.fits(extra)
    if sys.prefix == sys.base_prefix and mark.fits(extra):
        return False  # the usual second start: no need to look through what Python has
    from fieldapp.first_run.environment import has_project

    return has_project(extra)


def go_inside() -> NoReturn:
    """Start this very command again with the environment's own Python, in this one's stead."""
    command = [str(mark.python_of()), *sys.orig_argv[1:]]
    sys.stdout.flush()
    sys.stderr.flush()
    if os.name == "nt":  # there, exec gives the prompt back before the program has ended
        sys.exit(subprocess.call(command))  # noqa: S603
    os.execv(command[0], command)  # noqa: S606


def _window() -> None:
    from fieldapp.first_run import machine

    if sys.platform == "linux":  # elsewhere the app's own packages bring what a window needs
        machine.provide(machine.WINDOW)


def _environment(extra: str) -> None:
    from fieldapp.first_run import environment

    environment.make(extra)


def _attempt(job: Callable[..., None], *facts: str) -> None:
    """Do a part of the first run, or tell a person why it can't be done, and end."""
    from fieldapp.first_run.telling import tell
    from schemas.trouble import Trouble

    try:
        job(*facts)
    except Trouble as trouble:
        tell(trouble)
        sys.exit(trouble.exit_code)
    except KeyboardInterrupt:
        sys.exit(STOPPED)
