"""The assignment beside every permutation, and what must hold of any matching."""

from itertools import permutations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess.matching import assigned, matched

places = st.lists(st.tuples(st.floats(0, 4), st.floats(0, 4)), max_size=5)


@settings(max_examples=120, deadline=None)
@given(places, places, st.floats(0.2, 3.0))
def test_no_permutation_pairs_more_or_pairs_nearer(
    seen: list[tuple[float, float]], demanded: list[tuple[float, float]], cut_off: float
) -> None:
    off = np.array([[np.hypot(a[0] - b[0], a[1] - b[1]) for b in demanded] for a in seen])
    off = off.reshape(len(seen), len(demanded))
    found = assigned(off, cut_off)
    short, long = sorted((len(seen), len(demanded)))
    best = (0, 0.0)
    for chosen in permutations(range(long), short):
        pairs = (
            enumerate(chosen)
            if len(seen) <= len(demanded)
            else zip(chosen, range(short), strict=True)
        )
        within = [off[a, b] for a, b in pairs if off[a, b] <= cut_off]
        best = min(best, (-len(within), float(sum(within))))

    assert -len(found) == best[0]
    assert sum(off[pair] for pair in found) <= best[1] + 1e-9


@settings(max_examples=120, deadline=None)
@given(places, places)
def test_every_bolt_stands_for_one_position_or_is_extra(
    seen: list[tuple[float, float]], demanded: list[tuple[float, float]]
) -> None:
    matching = matched(seen, demanded, cut_off_m=0.6, tolerance_m=0.15)
    taken = [one.seen for one in matching.positions if one.seen is not None]

    assert sorted([*taken, *matching.extra]) == list(range(len(seen)))
    assert len(matching.positions) == len(demanded)
