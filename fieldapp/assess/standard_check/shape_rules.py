"""Whether the profile can be built and the pattern fits on it."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from fieldapp.assess.demanded import line_of, profile_of
from fieldapp.assess.pattern import bolts_in_row
from fieldapp.assess.profile.profile import ProfileRefused
from fieldapp.assess.standard_check.faults import Caution, ClassRule, Fault, Refusal, metres
from schemas.numbers import STEP_M, rounded
from schemas.standard import SupportClass

FEWEST_STAGGERED: Final = 3
"""An offset row has one bolt fewer, and one bolt alone is no row."""
_CLOSEST_M: Final = Decimal("0.3")
_WIDEST_M: Final = Decimal("5")
"""Outside these a spacing was mistyped: common practice, no source."""


def supported_m(support_class: SupportClass) -> Decimal | None:
    """Give the length of rock that a row of the class supports.

    Parameters
    ----------
    support_class : SupportClass
        The class as it was written. [m]

    Returns
    -------
    Decimal or None
        Along the rock; None where the profile can't be built. [m]

    Source
    ------
    Common practice, no source.
    """
    try:
        return rounded(line_of(support_class, None).length_m, STEP_M)
    except ProfileRefused:
        return None


def spacing_in_row_m(support_class: SupportClass) -> Decimal | None:
    """Give how far apart the sheet's bolts stand when they are spread evenly over the row.

    Parameters
    ----------
    support_class : SupportClass
        The class as it was written. [m]

    Returns
    -------
    Decimal or None
        Along the rock; None where the profile can't be built. [m]

    Source
    ------
    Common practice, no source: P/(n − 1).
    """
    length_m = supported_m(support_class)
    spaces = support_class.pattern.bolts_per_row - 1
    return None if length_m is None else rounded(length_m / spaces, STEP_M)


def _profile(support_class: SupportClass) -> Iterator[Fault]:
    shape = support_class.profile
    if shape.shape == "arch" and shape.rise_m == 0:
        yield Refusal(".profile.rise_m", "an arch without a rise is a flat back")
    if shape.shape == "flat" and shape.rise_m > 0:
        yield Refusal(".profile.rise_m", "a flat back has no rise")
    if shape.shape == "arch" and shape.rise_m * 2 > shape.width_m:
        half = metres(shape.width_m / 2)
        reason = f"a rise of {metres(shape.rise_m)} is more than half the width, {half}"
        yield Refusal(".profile.rise_m", reason)
    if shape.supported_from_m > shape.wall_height_m:
        walls = metres(shape.wall_height_m)
        reason = f"support would begin {metres(shape.supported_from_m)} up walls {walls} high"
        yield Refusal(".profile.supported_from_m", reason)


def _back(support_class: SupportClass) -> Iterator[Fault]:
    half_m = support_class.profile.back_half_m
    if half_m == 0:
        yield Refusal(".profile.back_half_m", "the back has no width, so no bolt is in it")
        return
    try:
        profile = profile_of(support_class.profile, None)
    except ProfileRefused:
        return
    arc_m = profile.line_m / 2 - profile.springline_m
    if half_m > rounded(arc_m, STEP_M):
        reason = f"the back would reach {metres(half_m)} from the crown, past {metres(arc_m)}"
        yield Refusal(".profile.back_half_m", f"{reason}, where the wall begins")


def _tolerances(support_class: SupportClass) -> Iterator[Fault]:
    pattern = support_class.pattern
    for field, spacing_m, tolerance_m in (
        ("bolt_spacing", pattern.bolt_spacing_m, pattern.bolt_spacing_tolerance_m),
        ("row_spacing", pattern.row_spacing_m, pattern.row_spacing_tolerance_m),
    ):
        if tolerance_m * 2 >= spacing_m:
            reason = f"{metres(tolerance_m)} is no tolerance on {metres(spacing_m)}"
            yield Refusal(f".pattern.{field}_tolerance_m", f"{reason}: half of it or more")


def is_a_pattern(support_class: SupportClass) -> bool:
    """Say whether both spacings can be those of a pattern of bolts.

    Parameters
    ----------
    support_class : SupportClass
        The class as it was written. [m]

    Returns
    -------
    bool
        False where a spacing was mistyped. [-]

    Source
    ------
    Common practice, no source.
    """
    pattern = support_class.pattern
    spacings = (pattern.bolt_spacing_m, pattern.row_spacing_m)
    return all(_CLOSEST_M <= spacing <= _WIDEST_M for spacing in spacings)


def _spacings(support_class: SupportClass) -> Iterator[Fault]:
    pattern = support_class.pattern
    for field, spacing_m in (
        ("bolt_spacing_m", pattern.bolt_spacing_m),
        ("row_spacing_m", pattern.row_spacing_m),
    ):
        if not _CLOSEST_M <= spacing_m <= _WIDEST_M:
            between = f"{metres(_CLOSEST_M)} to {metres(_WIDEST_M)}"
            reason = f"{metres(spacing_m)} is no spacing of bolts; {between} can be judged"
            yield Refusal(f".pattern.{field}", reason)


def _bolts_in_row(support_class: SupportClass) -> Iterator[Fault]:
    pattern = support_class.pattern
    path = ".pattern.bolts_per_row"
    if pattern.kind == "staggered" and pattern.bolts_per_row < FEWEST_STAGGERED:
        yield Refusal(path, "an offset row would have one bolt, and its ends nothing")
    length_m, spacing_m = supported_m(support_class), spacing_in_row_m(support_class)
    if length_m is None or spacing_m is None or not is_a_pattern(support_class):
        return
    needed = bolts_in_row(length_m, pattern.bolt_spacing_m, pattern.bolt_spacing_tolerance_m, 0)
    count = pattern.bolts_per_row
    if count < needed:
        widest = metres(pattern.bolt_spacing_m + pattern.bolt_spacing_tolerance_m)
        reason = f"{count} bolts on {metres(length_m)} of rock stand {metres(spacing_m)} apart"
        yield Refusal(path, f"{reason}, more than {widest}; {needed} are needed")
    if spacing_m * 2 < pattern.bolt_spacing_m:
        reason = f"{count} bolts on {metres(length_m)} of rock stand {metres(spacing_m)} apart"
        closer = metres(pattern.bolt_spacing_m)
        yield Caution(path, f"{reason}, less than half of the {closer} that the sheet states")


def _spacing_fits_the_drive(support_class: SupportClass) -> Iterator[Fault]:
    length_m = supported_m(support_class)
    spacing_m = support_class.pattern.bolt_spacing_m
    if length_m is not None and spacing_m > length_m:
        reason = f"bolts {metres(spacing_m)} apart don't fit on {metres(length_m)} of rock"
        yield Refusal(".pattern.bolt_spacing_m", reason)


RULES: Final[tuple[ClassRule, ...]] = (
    _profile,
    _back,
    _spacings,
    _tolerances,
    _spacing_fits_the_drive,
    _bolts_in_row,
)
"""The profile first: what can't be built is told before what doesn't fit on it."""
