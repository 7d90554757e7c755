"""Sign codes on a terminal: asked for without showing them, or read from standard input."""

import getpass
import sys
from dataclasses import dataclass

from schemas.trouble import BadInput


@dataclass(eq=False)
class CodeMissing(BadInput):
    """Standard input ended before a code came."""

    what: str

    happened = "The {what} is missing."
    kept = "Nothing was changed."
    do_next = "Type it when it is asked for, or give it as a line of standard input."


@dataclass(eq=False)
class CodesDiffer(BadInput):
    """A new code was typed twice, differently."""

    what: str

    happened = "The {what} was not typed twice alike."
    kept = "Nothing was changed."
    do_next = "Type the command once more."


def asked(what: str) -> str:
    """Ask for a code: on a terminal without echo, else the next line of standard input.

    Raises
    ------
    CodeMissing
        There was no such line.
    """
    if sys.stdin.isatty():
        return getpass.getpass(f"{what[:1].upper()}{what[1:]}: ")
    line = sys.stdin.readline()
    if not line:
        raise CodeMissing(what)
    return line.strip()


def asked_openly(what: str) -> str:
    """Ask for something that is no secret: a check number that somebody reads aloud.

    Raises
    ------
    CodeMissing
        There was no such line.
    """
    if sys.stdin.isatty():
        return input(f"{what[:1].upper()}{what[1:]}: ")
    return asked(what)


def asked_new(what: str) -> str:
    """Ask for a code that is to be kept: twice on a terminal.

    Raises
    ------
    CodesDiffer
        It was typed twice, differently.
    """
    code = asked(what)
    if sys.stdin.isatty() and asked(f"{what} once more") != code:
        raise CodesDiffer(what)
    return code
