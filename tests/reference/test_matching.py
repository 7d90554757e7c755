"""The assignment against published examples and a case where nearest-first is wrong."""

import numpy as np
import pytest

from fieldapp.assess.matching import Standing, assigned, matched
from tests.reference.record import reference


@reference("SciPy documentation, scipy.optimize.linear_sum_assignment, example", "from memory")
def test_the_example_of_scipy() -> None:
    cost = np.array([[4.0, 1, 3], [2, 0, 5], [3, 2, 2]])
    pairs = assigned(cost, 5.0)

    assert [column for _, column in pairs] == [1, 0, 2]
    assert sum(cost[pair] for pair in pairs) == 5


@reference("OR-tools documentation, linear assignment example (total 265)", "from memory")
def test_four_workers_and_four_tasks() -> None:
    cost = np.array([[90.0, 76, 75, 70], [35, 85, 55, 65], [125, 95, 90, 105], [45, 110, 95, 115]])
    pairs = assigned(cost, 200.0)

    assert [column for _, column in pairs] == [3, 2, 1, 0]
    assert sum(cost[pair] for pair in pairs) == 265


@reference("munkres package documentation, example (total 12)", "from memory")
def test_three_by_three_with_two_answers() -> None:
    cost = np.array([[5.0, 9, 1], [10, 3, 2], [8, 7, 4]])

    assert sum(cost[pair] for pair in assigned(cost, 20.0)) == 12


@reference("Own example: nearest first costs 1.9", "closed form")
def test_nearest_first_is_not_the_least() -> None:
    cost = np.abs(np.array([[0.9], [1.8]]) - np.array([[0.0, 1.0]]))
    pairs = assigned(cost, 2.0)

    assert pairs == ((0, 0), (1, 1))
    assert sum(cost[pair] for pair in pairs) == pytest.approx(1.7)


@reference("Own example, recomputed over all permutations", "closed form")
def test_five_bolts_for_six_positions() -> None:
    demanded = [(0.0, 0.0), (1.2, 0.0), (2.4, 0.0), (0.0, 1.2), (1.2, 1.2), (2.4, 1.2)]
    seen = [(2.5, 0.1), (0.1, -0.05), (1.1, 1.3), (1.3, 0.15), (0.05, 1.0)]
    matching = matched(seen, demanded, cut_off_m=0.6, tolerance_m=0.15)

    assert [one.seen for one in matching.positions] == [1, 3, 0, 4, 2, None]
    assert matching.missing == (5,)
    assert sum(one.off_m or 0 for one in matching.positions) == pytest.approx(0.781079, abs=1e-6)
    assert max(one.off_m or 0 for one in matching.positions) == pytest.approx(0.206155, abs=1e-6)
    assert matching.positions[3].standing is Standing.OFF_POSITION
