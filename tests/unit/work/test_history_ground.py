"""The demo's past: rust, slipping bolts, traffic, a tremor and late repairs are found again.

The truth stands in `fieldapp/work/demo/history/truth.py`. It is found again from what people
stated, and from nothing else.
"""

from collections.abc import Iterable
from datetime import UTC, timedelta
from decimal import Decimal
from math import sqrt
from statistics import NormalDist, fmean

import pytest

from fieldapp.assess.corrosion import Piece, Rate, Thickness, rate_of
from fieldapp.assess.statistics.interval import Interval
from fieldapp.work.batches import in_doubt
from fieldapp.work.bolt_tests.recording import BoltTestKnown, bolt_tests, heading_tests
from fieldapp.work.demo.history import LASTS, RETURN
from fieldapp.work.demo.history.places import RECHAINED_BY_M, RECHAINED_FROM_M
from fieldapp.work.demo.history.truth import (
    BAD_RESIN,
    BAR_MM,
    DRY_STEEL_UM_PER_YEAR,
    GROWS_A_MONTH,
    LATE_REPAIRS,
    LOOSE_SHARE,
    MONTH_DAYS,
    NEVER_CORED,
    SHOTCRETE_MPA,
    SHOTCRETE_SPREAD_MPA,
    STRESS_A_MONTH,
    TRAFFIC_A_MONTH,
    TREMOR,
    WEAK_MPA,
    WEAK_ROUND,
    WET,
    WIRE_MM,
)
from fieldapp.work.demo.story import JUNCTION
from fieldapp.work.headings import heading, headings
from fieldapp.work.known import current
from fieldapp.work.rehab.rehab_list import rehab_list
from fieldapp.work.standard_in_force import in_force
from fieldapp.work.walk.grave import leaves
from fieldapp.work.walk.section_history import looks as looks_at
from fieldapp.work.walk.section_history import sections_known
from fieldapp.work.walk.steel_before import doubt, last_there, steel_before
from schemas.bodies.damage import Damage
from schemas.bodies.rehab import Rehab
from schemas.corrosion_rules import Steel
from tests.past import Past, Read, holds, share


def rate(reads: Iterable[Read], new_mm: float, steel: Steel) -> Interval:
    """Give what the readings of one kind of steel say it loses a year."""
    piece = Piece(steel, Decimal(str(new_mm)), None)
    found = rate_of(piece, [Thickness(it.at, it.body.read_mm, it.body.u_mm) for it in reads])
    assert isinstance(found, Rate)
    assert found.interval is not None
    return found.interval


def test_bars_in_the_wet_stretch_rust_as_fast_as_they_truly_do(past: Past) -> None:
    found = rate(past.steel(WET.heading, "bar", wet=True), BAR_MM, "bar")

    assert holds(found, WET.steel_um_per_year)
    assert found.low > 80, "as in category C5 (ISO 9223:2012, Table 2)"


def test_wire_there_keeps_its_steel_until_its_zinc_is_gone_and_then_rusts_as_bars_do(
    past: Past,
) -> None:
    reads = list(past.steel(WET.heading, "wire", wet=True))
    covered = [it for it in reads if it.body.zinc_seen]
    bare = [it for it in reads if not it.body.zinc_seen]

    assert len(covered) >= 20
    assert max(it.at for it in covered) < min(it.at for it in bare)
    assert holds(rate(covered, WIRE_MM, "wire"), 0)
    assert holds(rate(bare, WIRE_MM, "wire"), WET.steel_um_per_year)


@pytest.mark.parametrize("name", [WET.heading, RETURN])
def test_dry_steel_rusts_slowly(name: str, past: Past) -> None:
    dry = rate(past.steel(name, "bar", wet=False), BAR_MM, "bar")
    wet = rate(past.steel(WET.heading, "bar", wet=True), BAR_MM, "bar")

    assert holds(dry, DRY_STEEL_UM_PER_YEAR)
    assert dry.high < wet.low


def test_the_grade_of_rust_that_is_seen_in_the_wet_stretch_only_ever_grows(past: Past) -> None:
    grades = [
        part.corrosion_grade
        for walk in past.walked(WET.heading)
        for section in walk.sections
        for part in section.parts
        if part.part == "mesh" and part.corrosion_grade is not None
    ]

    assert grades == sorted(grades)
    assert (grades[0], grades[-1]) == (1, 4)


# --- tests of bolts ----------------------------------------------------------------------------


def proofs(past: Past, *, of_the_bad: bool) -> list[BoltTestKnown]:
    return [
        it
        for it in bolt_tests(past.site)
        if it.test.kind == "proof pull"
        and it.test.bolt_type == "RB24"
        and (it.test.batch == BAD_RESIN.label) is of_the_bad
    ]


def test_the_bad_batch_is_told_from_the_others_by_the_bolts_that_slip(past: Past) -> None:
    bad = share(it.result.failed for it in proofs(past, of_the_bad=True))
    others = share(it.result.failed for it in proofs(past, of_the_bad=False))
    slips = NormalDist(BAD_RESIN.strength_kn, BAD_RESIN.deviation_kn).cdf(85)

    assert holds(bad, slips), "the standard's proof load is 85 kN"
    assert bad.low > others.high


def test_whatever_failed_was_followed_up_and_the_batch_is_cleared(past: Past) -> None:
    opened = [
        one
        for place in headings(past.site)
        for one in heading_tests(past.site, place.id, past.now).opened
    ]

    assert len(opened) >= 10
    assert not any(one.is_open for one in opened)
    assert in_doubt(past.site) == ()


def test_one_technician_tests_one_bolt_at_a_time_and_each_bolt_stretches_its_own_way(
    past: Past,
) -> None:
    drawn = [it.test for it in bolt_tests(past.site) if it.test.why == "by the standard's share"]
    minutes = [it.tested_at.replace(second=0, microsecond=0) for it in drawn]
    held = [it for it in proofs(past, of_the_bad=False) if not it.result.failed]

    assert len(set(minutes)) == len(minutes)
    assert len({it.test.pulled[-1].displacement_mm for it in held}) >= 10


def test_every_test_of_it_can_be_judged(past: Past) -> None:
    assert all(it.result.judged for it in bolt_tests(past.site))


# --- cores of shotcrete ------------------------------------------------------------------------


def strength_mpa(cores: Iterable[BoltTestKnown]) -> tuple[float, float]:
    """Give the mean strength of the cores of some sets, and its standard error."""
    mpa = [float(core) for it in cores for core in it.test.cores_mpa]
    return fmean(mpa), SHOTCRETE_SPREAD_MPA / sqrt(len(mpa))


def test_cores_tell_the_weak_shotcrete_from_the_rest_and_two_sets_are_due(past: Past) -> None:
    numbers = {it.id: it.body.number for it in past.rounds}
    sets = [it for it in bolt_tests(past.site) if it.test.kind == "shotcrete cores"]
    weak = [it for it in sets if it.result.failed]
    good, error = strength_mpa(it for it in sets if it not in weak)
    (due,) = (
        it
        for it in heading_tests(past.site, heading(past.site, JUNCTION).id, past.now).due
        if it.kind == "shotcrete cores"
    )

    assert [numbers[it.test.round or ""] for it in weak] == [WEAK_ROUND]
    assert abs(strength_mpa(weak)[0] - WEAK_MPA) < 3 * strength_mpa(weak)[1]
    assert abs(good - SHOTCRETE_MPA) < 3 * error
    assert (due.tests, due.is_due(past.now)) == (len(NEVER_CORED), True)
    assert {numbers[it.test.round or ""] for it in sets}.isdisjoint(NEVER_CORED)


# --- damage and repair -------------------------------------------------------------------------


def test_traffic_has_the_share_of_the_damage_that_it_truly_has(past: Past) -> None:
    mains = [name for name in TRAFFIC_A_MONTH if name in STRESS_A_MONTH]
    there = {heading(past.site, name).id for name in mains}
    causes = [
        it.cause
        for it in past.first_seen.values()
        if it.heading in there and it.cause in ("vehicle", "stress")
    ]
    traffic = sum(TRAFFIC_A_MONTH[name] for name in mains)
    stress = sum(STRESS_A_MONTH[name] for name in mains)

    assert holds(share(it == "vehicle" for it in causes), traffic / (traffic + stress))


def test_as_many_repairs_are_late_as_truly_were(past: Past) -> None:
    days = {it.code: timedelta(days=it.due_days) for it in past.standard.priorities}
    due = {(it.severity, it.exposure): days[it.priority] for it in past.standard.rehab_matrix}
    late = []
    for it in current(past.site, "rehab", Rehab):
        damage = past.first_seen[it.body.damages[0]]
        assert damage.severity is not None
        assert damage.exposure is not None
        assert it.body.finished_at is not None
        by = damage.seen_at + due[damage.severity, damage.exposure]
        late.append(it.body.finished_at > by)

    assert holds(share(late), LATE_REPAIRS)


def test_what_is_repaired_is_verified_and_one_repair_is_overdue(past: Past) -> None:
    every = rehab_list(past.site, past.now, verified=True)
    open_now = [it for it in every if it.is_open]
    overdue = [it for it in open_now if it.ranked is not None and it.ranked.overdue]

    assert {it.state for it in open_now} == {"not planned"}
    assert [it.heading for it in overdue] == [WET.heading]
    assert len(every) - len(open_now) >= 50


def test_mesh_that_hangs_grows_as_fast_as_it_truly_does_until_it_is_repaired(past: Past) -> None:
    grown = [
        _growth_a_month(past.first_seen[it.body.again], it.body)
        for it in past.damages
        if it.body.again is not None and it.body.extent.bag_depth is not None
    ]

    assert len(grown) >= 3
    assert fmean(grown) == pytest.approx(GROWS_A_MONTH, rel=0.35)


def _growth_a_month(first: Damage, then: Damage) -> float:
    months = (then.seen_at - first.seen_at) / timedelta(days=MONTH_DAYS)
    before, now = first.extent.bag_depth, then.extent.bag_depth
    assert before is not None
    assert now is not None
    return (float(now.value_mm / before.value_mm) - 1) / months


def test_the_tremor_bagged_mesh_near_it_and_brought_the_walls_together(past: Past) -> None:
    at = past.now - timedelta(hours=72) - LASTS + timedelta(days=TREMOR.day)
    there = heading(past.site, TREMOR.heading).id
    near = [
        it.seen_at
        for it in past.first_seen.values()
        if (it.heading, it.kind) == (there, "bagged mesh")
        and abs(it.chainage_m - TREMOR.at_m) <= TREMOR.reach_m
    ]
    read = [
        (section.at, float(one.read_mm))
        for walk in past.walked(TREMOR.heading)
        for section in walk.sections
        for one in section.distances
    ]
    before = fmean(mm for when, mm in read if when < at)
    then = next(mm for when, mm in read if when > at)

    assert len(near) == TREMOR.bags
    assert min(near) > at
    assert before - then == pytest.approx(TREMOR.closed_mm, abs=2.0)


# --- walks -------------------------------------------------------------------------------------


def test_every_section_was_walked_every_month_once_it_was_there(past: Past) -> None:
    oldest = [sections_known(past.site, it.id)[0] for it in headings(past.site)]

    assert all(len(it.looks) >= 17 for it in oldest)


def test_no_reading_of_steel_would_be_asked_about_or_wants_damage_that_nobody_recorded(
    past: Past,
) -> None:
    """The past is written, not walked: what a walk would refuse must not be in it."""
    standard = in_force(past.site, past.now).body
    there = heading(past.site, WET.heading).id
    looks = list(looks_at(past.site, there))
    before = tuple(steel_before(looks, (), UTC))
    said = [
        (doubt(it.read, it.at, last_there(it.read, before[nth + 1 :]), standard), it.read)
        for nth, it in enumerate(before)
    ]

    assert len(said) > 100
    assert [why for why, _read in said if why is not None] == []
    assert [read for _why, read in said if leaves(read, standard) == "too little"] == []


def test_as_many_old_bolts_are_found_loose_as_truly_are(past: Past) -> None:
    drawn = [it for walk in past.walks for it in walk.looked_at]
    bad, looked_at = sum(it.bad for it in drawn), sum(it.looked_at for it in drawn)

    assert holds(share([*[True] * bad, *[False] * (looked_at - bad)]), LOOSE_SHARE)


def test_what_was_read_before_the_old_drive_was_surveyed_anew_is_shifted(past: Past) -> None:
    known = sections_known(past.site, heading(past.site, RETURN).id)
    inbye = next(it for it in known if it.section.from_m > RECHAINED_FROM_M + 10)
    shifted = [it for it in inbye.looks if it.ground.from_m != it.seen.from_m]

    assert {it.ground.from_m - it.seen.from_m for it in shifted} == {RECHAINED_BY_M}
    assert known[-1].last is not None
    assert known[-1].last.month == max(it.month for it in inbye.looks), "walked to its new end"
    assert 0 < len(shifted) < len(inbye.looks)
