"""Errors that a person is told about.

A `Trouble` is expected: the world did something that the program allows for, and the
person has to know. Anything else that is raised is a bug; nobody catches it except the
one place that logs it and stops.

Whose fault it is decides the exit code of a terminal command (`exit_code`):

    Trouble
    ├── BadInput      2   a file, an answer or a standard that can't be taken as it is
    ├── DiskTrouble   5   the disk or the database
    └── NotAllowed    2   the person, the order of things or the lock stands in the way
"""

from dataclasses import dataclass
from typing import ClassVar


@dataclass(eq=False)
class Trouble(Exception):
    """Something a person must be told: what happened, what was kept, what to do next.

    A subclass names the facts as fields and states the three sentences as templates over
    them, so that the sentences can be translated and the facts can be tested.
    """

    happened: ClassVar[str]
    kept: ClassVar[str]
    do_next: ClassVar[str]
    exit_code: ClassVar[int] = 2

    def sentences(self) -> tuple[str, str, str]:
        """Fill the three templates with this error's facts."""
        facts = vars(self)
        return (
            self.happened.format(**facts),
            self.kept.format(**facts),
            self.do_next.format(**facts),
        )

    def __str__(self) -> str:
        return " ".join(self.sentences())


class BadInput(Trouble):
    """What was given can't be taken as it is."""


class NotAllowed(Trouble):
    """The rules of entry, a role or a lock stand in the way."""


class DiskTrouble(Trouble):
    """The disk or the database did not do what it was asked."""

    exit_code = 5
