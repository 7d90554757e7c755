"""Reading on where something on the tablet is not what it was, and saying so."""

from collections.abc import Callable, Iterator
from typing import TypeVar

from fieldapp.work.authority import counting
from fieldapp.work.heading_record import remembered_wrongly
from fieldapp.work.site import Site
from schemas.trouble import DiskTrouble

Answer = TypeVar("Answer")


def as_far_as_whole(site: Site, read: Callable[[], Answer]) -> Answer:
    """Read; where something that was stated turns out to be altered, read again without it.

    What is left out then touches headings, and they say so (`Lacking`).
    """
    try:
        return read()
    except DiskTrouble:
        before = site.store.wholeness.lacking
        if site.store.wholeness.look_closely() in (None, before):
            raise
        return read()


def not_whole(site: Site) -> Iterator[DiskTrouble]:
    """Tell what of these records is missing or was altered, as they were looked at last."""
    lacking = counting(site).lacking
    if lacking is not None:
        yield lacking.told()
    unfit = remembered_wrongly(site)
    if unfit is not None:
        yield unfit
