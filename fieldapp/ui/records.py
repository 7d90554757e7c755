"""Opening the records beside the screen: everything heavy is loaded here, after a first frame."""

import gc
import logging
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal
from zoneinfo import ZoneInfo

from schemas.trouble import Trouble

if TYPE_CHECKING:
    from fieldapp.store.bring_back import BroughtBack
    from fieldapp.work.site import Clock, Site

WayOn = Literal["bring back", "defaults"]
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

    gc.freeze()  # what was loaded stays: to look for rings in it took 0.1 s, in anybody's touch


def way_on(trouble: Trouble, folder: Path) -> WayOn | None:
    """Tell what a key may offer to do about a trouble at the start."""
    from fieldapp.start import HomeRefused, SettingsRefused
    from fieldapp.store.bring_back import whose
    from fieldapp.store.troubles import DatabaseGone, DatabaseSetAside

    if isinstance(trouble, DatabaseSetAside | DatabaseGone):
        return "bring back"
    if isinstance(trouble, HomeRefused) and folder.is_dir() and whose(folder) is None:
        return "bring back"
    return "defaults" if isinstance(trouble, SettingsRefused) else None


def newest_backup(folder: Path) -> str:
    """Tell when the newest backup of a home was made; empty where it kept none by itself."""
    from fieldapp.report.words.findings import when
    from fieldapp.start import settings_if_readable
    from fieldapp.store.backups import generations
    from fieldapp.store.home import BACKUPS

    kept = generations(folder / BACKUPS)
    zone = ZoneInfo(settings_if_readable(folder).zone)
    return when(kept[-1].made_at, zone) if kept else ""


def bring_back(folder: Path, now: "Clock | None" = None) -> "BroughtBack":
    """Bring the records back from the newest good backup and what can be read of them."""
    from fieldapp.start import settings_if_readable, utc_now
    from fieldapp.store.bring_back import bring_back_newest

    return bring_back_newest(folder, settings_if_readable(folder).backups, now or utc_now)


def set_settings_aside(folder: Path) -> None:
    """Put refused settings beside the place where they are read, so that the defaults hold."""
    from fieldapp.start import set_settings_aside as set_aside

    set_aside(folder)


def _codes() -> tuple[tuple[str, str], ...]:
    from fieldapp.work.demo.people import DEMO_PEOPLE

    return tuple((who.name, who.sign_code) for who in DEMO_PEOPLE)
