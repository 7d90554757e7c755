"""Putting the parts together, in one place.

Nobody else opens the store, reads the settings, asks the clock or sets up the log: what a
part needs, it is given here.
"""

import json
import logging
import logging.handlers
import os
import secrets
import sys
import tomllib
from dataclasses import dataclass
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from platformdirs import user_data_path
from pydantic import ValidationError

from fieldapp.store import open_store
from fieldapp.store.home import MINE_FILE, put_in_place
from fieldapp.store.home import SETTINGS_FILE as SETTINGS_FILE
from fieldapp.store.place import refuse_unfit_place
from fieldapp.work.mine import NOT_STARTED
from fieldapp.work.share_passwords import SharePasswords
from fieldapp.work.site import Clock, Mine, Site
from schemas.json_places import path_of
from schemas.reasons import Fault, reason_of
from schemas.settings import Settings
from schemas.trouble import BadInput
from sync.durable import disk_trouble, replace_file, sync_folder
from sync.places import Password, nobody_knows

LOG_FILE = "log/lastrow.log"
LOG_BYTES = 1_000_000


@dataclass(eq=False)
class SettingsRefused(BadInput):
    """The settings file can't be taken."""

    path: str
    place: str
    reason: str

    happened = "The settings in {path} can't be read: at {place}, {reason}."
    kept = "Every record is as it was; nothing was opened."
    do_next = "Put right what stands at {place}, or delete the file to start from the defaults."


@dataclass(eq=False)
class HomeRefused(BadInput):
    """The home folder holds something that isn't ours."""

    path: str
    reason: str

    happened = "The home folder {path} can't be used: {reason}."
    kept = "Nothing in it was changed."
    do_next = "Name another folder with --home, or set LASTROW_HOME."


def home_folder(given: Path | None = None, *, demo: bool = False) -> Path:
    """Find where this tablet's records are: as given, by LASTROW_HOME, or the system's place.

    The demo mine has a home of its own, so that it never mixes with real records.
    """
    if given is not None:
        return given
    named = os.environ.get("LASTROW_HOME")
    home = Path(named) if named else user_data_path("lastrow", appauthor=False)
    return home / "demo" if demo else home


def open_site(
    folder: Path, *, now: Clock | None = None, ask_password: Password = nobody_knows
) -> Site:
    """Open the records in a home folder, making it when it is new.

    Parameters
    ----------
    folder : Path
        The home.
    now : callable
        Asks the clock; this machine's if left out.
    ask_password : callable
        Asks for the password of a share, where LASTROW_SHARE_PASSWORD doesn't hold it.

    Raises
    ------
    SettingsRefused
        The settings file is torn or holds what it should not.
    HomeRefused
        The folder can't be made, or says that it is another mine's.
    PlaceRefused
        It lies on a share, a stick or a cloud drive.
    DiskTrouble
        The database is damaged, newer than this program, or the disk is full.
    """
    refuse_unfit_place(folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise HomeRefused(str(folder), error.strerror or "it can't be made") from error
    put_in_place(folder)
    settings = read_settings(folder / SETTINGS_FILE)
    return Site(
        folder=folder,
        mine=mine_in(folder),
        store=open_store(folder, now=now or utc_now),
        settings=settings,
        now=now or utc_now,
        chance=secrets.token_bytes,
        password=share_password(ask_password),
    )


def share_password(ask: Password) -> SharePasswords:
    """Give what comes by the password of a share: asked for once, and written nowhere."""
    return SharePasswords(ask, os.environ.get("LASTROW_SHARE_PASSWORD", ""))


def utc_now() -> datetime:
    """Ask the clock, to the millisecond."""
    now = datetime.now(UTC)
    return now.replace(microsecond=now.microsecond // 1000 * 1000)


def read_settings(path: Path) -> Settings:
    """Read the settings; the defaults where there is no file yet.

    Raises
    ------
    SettingsRefused
        Names the place and the reason.
    """
    try:
        raw = tomllib.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return Settings()
    except OSError as error:
        reason = (error.strerror or "it failed").lower()
        raise SettingsRefused(str(path), "the file itself", reason) from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise SettingsRefused(str(path), "the text itself", str(error).lower()) from error
    except RecursionError as error:
        reason = "it is nested too deeply"
        raise SettingsRefused(str(path), "the text itself", reason) from error
    try:
        settings = Settings.model_validate(raw)
        ZoneInfo(settings.zone)
    except ValidationError as error:
        plain = json.loads(json.dumps(raw, default=str))
        fault = Fault.of(error.errors(include_url=False)[0], plain)
        place = path_of(fault.steps).removeprefix("$.")
        raise SettingsRefused(str(path), place, reason_of([fault])) from error
    except (ZoneInfoNotFoundError, ValueError) as error:
        raise SettingsRefused(str(path), "zone", "no such time zone is known here") from error
    return settings


def write_settings(path: Path, settings: Settings) -> None:
    """Write the settings, whole or not at all.

    Raises
    ------
    DiskTrouble
        They are as they were before.
    """
    try:
        replace_file(path, _as_toml(settings).encode())
    except OSError as error:
        raise disk_trouble(error, path) from error


def set_settings_aside(folder: Path) -> Path:
    """Put a settings file that was refused under another name, so that the defaults hold.

    Done again for the same bytes, it is the same name.
    """
    path = folder / SETTINGS_FILE
    try:
        mark = sha256(path.read_bytes()).hexdigest()[:8]
        aside = path.with_name(f"settings-refused-{mark}.toml")
        path.replace(aside)
        sync_folder(folder)
    except OSError as error:
        raise disk_trouble(error, path) from error
    return aside


def settings_if_readable(folder: Path) -> Settings:
    """Read a home's settings for what goes on without them: the defaults where they are torn."""
    try:
        return read_settings(folder / SETTINGS_FILE)
    except SettingsRefused:
        return Settings()


def time_zones() -> tuple[str, ...]:
    """Name every time zone that this system knows, as Area/Place."""
    return tuple(sorted(name for name in available_timezones() if _names_a_place(name)))


def _names_a_place(zone: str) -> bool:
    return zone == "UTC" or ("/" in zone and not zone.startswith(("Etc/", "posix/", "right/")))


def start_log(folder: Path) -> logging.Handler:
    """Log to a small rotating file on the tablet. Never a code, a key, a photo or a note.

    The handler is given back so that whoever starts several times can close it.
    """
    path = folder / LOG_FILE
    path.parent.mkdir(parents=True, exist_ok=True)
    handler = logging.handlers.RotatingFileHandler(
        path, maxBytes=LOG_BYTES, backupCount=3, encoding="utf-8", delay=True
    )
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s %(message)s"))
    logging.getLogger().addHandler(handler)
    logging.getLogger().setLevel(logging.INFO)
    logging.getLogger("ezdxf").setLevel(logging.WARNING)  # it tells of each drawing, and of itself
    return handler


def has_screen() -> bool:
    """Tell whether there is a screen that the app could open on."""
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def mine_in(home: Path) -> Mine:
    """Read which mine was started in a home folder; an empty name where none was.

    Raises
    ------
    HomeRefused
        What says so is torn.
    """
    path = home / MINE_FILE
    try:
        return Mine.model_validate_json(path.read_bytes())
    except FileNotFoundError:
        return NOT_STARTED
    except ValidationError as error:
        raise HomeRefused(str(path.parent), f"{path.name} is torn or is not ours") from error


def _as_toml(settings: Settings) -> str:
    lines = [
        f'units = "{settings.units}"',
        f'paper = "{settings.paper}"',
        f'theme = "{settings.theme}"',
        f'zone = "{settings.zone}"',
        f"share = {_quoted(settings.share)}",
        f"crews = [{', '.join(map(_quoted, settings.crews))}]",
    ]
    if settings.backups:
        lines.append(f"backups = {_quoted(str(settings.backups))}")
    if settings.camera_folder:
        lines.append(f"camera_folder = {_quoted(str(settings.camera_folder))}")
    for shift in settings.shifts:
        lines += ["", "[[shifts]]", f"name = {_quoted(shift.name)}", f"starts = {shift.starts}"]
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
