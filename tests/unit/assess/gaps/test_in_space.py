"""Gaps between rows of different profiles: measured in space, never narrower than unrolled."""

from dataclasses import replace
from decimal import Decimal
from math import hypot, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess.gaps.area import FaceLine, supported_area
from fieldapp.assess.gaps.ground import gap_ground
from fieldapp.assess.gaps.in_space import GapsInSpace
from fieldapp.assess.gaps.largest import Gap, largest_gap
from fieldapp.assess.gaps.stepped import SteppedRock
from fieldapp.assess.profile.profile import (
    Profile,
    across_step_m,
    outline_m,
    step_between_m,
    supported_line,
)
from fieldapp.assess.profile.shapes import (
    flat_back_profile,
    measured_arch_profile,
    surveyed_profile,
)
from fieldapp.assess.seen import Row, seen_in
from schemas.bodies.round import ProfileSeen, SurveyPoint
from schemas.bundle import Bundle
from tests.unit.assess.conforming import conforming, finding, with_row

FLAT = flat_back_profile(5.0, 4.5)
HIGHER = flat_back_profile(5.0, 5.1)
ROWS_M = 0.9
SHOULDER = ((-2.5, 0.0), (-2.5, 4.0), (-1.0, 4.0), (2.5, 4.0), (2.5, 0.0))
SHOULDER_OUT = ((-2.5, 0.0), (-2.5, 4.6), (-1.0, 4.6), (-0.9, 4.0), (2.5, 4.0), (2.5, 0.0))


def rock(*profiles: Profile) -> SteppedRock:
    """Rows 0.9 m apart on these profiles, supported from 1.5 m up, the face 0.5 m on."""
    first = seen_in(conforming(rows=1)).rows[0]
    rows, along = list[Row](), [0.0]
    for number, profile in enumerate(profiles):
        line = supported_line(profile, 1.5, 1.5)
        row = (profile, line)
        if rows:
            step = step_between_m((rows[-1].profile, rows[-1].line), row)
            along.append(along[-1] + across_step_m(ROWS_M, step))
        at = Decimal(repr(ROWS_M)) * number
        rows.append(replace(first, chainage_m=at, profile=profile, line=line))
    last = rows[-1].line
    face = FaceLine(((along[-1] + 0.5, last.left_s_m), (along[-1] + 0.5, last.right_s_m)))
    flat = np.array([ROWS_M * number for number in range(len(profiles))])
    return SteppedRock(tuple(rows), flat, np.array(along), face)


def gap_in_space(stepped: SteppedRock, bolts: list[tuple[int, float]]) -> Gap:
    return GapsInSpace(stepped).widest(bolts)


def flat_gap(stepped: SteppedRock, bolts: list[tuple[int, float]]) -> Gap:
    """The gap on the unrolled rock, as if it did not step."""
    rows = list(zip(stepped.flat_m.tolist(), stepped.lines_m.tolist(), strict=True))
    last_m = rows[-1][0] + 0.5
    face = FaceLine(tuple((last_m, s) for s in rows[-1][1]))
    edges = [[(x, ends[side]) for x, ends in rows] for side in (0, 1)]
    places = np.array([(rows[row][0], s) for row, s in bolts])
    return largest_gap(places, supported_area(edges[0], edges[1], face), face)


def bolts_at(stepped: SteppedRock, back: tuple[float, ...]) -> list[tuple[int, float]]:
    """Bolts in the back as said, on the walls every 0.4 m."""
    found = []
    for row, (left, right) in enumerate(stepped.lines_m.tolist()):
        walls = [*np.arange(2.6, right, 0.4).tolist(), right]
        found += [(row, s) for s in (*back, *walls)]
        found += [(row, -s) for s in [*np.arange(2.6, -left, 0.4).tolist(), -left]]
    return found


def test_the_gap_across_a_back_that_jumps_up_by_0_6_m_by_hand() -> None:
    """Four bolts 1.5 m apart in rows 0.9 m apart, the inbye two 0.6 m higher.

    Flat: √(1.5² + 0.9²) = 1.749 m. In space: √(1.5² + 0.9² + 0.6²) = 1.849 m.
    """
    stepped = rock(FLAT, FLAT, HIGHER, HIGHER)
    bolts = bolts_at(stepped, (-2.25, -0.75, 0.75, 2.25))
    gap = gap_in_space(stepped, bolts)

    assert flat_gap(stepped, bolts).diameter_m == pytest.approx(1.749, abs=5e-4)
    assert gap.diameter_m == pytest.approx(1.849, abs=5e-4)
    assert stepped.along_m[1] < gap.centre_m[0] < stepped.along_m[2]
    assert {bolts[it][0] for it in gap.touching} == {1, 2}


def test_a_shoulder_that_jumps_out_0_6_m_widens_the_gap_there_and_not_on_the_other_side() -> None:
    """Bolts 1.5 m apart on the shoulder, 0.6 m farther out in the next rows, 0.9 m on.

    A straight line finds √(1.5² + 0.9² + 0.6²) = 1.849 m between them; the rock is longer.
    """
    usual, out = (surveyed_profile(it, 3.0) for it in (SHOULDER, SHOULDER_OUT))
    stepped = rock(usual, usual, out, out)
    foot_m = 0.9 + hypot(0.1, 0.6)  # where the jump ends: 1 m left of the crown, 0.6 m up
    left, right = (bolts_but(stepped, foot_m, hole) for hole in ("left", "right"))

    assert gap_in_space(stepped, left).diameter_m > 1.849 > flat_gap(stepped, left).diameter_m
    assert gap_in_space(stepped, left).diameter_m < 1.9
    assert gap_in_space(stepped, right).diameter_m == pytest.approx(
        flat_gap(stepped, right).diameter_m
    )


def bolts_but(stepped: SteppedRock, foot_m: float, hole: str) -> list[tuple[int, float]]:
    """Every shoulder has a bolt in its middle, but that of the two rows at the step has none."""
    found = []
    for row, (low, high) in enumerate(stepped.lines_m.tolist()):
        first = -foot_m if row > 1 else -1.0
        at = [0.0, 1.0, 2.5, 3.0, 3.5, 4.0, 4.5, low, high, first]
        at += [first - 1.5 - 0.5 * number for number in range(5)]
        middles = {"left": first - 0.75, "right": 1.75}
        at += [s for side, s in middles.items() if side != hole or row in (0, 3)]
        found += [(row, s) for s in at if low <= s <= high]
    return found


def test_the_step_of_one_shoulder_is_its_own() -> None:
    usual, out = (surveyed_profile(it, 3.0) for it in (SHOULDER, SHOULDER_OUT))
    rows = [(it, supported_line(it, 1.5, 1.5)) for it in (usual, out)]

    assert step_between_m(rows[0], rows[1]) == pytest.approx(0.6)
    assert step_between_m(rows[1], rows[0]) == pytest.approx(0.6)
    assert step_between_m(rows[0], rows[0]) == pytest.approx(0.0, abs=1e-12)


def test_a_circle_along_whose_ridge_a_search_creeps_is_found_all_the_same() -> None:
    """Own figure, to 0.1 mm; a search uphill alone stops 5 mm short of it."""
    usual, wide, tight = (
        measured_arch_profile(width, 3.0, rise)
        for width, rise in ((5.0, 2.0), (6.4, 1.6), (5.0, 2.0))
    )
    stepped = rock(usual, wide, tight, usual)
    gap = gap_in_space(stepped, bolts_at(stepped, (-1.9, 0.2, 1.6)))

    assert gap.diameter_m == pytest.approx(2.2902, abs=1e-4)


def test_a_straight_line_between_places_of_an_outline_is_never_longer_than_its_rock() -> None:
    places = outline_m(measured_arch_profile(5.0, 3.0, 2.6))

    for s_m, point in places:
        for other_m, other in places:
            assert hypot(point[0] - other[0], point[1] - other[1]) <= abs(s_m - other_m) + 1e-9


widths = st.floats(4.0, 7.0)
rises = st.floats(0.8, 2.5)
arches = st.tuples(widths, rises).map(lambda it: measured_arch_profile(it[0], 3.0, it[1]))
shares = st.floats(-1.0, 1.0)
some = st.lists(st.tuples(st.integers(0, 2), shares), min_size=1, max_size=14)


def bolts_of(stepped: SteppedRock, placed: list[tuple[int, float]]) -> list[tuple[int, float]]:
    return [(row, share * float(stepped.lines_m[row, 1])) for row, share in placed]


@settings(max_examples=25, deadline=None)
@given(profile=arches, placed=some)
def test_rows_of_one_profile_leave_the_unrolled_gap(
    profile: Profile, placed: list[tuple[int, float]]
) -> None:
    stepped = rock(profile, profile, profile)
    bolts = bolts_of(stepped, placed)

    assert gap_in_space(stepped, bolts).diameter_m == pytest.approx(
        flat_gap(stepped, bolts).diameter_m, abs=1e-9
    )


@settings(max_examples=20, deadline=None)
@given(profiles=st.tuples(arches, arches, arches), placed=some)
def test_a_gap_in_space_is_never_narrower_than_unrolled_nor_than_by_a_finer_search(
    profiles: tuple[Profile, Profile, Profile], placed: list[tuple[int, float]]
) -> None:
    stepped = rock(*profiles)
    bolts = bolts_of(stepped, placed)
    found = gap_in_space(stepped, bolts).diameter_m

    assert found >= flat_gap(stepped, bolts).diameter_m - 1e-9
    assert found >= by_brute_force(stepped, bolts) - 1e-3


def by_brute_force(stepped: SteppedRock, bolts: list[tuple[int, float]]) -> float:
    """Try middles all over, each bolt and each row by itself."""
    shares = np.linspace(0.0, 1.0, 15)
    return max(2 * _radius_m(stepped, bolts, (u, f)) for u in shares for f in shares)


def _radius_m(
    stepped: SteppedRock, bolts: list[tuple[int, float]], place: tuple[float, float]
) -> float:
    u, f = place
    end = stepped.along_m[-1] + 0.5
    x = u * end
    after = next((n for n, at in enumerate(stepped.along_m) if at > x), None)
    before = len(stepped.along_m) - 1 if after is None else after - 1
    t, apart = 0.0, 0.0
    if after is not None:
        t = (x - stepped.along_m[before]) / (stepped.along_m[after] - stepped.along_m[before])
        apart = ROWS_M * t
    else:
        after, apart = before, x - stepped.along_m[-1]
    ends = (1 - t) * stepped.lines_m[before] + t * stepped.lines_m[after]
    s = ends[0] + f * (ends[1] - ends[0])
    corners = []
    for number in (before, after):
        left, right = stepped.lines_m[number]
        corners.append(np.array(stepped.rows[number].profile.at(left + f * (right - left))))
    here = (1 - t) * corners[0] + t * corners[1]
    radius = end - x
    for row, s_bolt in bolts:
        profile = stepped.rows[row].profile
        ahead = ROWS_M * before + apart - ROWS_M * row
        space = hypot(*(here - np.array(profile.at(s_bolt))))
        low, high = profile.floor_s_m
        flat = hypot(*(np.array(profile.at(min(max(s, low), high))) - profile.at(s_bolt)))
        more = max(0.0, space**2 - flat**2)
        radius = min(radius, sqrt(ahead**2 + (s - s_bolt) ** 2 + more))
    return float(radius)


HIGHER_SHOULDER = ProfileSeen(
    width_m=Decimal("5.0"), rise_m=Decimal("2.6"), method="laser",
    points=tuple(
        SurveyPoint(y_m=Decimal(y), z_m=Decimal(z))
        for y, z in (("-2.5", "0"), ("-2.5", "3.0"), ("-2.2", "4.8"), ("0", "5.0"),
                     ("1.5", "4.6"), ("2.5", "3.0"), ("2.5", "0"))
    ),
)  # fmt: skip


def test_a_round_whose_shoulder_is_broken_out_is_judged_by_the_wider_gap() -> None:
    usual, broken = conforming(rows=4), with_row(conforming(rows=4), 3, profile=HIGHER_SHOULDER)

    assert measured(broken) >= measured(usual)
    assert measured(broken) >= flat_figure(broken)


def measured(bundle: Bundle) -> Decimal:
    return Decimal(finding(bundle, "largest_gap").measured or 0)


def flat_figure(bundle: Bundle) -> Decimal:
    ground = gap_ground(seen_in(bundle))
    assert ground is not None
    rows = [(float(row.chainage_m), row) for row, _ in ground.rows]
    at = {row.number: x for x, row in rows}
    edges = [
        [(x, getattr(row.line, side)) for x, row in rows] for side in ("left_s_m", "right_s_m")
    ]
    longer = ground.rows[-1][1] - rows[-1][0]
    face = FaceLine(tuple((float(x) - longer, float(s)) for x, s in ground.face.corners))
    bolts = [b for row, _ in ground.rows for b in row.all_bolts if b.plated]
    places = np.array([(at[b.row], b.s_m) for b in bolts])
    found = largest_gap(places, supported_area(edges[0], edges[1], face), face)
    return Decimal(repr(found.diameter_m)).quantize(Decimal("0.001"))
