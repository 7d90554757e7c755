"""``python3 -m fieldapp``: makes its own ``.venv`` the first time, then goes on inside it."""

import sys
from pathlib import Path

from fieldapp import first_run


def main() -> int:
    """Make ready what is missing, then hand the words of the command to the terminal's door."""
    first_run.enter(words=sys.argv[1:])
    from fieldapp.cli import main as command

    return command(sys.argv[1:], open_app)


def open_app(folder: Path, *, portrait: bool = False) -> int:
    """Open the app on the records in a home folder. Terminal and screens meet only here."""
    from fieldapp.ui.app import run

    return run(folder, portrait=portrait)


if __name__ == "__main__":
    sys.exit(main())
