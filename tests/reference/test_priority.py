"""Published tables of severity and likelihood, looked up as a mine's own table would be.

Neither is a product of ranks: where a program multiplied, it would get some of them wrong.
"""

import json
from typing import Any

import pytest

from fieldapp.assess.damage import Observation, priority
from fieldapp.assess.standard_check import refusals
from schemas.reading import read_model
from schemas.standard import Standard
from tests.damages import SEEN, damage
from tests.standards import DEMO

MIL_STD_882E = (
    # Table III, risk assessment matrix (2012), from memory: severity 1 catastrophic, 2 critical,
    # 3 marginal, 4 negligible; probability A frequent to E improbable
    ("High", "Serious", "Medium", "Low"),
    ("1", "2", "3", "4"),
    {
        "A": "High High Serious Medium",
        "B": "High High Serious Medium",
        "C": "High Serious Medium Low",
        "D": "Serious Medium Medium Low",
        "E": "Medium Medium Medium Low",
    },
)
FIVE_BY_FIVE = (
    # WorkSafe Victoria, risk matrix for mines: consequence 5 catastrophic to 1 insignificant;
    # likelihood a almost certain to e rare
    ("Severe", "Significant", "Moderate", "Low"),
    ("5", "4", "3", "2", "1"),
    {
        "a": "Severe Severe Severe Significant Significant",
        "b": "Severe Severe Significant Significant Moderate",
        "c": "Severe Severe Significant Moderate Low",
        "d": "Significant Significant Moderate Low Low",
        "e": "Significant Significant Moderate Low Low",
    },
)
TABLES = (MIL_STD_882E, FIVE_BY_FIVE)
CELLS = [
    (table, grave, exposure, found)
    for table in TABLES
    for exposure, row in table[2].items()
    for grave, found in zip(table[1], row.split(), strict=True)
]
HOLDS = ("no entry", "restricted", "open", "open")


def standard_with(table: Any) -> Standard:
    """Write a published table into the demo's standard, in place of its own."""
    priorities, gravest_first, rows = table
    document = json.loads(DEMO)
    why = {"because": "as published"}
    document["severities"] = [{"code": it, "words": it, **why} for it in gravest_first[::-1]]
    document["exposures"] = [{"code": it, "words": it, **why} for it in rows]
    document["priorities"] = [
        {"code": it, "trigger": it, "entry": it, "holds": holds, "due_days": n, **why}
        for n, (it, holds) in enumerate(zip(priorities, HOLDS, strict=True))
    ]
    document["walk"]["intervals"] = []  # they name the demo's own codes
    document["rehab_matrix"] = [
        {"severity": grave, "exposure": exposure, "priority": found, **why}
        for exposure, row in rows.items()
        for grave, found in zip(gravest_first, row.split(), strict=True)
    ]
    return read_model(json.dumps(document).encode(), Standard, source="the table")


STANDARDS = {id(table): standard_with(table) for table in TABLES}


@pytest.mark.parametrize("table", TABLES, ids=["MIL-STD-882E", "5 × 5"])
def test_a_published_table_is_one_that_a_mine_may_adopt(table: Any) -> None:
    assert refusals(STANDARDS[id(table)]) == ()


@pytest.mark.parametrize(("table", "severity", "exposure", "published"), CELLS)
def test_each_place_of_a_published_table_is_looked_up(
    table: Any, severity: str, exposure: str, published: str
) -> None:
    seen = Observation("seen", damage(severity=severity, exposure=exposure))
    found = priority([seen], STANDARDS[id(table)], None, SEEN)

    assert found.priority == published


def test_no_product_of_ranks_gives_the_second_table() -> None:
    """Likelihood d is the second of five, e the first: one product, two answers."""
    rows = FIVE_BY_FIVE[2]
    moderate_by_likely = rows["b"].split()[2]  # 4 × 3
    major_by_moderate = rows["c"].split()[1]  # 3 × 4

    assert rows["d"] == rows["e"]
    assert (moderate_by_likely, major_by_moderate) == ("Significant", "Severe")
