"""The same work from a terminal: `lastrow …`, and what `python3 -m fieldapp …` hands on.

One module a subject; `commands` lists them in the order of `lastrow --help`. What is heavy is
loaded by the command that needs it.
"""

from fieldapp.cli.entrance import main

__all__ = ["main"]
