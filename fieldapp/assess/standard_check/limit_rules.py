"""Whether each limit can be met by a perfect round, missed by a bad one, and says enough."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from fieldapp.assess.density import pattern_density_per_m2
from fieldapp.assess.standard_check.faults import (
    Caution,
    ClassRule,
    Fault,
    Refusal,
    metres,
    plain,
)
from fieldapp.assess.standard_check.shape_rules import spacing_in_row_m
from schemas.findings import Verdict
from schemas.limits import Demanded, Measured, Trigger
from schemas.numbers import STEP_PER_M2, rounded
from schemas.standard import SupportClass

NEVER_LEFT_FOR_THE_SHIFT: Final[dict[str, str]] = {
    "barring_down": "loose rock overhead",
    "face_made_safe": "a face that can fall on people",
    "misfires_and_butts": "a misfire",
    "old_rows": "the last two old rows",
    "bolts_present": "a missing bolt",
    "neighbouring_bolts": "two neighbouring bolts missing",
    "largest_gap": "a gap between the bolts",
    "bolt_spacing": "bolts too far apart",
    "row_spacing": "rows too far apart",
    "density": "too few bolts",
    "load": "support that doesn't carry its load",
    "bolt_type": "the wrong bolt",
    "curing": "ground that has not cured",
    "mesh_bagging": "broken rock hanging in the mesh",
    "last_row_to_face": "a last row too far from the face",
}
"""Checks whose breach is never *fix this shift*, because people would stand beneath it."""


def demanded_limits(support_class: SupportClass) -> Iterator[tuple[str, Demanded]]:
    """Give every limit that a class sets, by the name of its check.

    Parameters
    ----------
    support_class : SupportClass
        The class. [any]

    Returns
    -------
    iterator of (str, Demanded)
        In the order of the checks. [any]

    Source
    ------
    Common practice, no source.
    """
    for name in type(support_class.limits).model_fields:
        limit = getattr(support_class.limits, name)
        if isinstance(limit, Demanded):
            yield name, limit


def _breaches(support_class: SupportClass) -> Iterator[Fault]:
    for name, limit in demanded_limits(support_class):
        what = NEVER_LEFT_FOR_THE_SHIFT.get(name)
        if limit.breach is Verdict.FIX_THIS_SHIFT and what is not None:
            reason = f"{what} can't be left as “fix this shift”: people would enter beneath it"
            yield Refusal(f".limits.{name}.breach", reason)
    if support_class.limits.neighbouring_bolts.breach is not Verdict.NO_ENTRY:
        reason = "two neighbouring bolts missing are always “no entry”"
        yield Refusal(".limits.neighbouring_bolts.breach", reason)


def _grave_bounds(support_class: SupportClass) -> Iterator[Fault]:
    for name, limit in demanded_limits(support_class):
        if not isinstance(limit, Measured) or limit.grave_bound is None:
            continue
        at_least = limit.sense == "at least"
        milder = limit.grave_bound >= limit.bound if at_least else limit.grave_bound <= limit.bound
        if milder:
            side = "below" if at_least else "above"
            reason = f"“no entry” must start {side} the limit itself, {plain(limit.bound)}"
            yield Refusal(f".limits.{name}.{limit.grave_field}", f"{reason} {limit.unit}")


def _spacings(support_class: SupportClass) -> Iterator[Fault]:
    pattern, limits = support_class.pattern, support_class.limits
    bolts = (pattern.bolt_spacing_m, pattern.bolt_spacing_tolerance_m)
    rows = (pattern.row_spacing_m, pattern.row_spacing_tolerance_m)
    for name, limit, (spacing_m, tolerance_m) in (
        ("bolt_spacing", limits.bolt_spacing, bolts),
        ("row_spacing", limits.row_spacing, rows),
    ):
        widest_m = spacing_m + tolerance_m
        path = f".limits.{name}.at_most_m"
        if limit.at_most_m < spacing_m:
            yield Refusal(path, f"the pattern's own spacing, {metres(spacing_m)}, would break it")
        elif limit.at_most_m > widest_m:
            reason = f"the pattern allows {metres(widest_m)} at full tolerance, this limit more"
            yield Refusal(path, reason)
        elif limit.at_most_m < widest_m:
            reason = f"the pattern allows {metres(widest_m)} at full tolerance, this limit less"
            yield Caution(path, reason)


def _perfect_round(support_class: SupportClass) -> Iterator[Fault]:
    limits, pattern = support_class.limits, support_class.pattern
    from_m = support_class.profile.supported_from_m
    if limits.lowest_bolt.at_most_m < from_m:
        reason = f"the lowest bolts belong {metres(from_m)} above the floor, above this limit"
        yield Refusal(".limits.lowest_bolt.at_most_m", reason)
    spacing_m = spacing_in_row_m(support_class) or pattern.bolt_spacing_m
    if spacing_m <= 0:
        return
    perfect = rounded(
        pattern_density_per_m2(float(spacing_m), float(pattern.row_spacing_m)), STEP_PER_M2
    )
    if limits.density.at_least_per_m2 > perfect:
        reason = f"the pattern has {plain(perfect)} bolts per m², fewer than this limit"
        yield Refusal(".limits.density.at_least_per_m2", reason)


def _torque(support_class: SupportClass) -> Iterator[Fault]:
    limit = support_class.limits.torque
    if limit is not None and limit.at_least_nm >= limit.at_most_nm:
        window = f"{plain(limit.at_least_nm)} to {plain(limit.at_most_nm)} N·m"
        yield Refusal(".limits.torque.at_most_nm", f"no torque lies in a window of {window}")


def _ground(support_class: SupportClass) -> Iterator[Fault]:
    path = ".limits.ground_condition.triggers"
    triggers = support_class.limits.ground_condition.triggers
    named = [trigger.condition for trigger in triggers]
    for condition in ("wetter", "fault or wedge", "noise", "spalling"):
        if condition not in named:
            yield Refusal(path, f"nobody is named to call when the ground is “{condition}”")
    for index, trigger in enumerate(triggers):
        if trigger.condition in named[:index]:
            reason = f"“{trigger.condition}” stands there twice"
            yield Refusal(f"{path}[{index}].condition", reason)
        yield from _milder_after_the_call(trigger, f"{path}[{index}].after_the_call")


def _milder_after_the_call(trigger: Trigger, path: str) -> Iterator[Fault]:
    after = Verdict(trigger.after_the_call)
    if after.gravity > Verdict(trigger.breach).gravity:
        reason = f"“{after}” is graver than “{trigger.breach}”, which stands until the call"
        yield Refusal(path, reason)


def _plates(support_class: SupportClass) -> Iterator[Fault]:
    limit_mm = support_class.limits.plates_seated.at_most_gap_mm
    if limit_mm not in (Decimal(0), Decimal(10), Decimal(20)):
        reason = "plates are looked at in steps of 10 and 20 mm"
        path = ".limits.plates_seated.at_most_gap_mm"
        yield Caution(path, f"{reason}; {plain(limit_mm)} mm is judged by the step below it")


def _curing(support_class: SupportClass) -> Iterator[Fault]:
    limits = support_class.limits
    cures = [bolt.name for bolt in support_class.bolts if bolt.curing is not None]
    cures += ["shotcrete"] if support_class.shotcrete is not None else []
    if cures and limits.curing is None:
        reason = f"nothing is written, and {cures[0]} has to cure before it counts"
        yield Refusal(".limits.curing", reason)
    if not cures and limits.curing is not None:
        yield Refusal(".limits.curing", "nothing in this class has to cure")


def _noughts(support_class: SupportClass) -> Iterator[Fault]:
    for name, limit in demanded_limits(support_class):
        if isinstance(limit, Measured) and limit.bound == 0:
            path = f".limits.{name}.{limit.bound_field}"
            yield Refusal(path, f"a limit of 0 {limit.unit} can't be kept, or forbids nothing")


RULES: Final[tuple[ClassRule, ...]] = (
    _spacings,
    _perfect_round,
    _grave_bounds,
    _breaches,
    _torque,
    _ground,
    _plates,
    _curing,
    _noughts,
)
