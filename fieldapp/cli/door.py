"""What every command is given: where the records are, and how the app is opened."""

import logging
import sys
import traceback
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Protocol

import typer

from fieldapp.cli.sign_codes import asked
from schemas.trouble import NotAllowed, Trouble

if TYPE_CHECKING:
    from fieldapp.work.site import Clock, Site


class OpenApp(Protocol):
    """Opens the app on the records in a home folder and gives the exit code.

    `fieldapp.__main__` hands it in: terminal and screens don't know each other.
    """

    def __call__(self, folder: Path, *, portrait: bool = False) -> int:
        """Open it, taller than wide if so wished."""


Portrait = Annotated[
    bool, typer.Option("--portrait", help="Open the window taller than wide, 800 by 1280.")
]

Home = Annotated[
    Path | None,
    typer.Option("--home", metavar="DIR", help="Folder of this tablet's records."),
]


@dataclass(eq=False)
class NoScreen(NotAllowed):
    """The app was to be opened where there is nothing to show it on."""

    home: str

    happened = "There is no screen here that the app could open on."
    kept = "The records in {home} are as they were."
    do_next = "Start it on a machine with a screen, or see what the terminal does: lastrow --help."


@dataclass(eq=False)
class NoMine(NotAllowed):
    """Nothing was started in this home."""

    home: str

    happened = "No mine was started in {home}."
    kept = "Nothing was changed."
    do_next = (
        "Start one with lastrow mine start NAME, join an office's with lastrow pair ask FILE, try "
        "lastrow demo, or name another folder with --home."
    )


@dataclass
class Door:
    """One start of the program."""

    open_app: OpenApp | None = None
    now: "Clock | None" = None
    home: Path | None = None
    """As given before the command."""
    debug: bool = False
    portrait: bool = False
    logged_in: Path | None = None
    """The home whose log is open."""
    at_the_end: ExitStack = field(default_factory=ExitStack)

    def home_folder(self, given: Path | None, *, demo: bool = False) -> Path:
        """Find the folder of the records: what the command was given comes first."""
        from fieldapp.start import home_folder

        return home_folder(given or self.home, demo=demo)

    def started_home(self, given: Path | None) -> Path:
        """Find the folder of the records; a mine has to be there.

        Raises
        ------
        NoMine
            The folder holds none: it is left as it was, not even made.
        """
        from fieldapp.store.home import MINE_FILE, put_in_place

        home = self.home_folder(given)
        put_in_place(home)
        if not (home / MINE_FILE).exists():
            raise NoMine(str(home))
        return home

    @contextmanager
    def site(self, given: Path | None) -> Iterator["Site"]:
        """Open the records, for one command; `NoMine` where no mine was started."""
        with self.new_site(self.started_home(given)) as site:
            yield site

    @contextmanager
    def new_site(self, home: Path) -> Iterator["Site"]:
        """Open the records in a folder, made when it is new."""
        from fieldapp.start import open_site

        site = open_site(home, now=self.now, ask_password=asked_password)
        with site.store:
            self.log_into(home)
            yield site

    def log_into(self, home: Path) -> None:
        """Log to the home's file from here on, once."""
        from fieldapp.start import start_log

        if self.logged_in is None:
            handler = start_log(home)
            self.at_the_end.callback(handler.close)
            self.at_the_end.callback(logging.getLogger().removeHandler, handler)
            self.logged_in = home

    def tell(self, trouble: Trouble) -> None:
        """Say a trouble's three sentences, and with --debug where it came from."""
        if self.debug:
            traceback.print_exception(trouble)
        print(*trouble.sentences(), sep="\n", file=sys.stderr)

    def log_somewhere(self) -> None:
        """Log into the home that was named, where no command has opened one, if it can be."""
        with suppress(OSError):
            self.log_into(self.home_folder(None))

    def keep_quiet(self) -> None:
        """Let nothing be logged to the terminal: what a person has to know is told."""
        silence = logging.NullHandler()
        logging.getLogger().addHandler(silence)
        self.at_the_end.callback(logging.getLogger().removeHandler, silence)


def door_of(ctx: typer.Context) -> Door:
    """Give the door that a command came through."""
    door = ctx.find_object(Door)
    assert door is not None  # noqa: S101 - `main` puts it there
    return door


def asked_password(place: str) -> str:
    """Ask for the password of a shared folder; it is not shown."""
    return asked(f"password for {place}")
