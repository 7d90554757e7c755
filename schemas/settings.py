"""What this tablet is set to: shift times, units, look. The mine's rules are entries instead."""

from datetime import time
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from schemas.part import Own


def _no_number(value: object) -> object:
    """Refuse a bare number, which would be read as seconds after midnight."""
    if isinstance(value, int | float):
        raise ValueError("a time of day is needed, like 06:00:00")  # noqa: TRY004 - a refusal
    return value


class Shift(Own):
    """One shift of the day, by the clock on the wall."""

    name: str = Field(min_length=1, max_length=20)
    starts: Annotated[time, BeforeValidator(_no_number)]


class Settings(Own):
    """Read once at the start, passed by hand to whoever needs a value."""

    units: Literal["metres", "feet and inches"] = "metres"
    paper: Literal["A4", "Letter"] = "A4"
    """What reports are laid out for."""
    theme: Literal["dark", "bright"] = "dark"
    zone: str = Field(default="UTC", max_length=60)
    """Name of the mine's time zone, as the system's zone list knows it."""
    shifts: tuple[Shift, ...] = Field(
        default=(
            Shift(name="day shift", starts=time(6)),
            Shift(name="night shift", starts=time(18)),
        ),
        min_length=1,
        max_length=4,
    )
    share: str = Field(default="", max_length=300)
    """Where the shared folder is: a directory, or an address of one; empty where there is none."""
    crews: tuple[str, ...] = Field(default=("crew A", "crew B", "crew C"), max_length=4)
    backups: Path | None = None
    """A folder on a second disk or a stick that gets every backup too."""
    camera_folder: Path | None = None
    """The folder that the tablet's own camera app writes its photos into."""
