"""Rust: what it left, how fast it goes, how long the support lasts. Of the visible part only."""

from fieldapp.assess.corrosion.lasting import Lasts, Place, SteelJudged, judged
from fieldapp.assess.corrosion.readings import (
    Piece,
    Rate,
    ReadBeforePutUp,
    ThickerThanNew,
    Thickness,
    rate_of,
    usable,
)

__all__ = [
    "Lasts",
    "Piece",
    "Place",
    "Rate",
    "ReadBeforePutUp",
    "SteelJudged",
    "ThickerThanNew",
    "Thickness",
    "judged",
    "rate_of",
    "usable",
]
