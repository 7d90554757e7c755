"""What the standard says of an intersection: span, bolts, gap, density, load, cables, order."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest

from fieldapp.assess.intersections import Crossing, Done, intersection_findings, positions_m
from schemas.bodies.intersection import Corner, Intersection, PlanBolt, PlanCable
from schemas.findings import Finding, Verdict
from schemas.intersection_rules import IntersectionRule
from tests.standards import W3, changed, put

AT = datetime(2031, 5, 6, 9, tzinfo=UTC)
HOUR = timedelta(hours=1)
SQUARE = tuple(
    Corner(x_m=Decimal(x), y_m=Decimal(y)) for x, y in ((0, -4), (8, -4), (8, 4), (0, 4))
)
CABLE = PlanCable(x_m=Decimal(1), y_m=Decimal(1), length_m=Decimal(5), tension_kn=Decimal(60))


def crossing(change: dict[str, Any] | None = None, **said: Any) -> Crossing:
    """Give the junction as its class demands it, but for what is changed."""
    standard = changed(put(W3, "intersection", **(change or {})))
    demanded = standard.classes[W3]
    rule = demanded.intersection
    assert isinstance(rule, IntersectionRule)
    assert rule.pattern is not None
    bolts = tuple(
        PlanBolt(x_m=as_read(x), y_m=as_read(y), method="tape", plate="seated")
        for x, y in positions_m(SQUARE, rule.pattern)
    )
    body = Intersection(
        heading="junction",
        from_m=Decimal(50),
        to_m=Decimal(58),
        corners=SQUARE,
        corners_method="tape",
        bolts=bolts,
        cables_at=(CABLE,) * 6,
        support_class="W3",
        cable="LB50",
        cables=6,
        step="plated",
        count=6,
        at=AT,
    ).model_copy(update=said)
    return Crossing(body, rule, demanded, standard.measuring)


def as_read(value: float) -> Decimal:
    return Decimal(str(round(value, 3)))


def found(judged: Crossing, check: str, done: Done | None = None) -> Finding:
    each = intersection_findings(judged, done or Done())
    return next(it for it in each if it.check == check)


def test_one_that_is_as_its_class_demands_is_accepted_by_every_check() -> None:
    each = intersection_findings(crossing(), Done())

    assert {it.verdict for it in each} == {Verdict.ACCEPT}
    assert [it.check for it in each] == [
        "intersection_span",
        "bolts_present",
        "largest_gap",
        "density",
        "cables_planned",
        "cable_length",
        "load",
    ]


def test_a_class_that_says_nothing_of_intersections_judges_nothing() -> None:
    bare = dict.fromkeys(("span", "pattern", "bolts_present", "largest_gap"))
    rest = dict.fromkeys(("density", "load", "cables", "breakaway"))

    assert intersection_findings(crossing_without({**bare, **rest}), Done(opened_at=AT)) == ()


def crossing_without(change: dict[str, Any]) -> Crossing:
    whole = crossing()
    rule = whole.rule.model_copy(update=change)
    return Crossing(whole.body, rule, whole.support_class, whole.measuring)


def test_a_span_near_its_bound_is_measured_again_where_its_corners_were_paced() -> None:
    corners = tuple(it.model_copy(update={"x_m": it.x_m, "y_m": it.y_m * 2}) for it in SQUARE)
    wide = tuple(it.model_copy(update={"x_m": it.x_m / 8 * Decimal("8.4")}) for it in corners)
    span = found(crossing(corners=wide, corners_method="paced"), "intersection_span")
    taped = found(crossing(corners=wide), "intersection_span")

    assert (span.verdict, span.measured) == (Verdict.MEASURE_AGAIN, "8.400")
    assert taped.verdict is Verdict.ACCEPT


def test_a_bolt_missing_is_named_by_its_place_and_opens_a_gap() -> None:
    whole = crossing().body.bolts
    one_less = crossing(bolts=(*whole[:7], *whole[8:]))
    missing, gap = found(one_less, "bolts_present"), found(one_less, "largest_gap")

    assert (missing.verdict, missing.measured) == (Verdict.REWORK, "41 of 42")
    assert missing.fix == ("add a bolt, 51.7 m, 2.0 m left of the centre line",)
    assert gap.verdict is Verdict.REWORK
    assert gap.because == "S-2, 8.3"


def test_a_loose_plate_opens_a_gap_of_plated_bolts_and_none_of_anchored_ones() -> None:
    whole = crossing().body.bolts
    loose = whole[7].model_copy(update={"plate": "loose"})
    judged = crossing(bolts=(*whole[:7], loose, *whole[8:]))

    assert found(judged, "bolts_present").verdict is Verdict.ACCEPT
    assert found(judged, "largest_gap").basis.startswith("plated bolts")
    assert found(judged, "largest_gap").verdict is Verdict.REWORK


def test_bolts_that_nobody_looked_at_are_no_bolts_that_are_there() -> None:
    for check in ("bolts_present", "largest_gap", "density", "load"):
        assert found(crossing(bolts=()), check).verdict is Verdict.NOT_LOOKED_AT


def test_plates_that_nobody_looked_at_are_not_taken_for_seated() -> None:
    whole = crossing().body.bolts
    unseen = tuple(it.model_copy(update={"plate": None}) for it in whole)

    assert found(crossing(bolts=unseen), "largest_gap").verdict is Verdict.NOT_LOOKED_AT


def test_cables_too_few_too_short_or_too_slack_are_found() -> None:
    tension = {"because": "S-2, 8.6", "breach": "rework", "guard_factor": "0", "at_least_kn": "50"}
    change = {"cables": {"because": "S-2, 8.6", "at_least": 6, "tension": tension}}
    slack = CABLE.model_copy(update={"tension_kn": Decimal("49.9")})
    short = CABLE.model_copy(update={"length_m": Decimal("4.9")})
    tight = found(crossing(change, cables_at=(*(CABLE,) * 5, slack)), "cable_tension")
    few = found(crossing(cables=5), "cables_planned")

    assert (tight.verdict, tight.measured, tight.limit) == (Verdict.REWORK, "49.9", "at least 50")
    assert found(crossing(cables_at=(*(CABLE,) * 5, short)), "cable_length").measured == "4.900"
    assert (few.verdict, few.measured, few.limit) == (Verdict.REWORK, "5", "at least 6")


def test_a_length_that_nobody_told_is_not_looked_at() -> None:
    length = found(crossing(cables_at=(CABLE,) * 5), "cable_length")

    assert length.verdict is Verdict.NOT_LOOKED_AT
    assert "the length of 1 of 6 cables" in length.how


def step(which: str, hours: float, **said: Any) -> Intersection:
    said = {"step": which, "count": 6, "at": AT + hours * HOUR, **said}
    return crossing().body.model_copy(update=said)


STEPS = (step("drilled", -50), step("grouted", -40), step("plated", -10))


@pytest.mark.parametrize(
    ("done", "verdict", "stood"),
    [
        (Done(STEPS, AT, Decimal(24)), Verdict.ACCEPT, "plated"),
        (Done(STEPS, AT - 11 * HOUR, Decimal(24)), Verdict.REWORK, "grouted"),
        (Done(STEPS, AT - 45 * HOUR, Decimal(24)), Verdict.REWORK, "drilled"),
        (Done((), AT, Decimal(24)), Verdict.REWORK, "planned"),
        (Done(STEPS, AT, Decimal(31)), Verdict.REWORK, "grouted"),
        (Done((*STEPS[:2], step("plated", -10, count=5)), AT, Decimal(24)), Verdict.REWORK,
         "grouted"),
    ],
)  # fmt: skip
def test_the_cables_are_as_far_as_is_demanded_before_the_breakaway_is_taken(
    done: Done, verdict: Verdict, stood: str
) -> None:
    order = found(crossing(), "breakaway", done)

    assert (order.verdict, order.measured, order.limit) == (
        verdict,
        f"cables {stood}",
        "plated demanded",
    )
    assert order.because == "S-2, 8.7: support before opening"


def test_stiff_and_yielding_support_is_never_summed() -> None:
    """Yielding cables between stiff bolts take nothing off them."""
    whole = crossing()
    alone = found(crossing(cables_at=()), "load").measured
    kinds = whole.support_class.bolts
    cable = kinds[0].model_copy(update={"code": "CB", "yields": True})
    demanded = whole.support_class.model_copy(update={"bolts": (*kinds, cable)})
    body = whole.body.model_copy(update={"cable": "CB"})
    beside = Crossing(body, whole.rule, demanded, whole.measuring)

    assert found(beside, "load").measured == alone


def test_an_outline_that_is_none_is_held_and_never_measured() -> None:
    bow = tuple(
        Corner(x_m=Decimal(x), y_m=Decimal(y)) for x, y in ((0, 0), (5, 5), (5, 0), (0, 5))
    )
    (held,) = intersection_findings(crossing(corners=bow), Done())

    assert held.verdict is Verdict.REWORK
    assert held.places[0].words == "its outline crosses or touches itself"


def test_a_higher_crown_makes_the_gap_wider_and_less_sure_and_never_narrower() -> None:
    """Of 8 m span and 1 m rise: R = 8.5 m; 8.5 · (asin(4/8.5) - asin(2.243/8.5)) = 1.895 m."""
    flat = found(crossing(), "largest_gap")
    level = found(crossing(crown_m=Decimal(0)), "largest_gap")
    arched = found(crossing(crown_m=Decimal(1)), "largest_gap")

    assert (flat.measured, level.measured) == ("1.757", "1.757")
    assert "positions measured, flat, in plan;" in flat.basis
    assert arched.measured is not None
    assert float(arched.measured) == pytest.approx((1.757 + 1.895) / 2, abs=0.001)
    assert "between plan and the rock of a crown 1 m higher" in arched.basis
    assert float(arched.uncertainty or 0) > float(flat.uncertainty or 0)
