"""Where a heading can be closed at once, without anybody typing a chainage."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from fieldapp.work.entry import entry
from fieldapp.work.headings import headings
from fieldapp.work.known import Known
from fieldapp.work.site import Site
from fieldapp.work.standard_in_force import adopted
from schemas.bodies.heading import Heading

WHOLE_HEADING_M = Decimal(0)
NO_SPACING_M = Decimal(30)
"""How far back from the entry line where no standard says how rows are spaced."""


@dataclass(frozen=True)
class Closing:
    """One heading, and the two closings that need no chainage: its end, or all of it."""

    heading_id: str
    name: str
    last_rows_m: Decimal | None
    """The last two rows inside the entry line, so that the ground above them is closed too.
    None while nobody has looked where they are: the whole heading can be closed already."""


def whole_headings(site: Site) -> tuple[Closing, ...]:
    """Give every heading at once, without working out where its last rows are."""
    return tuple(Closing(it.id, it.body.name, None) for it in headings(site))


def closings(site: Site, at: datetime) -> tuple[Closing, ...]:
    """Give the closings of every heading, in the order in which the headings were entered."""
    return tuple(
        Closing(
            heading_id=known.id,
            name=known.body.name,
            last_rows_m=_last_rows_m(site, known, at),
        )
        for known in headings(site)
    )


def _last_rows_m(site: Site, known: Known[Heading], at: datetime) -> Decimal:
    line_m = entry(site, known.id, at).line_m
    back_m = 2 * max(_spacings_m(site, known.body), default=NO_SPACING_M / 2)
    return max(WHOLE_HEADING_M, line_m - back_m)


def _spacings_m(site: Site, place: Heading) -> Iterator[Decimal]:
    for known in adopted(site):
        support_class = known.body.support_class(place.support_class)
        if support_class is not None:
            yield support_class.pattern.row_spacing_m
