"""A junction of the Wrenfall mine, for statements about intersections."""

from decimal import Decimal

from fieldapp.work.demo.story import JUNCTION
from fieldapp.work.intersection.stating import add_intersection
from fieldapp.work.intersection.steps import plate, put_in
from fieldapp.work.known import Known
from schemas.bodies.intersection import CableStep, Corner, Intersection, PlanBolt, PlanCable
from tests.demo_mine import CODES
from tests.unit.work.conftest import Shift

DAY, NIGHT, BOLTER = "Day supervisor", "Night supervisor", "Bolter, crew A"
SQUARE = tuple(
    Corner(x_m=Decimal(x), y_m=Decimal(y)) for x, y in ((0, -4), (8, -4), (8, 4), (0, 4))
)


BOLTS = tuple(
    PlanBolt(
        x_m=round(Decimal(x) * 8 / 14, 3),
        y_m=round(Decimal(y) * 8 / 12, 3),
        method="tape",
        plate="seated",
    )
    for x in range(1, 14, 2)
    for y in range(-5, 7, 2)
)
"""As the class W3 demands them: at most 1.4 m apart across it, 1.2 m along it."""
CABLES = tuple(PlanCable(x_m=Decimal(it), y_m=Decimal(0), length_m=Decimal(5)) for it in range(12))


def junction(shift: Shift, **said: object) -> Intersection:
    body = Intersection(
        heading=shift.place(JUNCTION).id,
        from_m=Decimal(50),
        to_m=Decimal(58),
        corners=SQUARE,
        support_class="W3",
        cable="LB50",
        cables=12,
        step="planned",
        at=shift.clock(),
        bolts=BOLTS,
        cables_at=CABLES,
        corners_method="tape",
    )
    return body.model_copy(update=said)


def planned(shift: Shift) -> Known[Intersection]:
    shift.wait(minutes=1)
    return add_intersection(shift.site, junction(shift), None)


def said(
    shift: Shift, known: Known[Intersection], step: CableStep, count: int = 12, who: str = BOLTER
) -> Known[Intersection]:
    shift.wait(minutes=1)
    return put_in(shift.site, known.id, shift.who(who), step, count, shift.clock())


def plated(shift: Shift, known: Known[Intersection], who: str = DAY) -> Known[Intersection]:
    shift.wait(minutes=1)
    return plate(shift.site, known.id, shift.who(who), CODES[who], 12, shift.clock())


def grouted(shift: Shift) -> Known[Intersection]:
    known = planned(shift)
    said(shift, known, "drilled")
    return said(shift, known, "grouted")


def why(shift: Shift) -> str:
    return next(iter(shift.entry(JUNCTION).because), "")
