"""Rust: what it left, how fast it goes, how long the support lasts. Of the visible part only."""

from fieldapp.assess.corrosion.doubted import out_of_reason
from fieldapp.assess.corrosion.enough import Enough, enough_left
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
    "Enough",
    "Lasts",
    "Piece",
    "Place",
    "Rate",
    "ReadBeforePutUp",
    "SteelJudged",
    "ThickerThanNew",
    "Thickness",
    "enough_left",
    "judged",
    "out_of_reason",
    "rate_of",
    "usable",
]
