"""The span of an intersection, and what its cables wait for."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest

from fieldapp.assess.entry.cables import why_it_waits
from fieldapp.assess.entry.facts import CablesFact
from fieldapp.assess.intersections.span import why_no_outline
from schemas.bodies.intersection import Corner

AT = datetime(2031, 5, 6, 9, tzinfo=UTC)
HOUR = timedelta(hours=1)


def corners(*points: tuple[int | Decimal, int | Decimal]) -> list[Corner]:
    return [Corner(x_m=Decimal(x), y_m=Decimal(y)) for x, y in points]


@pytest.mark.parametrize(
    ("points", "why"),
    [
        ((), "it has 0 different corners, and an opening has three at least"),
        (
            ((0, 0), (5, 0), (0, 0)),
            "it has 2 different corners, and an opening has three at least",
        ),
        (((0, 0), (5, 0), (9, 0)), "its corners lie on one line, so that it has no area"),
        (((0, 0), (5, 5), (5, 0), (0, 5)), "its outline crosses or touches itself"),
        (((0, 0), (5, 0), (5, Decimal("0.001"))), "it has no area"),
        (((0, 0), (5, 0), (5, 5), (0, 5)), ""),
        (((0, 5), (5, 5), (5, 0), (0, 0)), ""),
    ],
)
def test_what_is_no_outline_is_refused_with_its_reason(
    points: tuple[tuple[int | Decimal, int | Decimal], ...], why: str
) -> None:
    assert why_no_outline(corners(*points)) == why


PLATED = CablesFact(
    "junction",
    Decimal(50),
    Decimal(58),
    cables=12,
    done={"drilled": 12, "grouted": 12, "plated": 12},
    grouted_at=AT - 30 * HOUR,
    plated_at=AT - 6 * HOUR,
    stands_plated=True,
    cures_h=Decimal(24),
)


def test_cables_count_once_they_were_plated_after_their_grout_had_cured() -> None:
    assert why_it_waits(PLATED, AT) == ""


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        ({"done": {}}, "not drilled yet"),
        ({"done": {"drilled": 12, "grouted": 7}}, "not grouted yet: 7 of 12 are"),
        ({"cables": 14}, "not drilled yet: 12 of 14 are"),
        ({"stands_plated": False}, "not plated yet: to be signed once more"),
        ({"grouted_at": AT - 23 * HOUR}, "not cured before 10:00 UTC"),
        (
            {"grouted_at": AT - 29 * HOUR},
            "plated before they had cured, and to be plated once more",
        ),
        (
            {"cures_h": None},
            "not known to be cured: no standard here says how long they take",
        ),
    ],
)
def test_until_then_the_first_thing_that_is_missing_is_said(
    changed: dict[str, Any], why: str
) -> None:
    assert why_it_waits(replace(PLATED, **changed), AT) == why
