"""An intersection by the revision of its day, what today's makes of it, and cables refused."""

from typing import Any

import pytest

from fieldapp.work.demo.story import JUNCTION
from fieldapp.work.intersection.seen import as_demanded, findings, record_support, today
from fieldapp.work.intersection.steps import put_in, refuse
from fieldapp.work.intersection.troubles import StepRefused
from fieldapp.work.standard_in_force import in_force
from fieldapp.work.writing import state
from schemas.findings import Verdict
from tests.unit.work.at_a_junction import (
    BOLTER,
    DAY,
    grouted,
    junction,
    planned,
    plated,
    said,
    why,
)
from tests.unit.work.conftest import Shift
from tests.unit.work.test_both_standards import revise

TOO_WIDE = "restricted: junction at 50.0 m: span 8.000 m, at most 7.0 m"


def narrower(document: Any) -> None:
    """Demand of the class of intersections a span of 7 m."""
    rule = next(it["intersection"] for it in document["classes"] if it["code"] == "W3")
    rule["span"]["at_most_m"] = "7.0"


def no_rule(document: Any) -> None:
    next(it for it in document["classes"] if it["code"] == "W3").pop("intersection")


def whole(shift: Shift) -> Any:
    known = grouted(shift)
    shift.wait(hours=24)
    return plated(shift, known)


def test_it_is_judged_by_the_revision_of_its_day_and_todays_is_said_beside(shift: Shift) -> None:
    known = whole(shift)
    assert today(shift.site, known) is None
    shift.wait(days=30)
    revise(shift, narrower)
    (span,) = (it for it in findings(shift.site, known) if it.check == "intersection_span")
    both = today(shift.site, known)

    assert (span.verdict, span.limit) == (Verdict.ACCEPT, "at most 8.5")
    assert shift.entry(JUNCTION).state == "entry allowed"
    assert both is not None
    assert [it.words for it in both] == [
        "S-2 revision 5: accept",
        "S-2 revision 6: rework, span 8.000 m, at most 7.0 m",
    ]


def test_one_stated_today_is_judged_by_todays_revision(shift: Shift) -> None:
    revise(shift, narrower)
    known = planned(shift)

    assert known.body.standard == in_force(shift.site, shift.clock()).entry.revision
    assert TOO_WIDE in shift.entry(JUNCTION).because
    assert today(shift.site, known) is None


def test_one_that_names_no_revision_is_judged_by_the_one_in_force_as_it_was_stated(
    shift: Shift,
) -> None:
    """As older versions wrote it."""
    shift.wait(minutes=1)
    body = junction(shift)
    state(shift.site, "intersection", body, author=shift.who(BOLTER).person_id)
    shift.wait(days=1)
    revise(shift, narrower)

    assert shift.entry(JUNCTION).because == (
        "restricted: cables of the junction at 50.0 m not drilled yet",
    )


def test_one_that_names_a_revision_that_is_not_here_is_judged_by_that_of_its_time(
    shift: Shift,
) -> None:
    revise(shift, narrower)
    shift.wait(minutes=1)
    body = junction(shift, standard="0" * 64)
    state(shift.site, "intersection", body, author=shift.who(BOLTER).person_id)

    assert TOO_WIDE in shift.entry(JUNCTION).because


def test_a_revision_without_a_rule_for_its_class_is_said_to_have_none(shift: Shift) -> None:
    known = whole(shift)
    shift.wait(days=1)
    revise(shift, no_rule)
    both = today(shift.site, known)

    assert both is not None
    assert both[1].words == "S-2 revision 6: no rule for intersections of that class"
    assert as_demanded(shift.site, known) != ()
    assert shift.entry(JUNCTION).state == "entry allowed"


def test_refused_cables_restrict_entry_with_the_reason_until_they_are_signed(
    shift: Shift,
) -> None:
    known = whole(shift)
    shift.wait(minutes=1)
    refused = refuse(shift.site, known.id, shift.who(DAY), "a plate is loose")

    assert (refused.body.step, refused.body.count) == ("grouted", 12)
    assert why(shift).endswith("at 50.0 m not plated yet; refused: a plate is loose")
    shift.wait(minutes=1)
    record_support(shift.site, known.id, shift.who(BOLTER), cables=refused.body.cables_at)
    assert why(shift).endswith("not plated yet: to be signed once more")
    plated(shift, known)
    assert shift.entry(JUNCTION).state == "entry allowed"


def test_cables_that_are_refused_as_they_are_drilled_say_why(shift: Shift) -> None:
    known = planned(shift)
    said(shift, known, "drilled", 5)
    shift.wait(minutes=1)
    refuse(shift.site, known.id, shift.who(DAY), "a hole is blocked")

    assert why(shift).endswith("not drilled yet: 5 of 12 are; refused: a hole is blocked")
    put_in(shift.site, known.id, shift.who(BOLTER), "drilled", 12, shift.clock())
    assert why(shift).endswith("not grouted yet")
    with pytest.raises(StepRefused, match="nobody knows what"):
        refuse(shift.site, known.id, shift.who(DAY), " ")


def test_whoever_refused_cables_put_in_none_of_them(shift: Shift) -> None:
    known = grouted(shift)
    refuse(shift.site, known.id, shift.who(DAY), "a plate is loose")
    shift.wait(hours=24)

    assert plated(shift, known, DAY).body.refused_because == ""
