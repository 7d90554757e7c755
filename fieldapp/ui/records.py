"""Opening the records beside the screen: everything heavy is loaded here, after a first frame."""

import logging
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from schemas.trouble import Trouble

if TYPE_CHECKING:
    from fieldapp.store.rescue import Rescued
    from fieldapp.work.site import Clock, Site

WayOn = Literal["salvage", "defaults"]
"""What can be done about a trouble at the start, beside trying again."""


@dataclass(frozen=True)
class Records:
    """The opened records, and the codes that the demo mine shows."""

    site: "Site"
    demo_codes: tuple[tuple[str, str], ...]


class Log:
    """The tablet's log, opened once however often the start is tried."""

    def __init__(self) -> None:
        self._handler: logging.Handler | None = None

    def start(self, folder: Path) -> None:
        """Log into a home folder; where that can't be, opening the records says why."""
        from fieldapp.start import start_log

        if self._handler is None:
            with suppress(OSError):
                self._handler = start_log(folder)

    def stop(self) -> None:
        """Close the file."""
        if self._handler is not None:
            logging.getLogger().removeHandler(self._handler)
            self._handler.close()
            self._handler = None


def open_records(folder: Path, now: "Clock | None" = None) -> Records:
    """Open the records in a home folder; a trouble says what stands in the way."""
    from fieldapp.start import open_site

    site = open_site(folder, now=now)
    return Records(site, _codes() if site.mine.demo else ())


def warm_up() -> None:
    """Load what the Round screen needs, while a person finds the own name and types a code."""
    import fieldapp.assess
    import fieldapp.work.board
    import fieldapp.work.sign  # noqa: F401


def way_on(trouble: Trouble) -> WayOn | None:
    """Tell what a key may offer to do about a trouble at the start."""
    from fieldapp.start import SettingsRefused
    from fieldapp.store.troubles import DatabaseSetAside

    if isinstance(trouble, DatabaseSetAside):
        return "salvage"
    return "defaults" if isinstance(trouble, SettingsRefused) else None


def salvage(folder: Path) -> "Rescued":
    """Carry on with what can be read of a damaged database; a copy of it is kept."""
    from fieldapp.store import salvage_store

    return salvage_store(folder)


def set_settings_aside(folder: Path) -> None:
    """Put refused settings beside the place where they are read, so that the defaults hold."""
    from fieldapp.start import set_settings_aside as set_aside

    set_aside(folder)


def _codes() -> tuple[tuple[str, str], ...]:
    from fieldapp.work.demo.people import DEMO_PEOPLE

    return tuple((who.name, who.sign_code) for who in DEMO_PEOPLE)
