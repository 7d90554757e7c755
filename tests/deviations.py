"""A deviation as an engineer grants one, for tests of what it changes."""

from datetime import datetime
from decimal import Decimal

from fieldapp.work.demo.walking import Look
from schemas.bodies.deviation import Deviation

WIDE_SPACING = Look(answers={"spacing 3": Decimal("1.45")})
"""A round of the demo's class D1 whose third row has bolts more than 1.40 m apart."""


def strap(round_id: str, ends_at: datetime) -> Deviation:
    """Give the deviation from the spacing of that row."""
    return Deviation(
        round=round_id,
        check="bolt_spacing",
        row=3,
        reason="a strap was put across",
        ends_at=ends_at,
    )
