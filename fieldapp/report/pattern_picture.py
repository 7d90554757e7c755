"""The pattern that a class demands, as it is edited: bolts, its gap, the gap of one missing."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

import numpy as np

from assets.translate import _
from fieldapp.assess.demanded import rows_as_designed
from fieldapp.assess.gaps.area import Area
from fieldapp.assess.gaps.largest import Gap, largest_gap
from fieldapp.assess.pattern import DemandedRow
from fieldapp.report.shapes import Bolt, Circle, Drawing, RowFrame, Tag
from fieldapp.report.words.lengths import Units, metres_words
from schemas.numbers import rounded
from schemas.standard import SupportClass

ROWS: Final = 5
"""So many that the middle of them shows the pattern, not its ends."""
MARGIN_M: Final = 0.6
TO: Final = Decimal("0.01")

Places = Sequence[tuple[float, float]]


def pattern_picture(support_class: SupportClass, units: Units) -> Drawing:
    """Draw a few rows as they are demanded on the designed profile.

    Parameters
    ----------
    support_class : SupportClass
        It may be one that the check of a standard refuses. [m]
    units : Units
        How lengths are written. [-]

    Raises
    ------
    ProfileRefused
        Its profile is no drive.
    """
    rows = rows_as_designed(support_class, ROWS)
    places = [(row.chainage_m, s_m) for row in rows for s_m in row.s_m]
    across = [s_m for _x, s_m in places]
    left_m, right_m, to_m = min(across), max(across), rows[-1].chainage_m
    intact = _gap(places, left_m, right_m, to_m)
    gone = _middle(rows)
    open_ = _gap([it for it in places if it != gone], left_m, right_m, to_m)
    return Drawing(
        -MARGIN_M,
        to_m + MARGIN_M,
        left_m - MARGIN_M,
        right_m + MARGIN_M,
        rows=tuple(
            RowFrame(str(row.number), row.number, row.chainage_m, left_m, right_m) for row in rows
        ),
        bolts=tuple(_bolts(rows, gone)),
        circles=(_circle(intact, "measures"), _circle(open_, "no_entry")),
        tags=(
            _tag(intact, _("gap {m}"), "measures", units),
            _tag(open_, _("one missing {m}"), "no_entry", units),
        ),
        units=units,
    )


def _gap(places: Places, left_m: float, right_m: float, to_m: float) -> Gap:
    corners = ((0.0, left_m), (to_m, left_m), (to_m, right_m), (0.0, right_m))
    return largest_gap(np.array(places, dtype=float), Area(corners), None)


def _middle(rows: Sequence[DemandedRow]) -> tuple[float, float]:
    """Give the bolt that is drawn as missing: the one nearest the crown of the middle row."""
    row = rows[len(rows) // 2]
    return row.chainage_m, min(row.s_m, key=lambda s_m: (abs(s_m), s_m))


def _bolts(rows: Sequence[DemandedRow], gone: tuple[float, float]) -> Iterator[Bolt]:
    for row in rows:
        for number, s_m in enumerate(row.s_m, start=1):
            is_gone = (row.chainage_m, s_m) == gone
            yield Bolt(row.chainage_m, s_m, "missing" if is_gone else "seated", row.number, number)


def _circle(gap: Gap, colour: str) -> Circle:
    return Circle(*gap.centre_m, gap.diameter_m, colour)


def _tag(gap: Gap, words: str, colour: str, units: Units) -> Tag:
    said = metres_words(rounded(gap.diameter_m, TO), units)
    edge_m = gap.centre_m[0] - gap.diameter_m / 2
    return Tag(words.format(m=said), edge_m, gap.centre_m[1], colour)
