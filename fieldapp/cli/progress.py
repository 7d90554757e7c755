"""How far a long piece of work is, shown on a terminal while it goes on."""

import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sync.outcome import Progress

WIDEST = 60


def show_progress(progress: "Progress") -> None:
    """Show how far it is, on one line that is written over; nowhere but on a terminal."""
    if sys.stderr.isatty():
        from fieldapp.report.words.exchange import progress_line

        show_line(progress_line(progress))


def show_line(words: str) -> None:
    """Show some words on the line that is written over; nowhere but on a terminal."""
    if sys.stderr.isatty():
        print(f"\r{words:<{WIDEST}}\r", end="", file=sys.stderr, flush=True)
