"""Every place of a heading that somebody stated, by today's chainages."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from fieldapp.work.events import events
from fieldapp.work.known import Known, current
from fieldapp.work.notices import notices
from fieldapp.work.round_ends import ends_m
from fieldapp.work.rounds import rounds
from fieldapp.work.site import Sight
from schemas.bodies.bolt_test import BoltTest
from schemas.bodies.damage import Damage
from schemas.bodies.heading import Heading
from schemas.bodies.intersection import Intersection
from schemas.bodies.rehab import Rehab
from schemas.bodies.round import Round
from schemas.bodies.survey_peg import SurveyPeg


@dataclass(frozen=True)
class PlaceStated:
    """One place, and of what it is."""

    what: str
    """Its kind: "round"."""
    thing: str
    """Id of the thing."""
    at_m: Decimal
    words: str
    """"a row of round 87"."""


def places_stated(site: Sight, place: Known[Heading]) -> Iterator[PlaceStated]:
    """Yield every place, kind by kind."""
    last_row = "the last row of when the heading was entered"
    yield PlaceStated("heading", place.id, place.body.last_row_m, last_row)
    yield PlaceStated("heading", place.id, place.body.face_m, "the face of then")
    for it in rounds(site, place.id):
        words = f"a row of {it.body.name}"
        yield from (PlaceStated("round", it.id, at_m, words) for at_m in _rows_m(it))
    yield from _of_things(site, place)
    for point in place.body.surveyed:
        at_m = point.chainage_m
        yield PlaceStated("surveyed point", str(at_m), at_m, "a point of the surveyed line")


def _of_things(site: Sight, place: Known[Heading]) -> Iterator[PlaceStated]:
    for event in events(site, place.id):
        stripped = event.body.stripped
        ends = (event.body.chainage_m, stripped.to_m if stripped else None)
        yield from _ends("event", event.id, event.body.what, *ends)
    for notice in notices(site, place.id):
        body = notice.body
        yield from _ends("notice", notice.id, body.what, body.from_m, body.to_m)
    for seen in current(site, "damage", Damage, heading=place.id):
        of = seen.body.again or seen.id
        yield from _ends("damage", of, seen.body.kind, seen.body.chainage_m, seen.body.to_m)
    for repair in current(site, "rehab", Rehab, heading=place.id):
        yield from _ends("repair", repair.id, "a repair", repair.body.from_m, repair.body.to_m)
    for cut in current(site, "intersection", Intersection, heading=place.id):
        ends = (cut.body.from_m, cut.body.to_m)
        yield from _ends("intersection", cut.id, "an intersection", *ends)
    for peg in current(site, "survey_peg", SurveyPeg, heading=place.id):
        yield PlaceStated("survey peg", peg.id, peg.body.chainage_m, f"the peg {peg.body.name}")
    for test in current(site, "bolt_test", BoltTest, heading=place.id):
        yield PlaceStated("bolt test", test.id, test.body.chainage_m, "a tested bolt")


def _ends(
    what: str, thing: str, words: str, from_m: Decimal, to_m: Decimal | None
) -> Iterator[PlaceStated]:
    for at_m in (from_m, to_m):
        if at_m is not None:
            yield PlaceStated(what, thing, at_m, words)


def _rows_m(known: Known[Round]) -> Iterator[Decimal]:
    at_m = known.body.joint_m
    for row in known.body.rows:
        if row.ahead_of_row_before is not None:
            at_m += row.ahead_of_row_before.value_m
            yield at_m
    yield ends_m(known)
    if known.body.over is not None:
        yield known.body.over.to_m
