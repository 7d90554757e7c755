"""How metal goes: zinc first, then steel, each at the rate of its place."""

from dataclasses import dataclass
from typing import Final

from fieldapp.work.demo.history.truth import DRY_STEEL_UM_PER_YEAR, WET, YEAR_DAYS

STAINED_SHARE: Final = 0.35
"""Of the zinc is left when the first stains are seen."""
SCALE_UM, PITS_UM = 25.0, 110.0
"""Steel lost on a surface when it is rusty all over, and when metal is plainly gone."""
PUT_UP_DAYS_BEFORE: Final = 900
"""Before the record began: dry ground that was supported before it."""


@dataclass(frozen=True)
class Lost:
    """What a surface has lost by a day of the record, in micrometres."""

    zinc_left_um: float
    steel_um: float

    @property
    def grade(self) -> int:
        """Give the grade of the standard's card that this looks like."""
        if self.zinc_left_um > STAINED_SHARE * WET.zinc_um:
            return 0
        if self.zinc_left_um > 0:
            return 1
        if self.steel_um < SCALE_UM:
            return 2
        return 3 if self.steel_um < PITS_UM else 4

    def left_mm(self, original_mm: float) -> float:
        """Give what is left of the diameter of a bar or wire that rusts all around."""
        return original_mm - 2 * self.steel_um / 1000


def lost_by(day: float, *, wet: bool, galvanised: bool) -> Lost:
    """Give what a surface has lost by a day, in the wet stretch or elsewhere."""
    if not wet:
        years = (PUT_UP_DAYS_BEFORE + day) / YEAR_DAYS
        return Lost(WET.zinc_um, 0.0) if galvanised else Lost(0.0, DRY_STEEL_UM_PER_YEAR * years)
    years = (WET.put_up_days_before + day) / YEAR_DAYS
    zinc_um = WET.zinc_um if galvanised else 0.0
    bare_years = max(0.0, years - zinc_um / WET.zinc_um_per_year)
    return Lost(
        max(0.0, zinc_um - WET.zinc_um_per_year * years), WET.steel_um_per_year * bare_years
    )


def is_wet(heading: str, at_m: float) -> bool:
    """Tell whether water runs at a place."""
    return heading == WET.heading and WET.from_m <= at_m < WET.to_m
