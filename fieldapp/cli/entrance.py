"""From the words of a command line to an exit code: the one place where anything is caught.

0   done; of rounds: accept or fix this shift
1   a fault of the program
2   what was given can't be taken, or is not allowed
3   rework, not looked at or measure again
4   no entry
5   trouble with the disk or the database
141 whoever read the answer has gone before its end: nothing is said of any round
"""

import logging
import os
import sys
import traceback
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

import typer
import typer.main

from fieldapp.cli.commands import app
from fieldapp.cli.door import Door, OpenApp
from fieldapp.cli.exits import STOPPED
from schemas.trouble import BadInput, Trouble

if TYPE_CHECKING:
    from fieldapp.work.site import Clock

FAULT = 1
"""What a shell expects after Ctrl-C."""
UNHEARD = 141
"""What a shell expects of a program that nobody listened to until its end."""

_WordsRefused: Any = typer.BadParameter.__mro__[1]
"""Whatever the library raises about the words of a command, in each of its versions."""

log = logging.getLogger(__name__)

_put_together = cache(typer.main.get_command)
"""Done once a process, since there are many commands."""


@dataclass(eq=False)
class NoSuchCommand(BadInput):
    """The words of the command line can't be taken."""

    reason: str
    command: str

    happened = "This can't be done: {reason}."
    kept = "Nothing was changed."
    do_next = "Type {command} --help for its words and an example."


def main(
    argv: Sequence[str] | None = None,
    open_app: OpenApp | None = None,
    *,
    now: "Clock | None" = None,
) -> int:
    """Do one command and give its exit code.

    Parameters
    ----------
    argv : sequence of str, optional
        The words after the program's name; those of the process where none are given.
    open_app : callable, optional
        Opens the app on a home folder. Without it there is no screen.
    now : callable, optional
        The clock; the system's where none is given.
    """
    door = Door(open_app=open_app, now=now)
    door.keep_quiet()
    with door.at_the_end:
        try:
            return _done(list(sys.argv[1:] if argv is None else argv), door)
        except Trouble as trouble:
            door.tell(trouble)
            return trouble.exit_code
        except (KeyboardInterrupt, typer.Abort):
            return STOPPED
        except BrokenPipeError:
            _forget_the_reader()
            return UNHEARD
        except Exception as fault:  # the very top: logged and told, never hidden
            door.log_somewhere()
            log.exception("fault")
            return _told_fault(fault, door)


def _done(words: list[str], door: Door) -> int:
    try:
        answer = _put_together(app).main(
            words, prog_name="lastrow", standalone_mode=False, obj=door
        )
        sys.stdout.flush()
    except _WordsRefused as refused:
        where = refused.ctx.command_path if refused.ctx else "lastrow"
        reason = refused.format_message().rstrip(".").replace("\n", " ")
        raise NoSuchCommand(reason[:1].lower() + reason[1:], where) from refused
    except SystemExit as left:
        if isinstance(left.__context__, BrokenPipeError):  # the library would call it a fault
            raise left.__context__ from None
        raise
    return int(answer or 0)


def _told_fault(fault: Exception, door: Door) -> int:
    if door.debug:
        traceback.print_exception(fault)
    where = f"The log in {door.logged_in} says more." if door.logged_in else ""
    sentences = (
        f"The program has a fault: {type(fault).__name__}.",
        "What was shown as kept is on the disk.",
        f"Type the command once more as lastrow --debug … to see where. {where}".strip(),
    )
    print(*sentences, sep="\n", file=sys.stderr)
    return FAULT


def _forget_the_reader() -> None:
    """Whoever read our output has gone: nothing more is to be written to it at the exit."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
