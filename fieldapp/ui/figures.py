"""Figures as people read them on the glass."""

from decimal import Decimal

from schemas.settings import Settings

FOOT_M = Decimal("0.3048")
"""Published: the international foot, exact since 1959."""
THIN_SPACE = "\N{NO-BREAK SPACE}"
MINUS = "\N{MINUS SIGN}"


def metres(value: Decimal, settings: Settings, *, decimals: int = 1) -> str:
    """Say a chainage or a distance in the mine's units: "1 385.8 m", "4 546.6 ft"."""
    if settings.units == "metres":
        return f"{figure(value, decimals)} m"
    return f"{figure(value / FOOT_M, decimals)} ft"


def figure(value: Decimal, decimals: int = 1) -> str:
    """Write a figure with its thousands apart, rounded half to even."""
    rounded = value.quantize(Decimal(1).scaleb(-decimals))
    return f"{rounded:,}".replace(",", THIN_SPACE).replace("-", MINUS)
