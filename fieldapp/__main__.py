"""``python3 -m fieldapp``: makes its own ``.venv`` the first time, then goes on inside it."""

import sys

from fieldapp import first_run


def main() -> int:
    """Make ready what is missing, then hand the words of the command to the terminal's door."""
    first_run.enter(words=sys.argv[1:])
    from fieldapp.cli import main as command

    return command(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
