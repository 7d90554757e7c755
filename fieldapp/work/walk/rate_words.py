"""How fast steel goes, in words: what was read, the standard's rate, and ISO 9223 beside both."""

from decimal import Decimal
from typing import Final

from fieldapp.assess.corrosion.atmosphere import Metal, attack_um, corrosivity, range_um
from fieldapp.assess.corrosion.readings import Rate
from fieldapp.assess.standard_check.faults import plain
from schemas.corrosion_rules import CorrosionRate, Corrosivity

BESIDE: Final = (
    "ISO 9223:2012 tells of bare metal in its first year of open air: it stands beside what is "
    "known here and judges nothing"
)
LATER_YEARS: Final = 10
_BEYOND: Final = "beyond every category of ISO 9223"


def rate_words(rate: Rate) -> str:
    """Say what was read: "loses 62 µm a year on each surface (48 to 75, 95 %; 4 readings)".

    The category beside it is that of the rate, whatever its interval holds.
    """
    sure = "no interval: too few dates, and nobody said how sure the readings are"
    if rate.interval is not None:
        sure = f"{plain(rate.interval.low)} to {plain(rate.interval.high)}, 95 %"
    told = f"({sure}; {rate.readings} readings)"
    if rate.um_per_year <= 0:
        return f"no loss shows: {plain(rate.um_per_year)} µm a year on each surface {told}"
    beside = beside_air("steel", rate.corrosivity)
    return f"loses {plain(rate.um_per_year)} µm a year on each surface {told}; {beside}"


def usual_words(usual: CorrosionRate, *, zinc: bool) -> str:
    """Say the standard's rates, where they count, of steel and of what zinc it was given."""
    of: tuple[tuple[Metal, Decimal], ...] = (("steel", usual.steel_um_per_year),)
    if zinc:
        of = (*of, ("zinc", usual.zinc_um_per_year))
    rates = (
        f"{metal} {plain(um)} µm a year ({beside_air(metal, corrosivity(metal, float(um)))}; "
        f"{later_words(metal, um)})"
        for metal, um in of
    )
    return f"the standard's rate counts: {', '.join(rates)}"


def later_words(metal: Metal, um_per_year: Decimal) -> str:
    """Say what ISO 9224 makes of a first year's rate, beside the straight line that counts."""
    in_air = attack_um(metal, float(um_per_year), LATER_YEARS)
    straight = plain(um_per_year * LATER_YEARS)
    return f"in {LATER_YEARS} years {straight} µm, in air by ISO 9224 {in_air:.0f}"


def beside_air(metal: Metal, category: Corrosivity | None) -> str:
    """Say which category of air a rate stands beside: "ISO 9223 C4 in a first year, 50 to 80"."""
    if category is None:
        return _BEYOND
    low, high = range_um(metal, category)
    return f"ISO 9223 {category} in a first year, {low:g} to {high:g}"
