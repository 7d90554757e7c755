"""The settings in words, and what each key changes; no widgets here."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import time
from pathlib import Path
from typing import Any

from fieldapp.ui.names import short
from fieldapp.ui.translate import _
from schemas.settings import Settings, Shift

CREWS = (_("crew A"), _("crew B"), _("crew C"), _("crew D"))
"""What the keys offer. Other names are typed into the settings file."""
MOST_CREWS = 4
LOOKS = (("dark", _("Dark"), _("underground")), ("bright", _("Bright"), _("glare, surface")))
PAPERS = ("A4", "Letter")
UNITS = (("metres", _("Metres")), ("feet and inches", _("Feet and inches")))


@dataclass(frozen=True)
class Value:
    """One key: what stands on it, and the settings that it leads to, or what it asks for."""

    title: str
    leads_to: Settings | None = None
    second: str = ""
    chosen: bool = False
    asks: Callable[[], None] | None = None


@dataclass(frozen=True)
class Setting:
    """One line: a name, with its keys or what is told in their place."""

    name: str
    values: tuple[Value, ...] = ()
    told: str = ""


def look_and_units(now: Settings) -> Iterator[Setting]:
    """Give the two settings that are chosen by one touch."""
    looks = (
        Value(title, _with(now, theme=name), second, chosen=now.theme == name)
        for name, title, second in LOOKS
    )
    yield Setting(_("Look"), tuple(looks))
    units = (
        Value(title, _with(now, units=name), chosen=now.units == name) for name, title in UNITS
    )
    yield Setting(_("Units"), tuple(units))


def shifts(now: Settings, ask: Callable[[int], Callable[[], None]]) -> Setting:
    """Give the shifts with their times; a key asks for another time."""
    keys = (
        Value(f"{shift.starts:%H:%M}", second=shift.name, asks=ask(number))
        for number, shift in enumerate(now.shifts)
    )
    return Setting(_("Shifts begin"), tuple(keys))


def crews(now: Settings) -> Setting:
    """Give the crews; a touch adds one or takes it away."""
    names = [*CREWS, *(name for name in now.crews if name not in CREWS)]
    full = len(now.crews) >= MOST_CREWS
    keys = (
        Value(
            name,
            _with(now, crews=_toggled(now.crews, name, names)),
            chosen=name in now.crews,
        )
        for name in names
        if name in now.crews or not full
    )
    return Setting(_("Crews"), tuple(keys))


def begins_at(now: Settings, number: int, starts: time) -> Settings:
    """Give the settings with another beginning of one shift."""
    changed = [
        Shift(name=shift.name, starts=starts) if place == number else shift
        for place, shift in enumerate(now.shifts)
    ]
    return _with(now, shifts=tuple(changed))


def in_zone(now: Settings, zone: str) -> Settings:
    """Give the settings in another time zone."""
    return _with(now, zone=zone)


def paper(now: Settings) -> Setting:
    """Give what reports are laid out for."""
    papers = (Value(it, _with(now, paper=it), chosen=now.paper == it) for it in PAPERS)
    return Setting(_("Reports on"), tuple(papers))


def camera_folder(now: Settings, ask: Callable[[], None]) -> Setting:
    """Give where the camera app writes its photos; the key asks for another folder."""
    folder = now.camera_folder
    name = short(folder.name or str(folder)) if folder else _("none named")
    return Setting(_("Camera's folder"), (Value(name, second=_("another folder"), asks=ask),))


def with_camera_folder(now: Settings, folder: Path) -> Settings:
    """Give the settings with another folder of the camera."""
    return _with(now, camera_folder=folder)


def _toggled(chosen: tuple[str, ...], name: str, order: list[str]) -> tuple[str, ...]:
    kept = set(chosen) ^ {name}
    return tuple(each for each in order if each in kept)


def _with(now: Settings, **changes: Any) -> Settings:
    return now.model_copy(update=changes)
