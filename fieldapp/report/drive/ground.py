"""Where the ground changes within a round: a line across the drive, and the class on each side."""

from itertools import pairwise

from assets.translate import _
from fieldapp.assess.seen import Seen
from fieldapp.report.shapes import CrossLine, Tag
from fieldapp.report.words.lengths import Units, in_units
from schemas.numbers import SAID_M, rounded, text


def ground_lines(seen: Seen) -> tuple[CrossLine, ...]:
    """Draw where the second ground domain begins; nothing of a round that lies in one."""
    second = seen.round.second_domain
    return () if second is None else (CrossLine("ground changes", float(second.from_m)),)


def ground_tags(seen: Seen, units: Units) -> tuple[Tag, ...]:
    """Name both support classes at that line, where there is room."""
    line = seen.all_rows[-1].line
    middle_m = (line.left_s_m + line.right_s_m) / 2
    lines = ground_lines(seen)
    return tuple(Tag(ground_words(seen, units), it.x_m, middle_m, "measures") for it in lines)


def ground_words(seen: Seen, units: Units) -> str:
    """Say both support classes, the one before the line first; empty of a round in one ground."""
    second = seen.round.second_domain
    if second is None:
        return ""
    at = in_units(f"{text(rounded(second.from_m, SAID_M))} m", units)
    return _("{outbye} to {at}, then {inbye}").format(
        outbye=seen.domains[0].support_class.code, at=at, inbye=seen.domains[1].support_class.code
    )


def ground_of_rows(seen: Seen) -> dict[int, str]:
    """Give the class of the row before that line and of the row past it, by their numbers."""
    for before, row in pairwise(seen.all_rows):
        if row.domain and not before.domain:
            codes = [it.support_class.code for it in seen.domains]
            return {before.number: codes[0], row.number: codes[1]}
    return {}
