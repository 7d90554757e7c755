"""What exit codes say."""

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from schemas.findings import Verdict

ACCEPTED: Final = 0
BAD: Final = 2
NOT_YET: Final = 3
NO_ENTRY: Final = 4
STOPPED: Final = 130
"""What a shell expects after Ctrl-C."""

GRAVEST_FIRST: Final = (BAD, NO_ENTRY, NOT_YET, ACCEPTED)
"""Of several files: one that could not be read is the gravest, nobody knows what it holds."""


def exit_of(verdict: "Verdict") -> int:
    """Give the exit code of a round's verdict."""
    from schemas.findings import Verdict

    if verdict in (Verdict.ACCEPT, Verdict.FIX_THIS_SHIFT):
        return ACCEPTED
    return NO_ENTRY if verdict is Verdict.NO_ENTRY else NOT_YET


def worst_of(codes: Iterable[int]) -> int:
    """Give the exit code of several rounds."""
    return min(codes, key=GRAVEST_FIRST.index, default=ACCEPTED)
