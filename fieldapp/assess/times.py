"""Dates and times as they are said: one form on paper, on the terminal and on the glass."""

from datetime import datetime
from typing import Final

MONTHS: Final = (
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
)  # fmt: skip


def date_words(at: datetime) -> str:
    """Say a date.

    Parameters
    ----------
    at : datetime
        In the zone in which it is said. [any zone]

    Returns
    -------
    str
        "6 May 2031". [-]

    Source
    ------
    Common practice, no source.
    """
    return f"{at.day} {MONTHS[at.month - 1]} {at.year}"


def time_words(at: datetime) -> str:
    """Say a date and a time, with the distance from UTC.

    Parameters
    ----------
    at : datetime
        In the zone in which it is said. [any zone]

    Returns
    -------
    str
        "6 May 2031 06:35 UTC+08:00". [-]

    Source
    ------
    Common practice, no source.
    """
    return f"{date_words(at)} {clock_words(at)}"


def clock_words(at: datetime) -> str:
    """Say a time of the day, with the distance from UTC.

    Parameters
    ----------
    at : datetime
        In the zone in which it is said. [any zone]

    Returns
    -------
    str
        "06:35 UTC+08:00". [-]

    Source
    ------
    Common practice, no source.
    """
    offset = f"{at:%z}"
    return f"{at:%H:%M} UTC{offset[:3]}:{offset[3:5]}".replace("UTC+00:00", "UTC")


def time_from(at: datetime, as_at: datetime) -> str:
    """Say a time from where somebody stands in time: without the date where it is the same day's.

    Parameters
    ----------
    at : datetime
        The time that is said. [any zone]
    as_at : datetime
        The time at which it is said, in the zone in which it is said. [any zone]

    Returns
    -------
    str
        "06:35 UTC", "7 May 2031 06:35 UTC". [-]

    Source
    ------
    Common practice, no source.
    """
    said = at.astimezone(as_at.tzinfo)
    return clock_words(said) if said.date() == as_at.date() else time_words(said)
