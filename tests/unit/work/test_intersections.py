"""An intersection: entry is restricted until its cables are plated by somebody else, and cured."""

from datetime import timedelta
from decimal import Decimal

import pytest

from fieldapp.work.demo.story import JUNCTION
from fieldapp.work.intersection_troubles import (
    NoSuchCable,
    NoSuchIntersection,
    OpeningRefused,
    PutInByThem,
    StepRefused,
)
from fieldapp.work.intersections import add_intersection, plate, put_in
from fieldapp.work.known import Known
from fieldapp.work.roles import NotYours
from fieldapp.work.signatures import signatures_that_do_not_fit
from fieldapp.work.withdrawals import withdraw
from fieldapp.work.writing import state
from schemas.bodies.intersection import CableStep, Corner, Intersection
from tests.demo_mine import CODES
from tests.unit.work.conftest import Shift

DAY, NIGHT, BOLTER = "Day supervisor", "Night supervisor", "Bolter, crew A"
SQUARE = tuple(
    Corner(x_m=Decimal(x), y_m=Decimal(y)) for x, y in ((0, -4), (8, -4), (8, 4), (0, 4))
)


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


def test_entry_is_restricted_from_the_first_word_to_the_plates_that_count(shift: Shift) -> None:
    assert shift.entry(JUNCTION).state == "entry allowed"
    known = planned(shift)
    assert shift.entry(JUNCTION).state == "restricted"
    assert why(shift) == "restricted: cables of the junction at 50.0 m not drilled yet"
    assert why(shift) in shift.row(JUNCTION).entry.because
    said(shift, known, "drilled", 5)
    assert why(shift).endswith("not drilled yet: 5 of 12 are")
    said(shift, known, "drilled")
    assert why(shift).endswith("not grouted yet")
    said(shift, known, "grouted")
    assert why(shift).endswith("not plated yet")
    shift.wait(hours=24)
    plated(shift, known)

    assert shift.entry(JUNCTION).state == "entry allowed"
    assert signatures_that_do_not_fit(shift.site) == ()


def test_plates_put_on_before_the_grout_had_cured_do_not_count(shift: Shift) -> None:
    known = grouted(shift)
    plated(shift, known)
    assert "not cured before" in why(shift)
    shift.wait(hours=25)
    assert why(shift).endswith("plated before they had cured, and to be plated once more")
    plated(shift, known, NIGHT)

    assert shift.entry(JUNCTION).state == "entry allowed"


def test_a_step_that_is_withdrawn_brings_the_restriction_back(shift: Shift) -> None:
    known = grouted(shift)
    shift.wait(hours=24)
    last = plated(shift, known)
    shift.wait(minutes=1)
    withdraw(shift.site, last.entry.revision, shift.who(DAY), reason="the wrong junction")

    assert why(shift).endswith("not plated yet")


def test_grout_that_is_withdrawn_takes_the_plates_along(shift: Shift) -> None:
    known = planned(shift)
    said(shift, known, "drilled")
    grout = said(shift, known, "grouted")
    shift.wait(hours=24)
    plated(shift, known)
    shift.wait(minutes=1)
    withdraw(shift.site, grout.entry.revision, shift.who(DAY), reason="the pump had failed")

    assert why(shift).endswith("not grouted yet")


def test_what_is_drilled_again_is_plated_again(shift: Shift) -> None:
    known = grouted(shift)
    shift.wait(hours=24)
    plated(shift, known)
    said(shift, known, "drilled")

    assert why(shift).endswith("not plated yet: they were worked on since")


def test_nobody_signs_for_cables_that_they_put_in(shift: Shift) -> None:
    known = planned(shift)
    said(shift, known, "drilled", who=DAY)
    said(shift, known, "grouted")
    shift.wait(hours=24)

    with pytest.raises(PutInByThem):
        plated(shift, known, DAY)
    with pytest.raises(NotYours):
        plated(shift, known, "Geotechnical technician")


def test_plates_stated_by_whoever_may_not_or_without_a_signature_count_as_none(
    shift: Shift,
) -> None:
    """Another tablet may have taken it."""
    known = grouted(shift)
    shift.wait(hours=24)
    body = junction(shift, step="plated", count=12, at=shift.clock())
    for name in (DAY, BOLTER):
        shift.wait(minutes=1)
        head = shift.who(name).person_id
        state(shift.site, "intersection", body, author=head, thing_id=known.id)

    assert why(shift).endswith("not plated yet")


def test_a_later_word_takes_no_ground_and_no_cable_out_of_the_restriction(shift: Shift) -> None:
    known = planned(shift)
    milder = junction(shift, from_m=Decimal(57), cables=1, step="drilled", count=1)
    shift.wait(minutes=1)
    author, parents = shift.who(BOLTER).person_id, (known.entry.revision,)
    state(shift.site, "intersection", milder, author=author, thing_id=known.id, parents=parents)

    assert "at 50.0 m not drilled yet: 1 of 12 are" in why(shift)


def test_steps_are_taken_in_their_order_and_never_ahead_of_time(shift: Shift) -> None:
    known = planned(shift)
    for step, count, reason in (
        ("grouted", 12, "they are only planned yet"),
        ("drilled", 13, "13 of 12 cables were named"),
        ("drilled", 0, "0 of 12 cables were named"),
    ):
        with pytest.raises(StepRefused, match=reason):
            said(shift, known, step, count)  # type: ignore[arg-type]
    said(shift, known, "drilled", 5)
    with pytest.raises(StepRefused, match="only 5 were drilled"):
        said(shift, known, "grouted")
    later = shift.clock() + timedelta(hours=1)
    with pytest.raises(StepRefused, match="has not come yet"):
        put_in(shift.site, known.id, shift.who(BOLTER), "drilled", 12, later)
    earlier = shift.clock() - timedelta(hours=1)
    with pytest.raises(StepRefused, match="before they were drilled"):
        put_in(shift.site, known.id, shift.who(BOLTER), "grouted", 5, earlier)


@pytest.mark.parametrize(
    ("changed", "trouble"),
    [
        ({"corners": SQUARE[:2]}, OpeningRefused),
        ({"to_m": Decimal(50)}, OpeningRefused),
        ({"cable": "CB9"}, NoSuchCable),
        ({"support_class": "X9"}, NoSuchCable),
    ],
)
def test_what_can_be_no_intersection_is_refused(
    shift: Shift, changed: dict[str, object], trouble: type[Exception]
) -> None:
    with pytest.raises(trouble):
        add_intersection(shift.site, junction(shift, **changed), None)

    assert shift.entry(JUNCTION).state == "entry allowed"


def test_a_step_of_what_nobody_planned_is_refused(shift: Shift) -> None:
    with pytest.raises(NoSuchIntersection):
        put_in(shift.site, "nowhere", shift.who(BOLTER), "drilled", 1, shift.clock())
