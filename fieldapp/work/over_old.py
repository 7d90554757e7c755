"""New support over old: a rehab of a stretch, a stripped wall, an old drive without a record.

It is a round of its own kind and stands alone: what the old bolts hold is never added to it.
"""

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from typing import Final

from fieldapp.work.events import events
from fieldapp.work.headings import heading
from fieldapp.work.known import Known
from fieldapp.work.rechaining import chained_now
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import DraftAbout, begun, demanded_of_next, old_rows_before, rounds
from fieldapp.work.site import Session, Site
from fieldapp.work.walk.supported_ground import supported_ground
from fieldapp.work.writing import new_thing_id
from schemas.bodies.heading import Heading
from schemas.bodies.round import OverOld, Round
from schemas.numbers import SAID_M, rounded, text
from schemas.standard import SupportClass
from schemas.trouble import BadInput

MOST_ROWS: Final = 60
"""A round has no more."""


@dataclass(eq=False)
class NotOverOld(BadInput):
    """A stretch was named over which no round of new support can be put up."""

    heading: str
    from_m: str
    to_m: str
    why: str

    happened = "No new support over old from {from_m} m to {to_m} m in {heading}: {why}."
    kept = "Nothing was begun."
    do_next = "Name the old rows that stay at both ends, outbye first; a long stretch in parts."


def begin_over_old(
    site: Site, heading_id: str, from_m: Decimal, to_m: Decimal, session: Session | None
) -> RoundWork:
    """Begin a round of new support over old, between two old rows that stay.

    Raises
    ------
    NotOverOld
        The stretch has no length, isn't supported, or takes more rows than a round has.
    AlreadyOpen
        A round of this heading is open on this tablet.
    NoStandard
        No standard is in force.
    ClassLeftOut
        The standard in force has no such support class.
    """
    place = heading(site, heading_id)
    standard, support_class = demanded_of_next(site, place, place.body.support_class)
    rows = _rows(support_class, to_m - from_m)
    _refuse(site, place, (from_m, to_m), rows)
    began = Round(
        heading=place.id,
        number=_next_number(site, place.id),
        support_class=place.body.support_class,
        standard=standard.entry.revision,
        joint_m=from_m,
        rows_planned=rows,
        started_at=site.now(),
        over=OverOld(to_m=to_m, after=_stripped_in(site, place.id, from_m, to_m)),
        chained_at=chained_now(site, place.id),
    )
    old_rows = old_rows_before(support_class, began, None, standard.body)
    about = DraftAbout(
        heading_id=place.id,
        standard=standard.entry.revision,
        began=began.model_copy(update={"old_rows": old_rows}),
        begun_by=session.person_id if session else None,
    )
    return begun(site, new_thing_id(site), about)


def _refuse(
    site: Site, place: Known[Heading], stretch: tuple[Decimal, Decimal], rows: int
) -> None:
    from_m, to_m = stretch
    ground = supported_ground(site, place.id)
    why = None
    if not from_m < to_m:
        why = "it has no length"
    elif from_m < ground.from_m or to_m > ground.to_m:
        ends = (text(rounded(it, SAID_M)) for it in (ground.from_m, ground.to_m))
        why = "old support stands from {} m to {} m".format(*ends)
    elif rows > MOST_ROWS:
        why = f"it takes {rows} rows, a round has {MOST_ROWS} at most"
    if why is not None:
        raise NotOverOld(place.body.name, text(from_m), text(to_m), why)


def _rows(support_class: SupportClass, length_m: Decimal) -> int:
    """Give the rows after which the old row inbye is near enough."""
    left_m = length_m - support_class.limits.last_row_to_face.at_most_m
    rows = (left_m / support_class.pattern.row_spacing_m).to_integral_value(ROUND_CEILING)
    return max(1, int(rows))


def _next_number(site: Site, heading_id: str) -> int:
    over = (it.body.number for it in rounds(site, heading_id) if it.body.over is not None)
    return max(over, default=0) + 1


def _stripped_in(site: Site, heading_id: str, from_m: Decimal, to_m: Decimal) -> tuple[str, ...]:
    """Give the strippings known of the stretch: the round answers these and none stated later."""
    return tuple(
        it.id
        for it in events(site, heading_id)
        if it.body.stripped and it.body.chainage_m < to_m and it.body.stripped.to_m > from_m
    )
