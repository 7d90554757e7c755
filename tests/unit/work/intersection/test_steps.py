"""An intersection: entry is restricted until its cables are plated by somebody else, and cured."""

from datetime import timedelta
from decimal import Decimal

import pytest

from fieldapp.work.demo.story import JUNCTION
from fieldapp.work.intersection.seen import findings, open_up, record_support
from fieldapp.work.intersection.stating import add_intersection
from fieldapp.work.intersection.steps import put_in
from fieldapp.work.intersection.troubles import (
    NoSuchCable,
    NoSuchIntersection,
    OpeningRefused,
    PutInByThem,
    StepRefused,
)
from fieldapp.work.known import Known
from fieldapp.work.notices import inspect
from fieldapp.work.roles import NotYours
from fieldapp.work.signatures import signatures_that_do_not_fit
from fieldapp.work.withdrawals import withdraw
from fieldapp.work.writing import state
from schemas.bodies.intersection import Intersection
from schemas.findings import Verdict
from tests.unit.work.at_a_junction import (
    BOLTER,
    BOLTS,
    DAY,
    NIGHT,
    SQUARE,
    grouted,
    junction,
    planned,
    plated,
    said,
    why,
)
from tests.unit.work.conftest import Shift


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
    assert why(shift).endswith("not plated yet; cured from 7 May 2031 09:34 UTC")
    shift.wait(hours=24)
    assert why(shift).endswith("not plated yet")
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

    assert why(shift).endswith("not plated yet: to be signed once more")


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


def test_bolts_that_nobody_looked_at_keep_entry_restricted_after_the_plates(shift: Shift) -> None:
    shift.wait(minutes=1)
    known = add_intersection(shift.site, junction(shift, bolts=()), None)
    said(shift, known, "drilled")
    said(shift, known, "grouted")
    shift.wait(hours=24)
    plated(shift, known)

    assert shift.entry(JUNCTION).state == "restricted"
    assert "largest gap: not looked at" in why(shift)


def test_bolts_recorded_after_the_plates_are_signed_for_once_more(shift: Shift) -> None:
    """Whoever records what stands has put in nothing, and may sign for it."""
    known = grouted(shift)
    shift.wait(hours=24)
    plated(shift, known)
    shift.wait(minutes=1)
    record_support(shift.site, known.id, shift.who(DAY), bolts=(*BOLTS[:7], *BOLTS[8:]))
    assert why(shift).endswith("not plated yet: to be signed once more")
    plated(shift, known)

    said_of_it = " ".join(shift.entry(JUNCTION).because)
    assert "bolts 41 of 42" in said_of_it
    assert "largest gap 2.3" in said_of_it


def opened(shift: Shift, known: Known[Intersection]) -> None:
    """Take the breakaway, wait, and inspect after it."""
    shift.wait(minutes=1)
    open_up(shift.site, known.id, shift.who(BOLTER))
    shift.wait(hours=24)
    inspect(shift.site, shift.place(JUNCTION).id, shift.who(DAY), up_to_m=Decimal(58))


def test_a_breakaway_before_the_plates_is_said_until_an_engineer_signs_them(shift: Shift) -> None:
    known = grouted(shift)
    opened(shift, known)
    early = "breakaway: cables grouted, plated demanded"
    assert any(early in it for it in shift.entry(JUNCTION).because)
    plated(shift, known)
    assert early in why(shift)
    assert shift.entry(JUNCTION).state == "restricted"
    plated(shift, known, "Geotechnical engineer")

    assert shift.entry(JUNCTION).state == "entry allowed"
    (order,) = (it for it in findings(shift.site, known) if it.check == "breakaway")
    assert order.basis.endswith("a geotechnical engineer has signed their plates since")


def test_a_breakaway_after_the_plates_withdraws_entry_as_any_blast_does(shift: Shift) -> None:
    known = grouted(shift)
    shift.wait(hours=24)
    plated(shift, known)
    shift.wait(minutes=1)
    open_up(shift.site, known.id, None)
    assert shift.entry(JUNCTION).state == "no entry, barrier not yet up"
    (order,) = (it for it in findings(shift.site, known) if it.check == "breakaway")

    assert order.verdict is Verdict.ACCEPT
    assert order.measured == "cables plated"


def test_a_span_over_the_standards_bound_is_found_with_its_doubt_and_clause(shift: Shift) -> None:
    wide = tuple(it.model_copy(update={"x_m": it.x_m * 2, "y_m": it.y_m * 2}) for it in SQUARE)
    shift.wait(minutes=1)
    known = add_intersection(shift.site, junction(shift, corners=wide), None)
    (span,) = (it for it in findings(shift.site, known) if it.check == "intersection_span")

    assert (span.verdict, span.measured, span.limit) == (
        Verdict.NO_ENTRY,
        "16.000",
        "at most 10",
    )
    assert (span.uncertainty, span.because) == ("0.020", "S-2, 8.1")
    assert shift.entry(JUNCTION).state == "no entry, barrier not yet up"


def test_bolts_are_recorded_after_the_plates_also_where_the_grout_was_withdrawn(
    shift: Shift,
) -> None:
    known = planned(shift)
    said(shift, known, "drilled")
    grout = said(shift, known, "grouted")
    shift.wait(hours=24)
    plated(shift, known)
    shift.wait(minutes=1)
    withdraw(shift.site, grout.entry.revision, shift.who(DAY), reason="the pump had failed")
    shift.wait(minutes=1)
    seen = record_support(shift.site, known.id, shift.who(DAY), bolts=BOLTS)

    assert seen.body.step == "drilled"
    assert why(shift).endswith("not grouted yet")
