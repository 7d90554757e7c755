"""Any plates missing at all: a bay of mesh is the hole that they leave, and never less."""

import random
from collections.abc import Iterable, Sequence
from math import atan2

from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess.mesh.bays import Bay, bays
from fieldapp.assess.seen import seen_in
from schemas.bundle import Bundle
from tests.unit.assess.conforming import conforming, finding, missing, with_bolts

ROWS = 4
NOTHING = 1e-9
Position = tuple[int, int]
Place = tuple[float, float]

codes = st.sampled_from(["D1", "O2"])
positions = st.tuples(st.integers(1, ROWS), st.integers(1, 7))


def without(code: str, gone: Iterable[Position]) -> Bundle:
    bundle = conforming(code, ROWS)
    for row, position in gone:
        bundle = with_bolts(bundle, row, missing(position))
    return bundle


def widest_m2(bundle: Bundle) -> float:
    return max(bay.area_m2 for bay in found_in(bundle))


def found_in(bundle: Bundle) -> list[Bay]:
    return list(bays(seen_in(bundle)))


@settings(max_examples=60)
@given(codes, st.sets(positions, max_size=8), positions)
def test_one_bolt_fewer_never_leaves_a_lighter_bay(
    code: str, gone: set[Position], one: Position
) -> None:
    assert widest_m2(without(code, gone | {one})) >= widest_m2(without(code, gone)) - 1e-9


@settings(max_examples=20)
@given(codes, st.lists(positions, min_size=1, max_size=5, unique=True), st.randoms())
def test_the_order_in_which_bolts_were_marked_means_nothing(
    code: str, gone: list[Position], luck: random.Random
) -> None:
    other = list(gone)
    luck.shuffle(other)

    assert finding(without(code, gone), "mesh_panel") == finding(
        without(code, other), "mesh_panel"
    )


@settings(max_examples=15)
@given(codes, st.sets(st.tuples(st.integers(1, 3), st.integers(2, 4)), max_size=5))
def test_a_bay_is_never_smaller_than_the_widest_convex_hole_between_plates(
    code: str, gone: set[Position]
) -> None:
    bundle = without(code, gone)
    rows = seen_in(bundle).all_rows[1:]
    plates = [(b.chainage_m, b.s_m) for r in rows for b in r.all_bolts[:6] if b.plated]

    assert widest_m2(bundle) >= widest_convex_hole_m2(plates) - 1e-6


def widest_convex_hole_m2(plates: Sequence[Place]) -> float:
    """Give the largest convex polygon with plates at its corners, and none else in it or on it.

    By brute force: from each lowest corner, chains of empty triangles that turn one way.
    """
    return max(_widest_from(low, [p for p in plates if p > low]) for low in plates)


def _widest_from(low: Place, others: Sequence[Place]) -> float:
    ordered = sorted(others, key=lambda p: atan2(p[1] - low[1], p[0] - low[0]))
    ending: dict[Place, list[tuple[Place, float]]] = {}
    for index, b in enumerate(ordered):
        for c in ordered[index + 1 :]:
            twice = _turn(low, b, c)
            if twice < NOTHING or any(_is_in(p, (low, b, c)) for p in others):
                continue
            before = [area for a, area in ending.get(b, []) if _turn(a, b, c) > NOTHING]
            ending.setdefault(c, []).append((b, twice / 2 + max(before, default=0.0)))
    return max((area for ends in ending.values() for _, area in ends), default=0.0)


def _turn(a: Place, b: Place, c: Place) -> float:
    """Give twice the area of a triangle, negative where it is walked clockwise [m2]."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _is_in(p: Place, corners: tuple[Place, Place, Place]) -> bool:
    a, b, c = corners
    sides = (_turn(a, b, p), _turn(b, c, p), _turn(c, a, p))
    return p not in corners and min(sides) > -NOTHING
