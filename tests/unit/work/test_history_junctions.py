"""The intersections of the demo's past: one whole, one still restricted, as the truth has them.

The truth stands in `fieldapp/work/demo/history/crossing.py` and `truth.py`.
"""

from datetime import timedelta
from statistics import mean

from fieldapp.assess.intersections.span import span_m
from fieldapp.work.demo.history.crossing import BEGUN, WHOLE, TrueJunction
from fieldapp.work.demo.history.truth import CABLE_KN, CABLE_SPREAD_KN
from fieldapp.work.entry import entry
from fieldapp.work.headings import heading
from fieldapp.work.intersection.record import StatedIntersection, stated_intersections
from fieldapp.work.intersection.seen import findings, today
from fieldapp.work.intersection.steps import intersections, waits_for
from fieldapp.work.known import Known
from schemas.bodies.intersection import Intersection
from schemas.findings import Verdict
from tests.past import Past


def known(past: Past, it: TrueJunction) -> Known[Intersection]:
    (found,) = intersections(past.site, heading(past.site, it.heading).id)
    return found


def told(past: Past, it: TrueJunction) -> StatedIntersection:
    (found,) = stated_intersections(past.site, heading(past.site, it.heading).id)
    return found


def test_the_whole_one_meets_its_standard_and_restricts_nobody(past: Past) -> None:
    whole = known(past, WHOLE)
    found = findings(past.site, whole)

    assert {it.check for it in found} >= {"intersection_span", "largest_gap", "cable_length"}
    assert {it.verdict for it in found} == {Verdict.ACCEPT}
    assert waits_for(past.site, whole) == ""
    assert today(past.site, whole) is None
    # of a turnout as wide as its drive the circle touches one wall and two corners: 1.25 widths
    assert 6.249 <= span_m(whole.body.corners) <= 6.25


def test_its_cables_were_put_in_over_days_and_plated_once_the_grout_had_cured(past: Past) -> None:
    by_step = {it.step: it for it in told(past, WHOLE).revisions}
    authors = {it.entry.author for it in [known(past, WHOLE)]}
    tension = [float(it.tension_kn or 0) for it in by_step["plated"].cables_at]

    assert list(by_step) == ["planned", "drilled", "grouted", "plated"]
    assert by_step["plated"].at - by_step["grouted"].at >= timedelta(hours=24)
    assert by_step["plated"].role == "shift supervisor"
    assert authors.isdisjoint(by_step["grouted"].installers)
    assert abs(mean(tension) - CABLE_KN) < 3 * CABLE_SPREAD_KN / len(tension) ** 0.5


def test_beneath_the_one_whose_cables_are_drilled_only_entry_is_restricted(past: Past) -> None:
    begun = known(past, BEGUN)
    state = entry(past.site, begun.body.heading, past.now)

    assert (begun.body.step, begun.body.count) == ("drilled", BEGUN.cables)
    assert waits_for(past.site, begun) == "not grouted yet"
    assert {it.verdict for it in findings(past.site, begun)} == {Verdict.ACCEPT}
    assert "restricted: cables of the junction at 180.0 m not grouted yet" in state.because
    assert state.state == "restricted"
