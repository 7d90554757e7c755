"""What a class demands of its bolts."""

from decimal import Decimal
from typing import Final

from fieldapp.assess.standard_check.faults import metres, plain
from fieldapp.assess.standard_words.section import (
    ClassSection,
    Line,
    Lines,
    counted,
    limit_line,
    listed,
)
from fieldapp.assess.take_off import resin_of_bolt
from schemas.limits import Curing, TorqueLimit
from schemas.standard import BoltType, SupportClass

_ALL_ZONES: Final = 5


def _pattern(support_class: SupportClass) -> Lines:
    pattern = support_class.pattern
    wide = f"{metres(pattern.bolt_spacing_m)} apart"
    rows = f"rows {metres(pattern.row_spacing_m)} apart"
    up_to = _up_to(pattern.bolt_spacing_m, pattern.bolt_spacing_tolerance_m)
    rows_up_to = _up_to(pattern.row_spacing_m, pattern.row_spacing_tolerance_m)
    yield Line(
        f"{pattern.bolts_per_row} in a row, {wide}{up_to}, {rows}{rows_up_to}, "
        f"{pattern.kind} pattern."
    )
    if pattern.kind == "staggered":
        fewer = counted(pattern.bolts_per_row - 1, "bolt")
        yield Line(f"Every other row is shifted by half a spacing and has {fewer}.")
    for bolt in support_class.bolts:
        yield from _bolt(bolt)


def _up_to(spacing_m: Decimal, tolerance_m: Decimal) -> str:
    return f" (up to {metres(spacing_m + tolerance_m)})" if tolerance_m else ""


def _bolt(bolt: BoltType) -> Lines:
    where = "" if len(bolt.zones) == _ALL_ZONES else f" in the {listed(list(bolt.zones))}"
    plate = f"plate {plain(bolt.plate_mm)} mm"
    yield Line(f"{bolt.code}: {bolt.name}, {metres(bolt.length_m)} long, {plate}{where}.")
    holds = "still holds rock" if bolt.anchored_with_loose_plate else "holds nothing"
    yield Line(f"With a loose plate {bolt.code} {holds}.")
    yield from _hole(bolt)


def _hole(bolt: BoltType) -> Lines:
    if bolt.hole_mm is not None:
        bar = "" if bolt.bar_mm is None else f" for a bar of {plain(bolt.bar_mm)} mm"
        yield Line(f"{bolt.code} stands in a hole of {plain(bolt.hole_mm)} mm{bar}.")
    elif bolt.bar_mm is not None:
        yield Line(f"{bolt.code} is a bar of {plain(bolt.bar_mm)} mm when it is new.")
    if bolt.tube_wall_mm is not None:
        wall = plain(bolt.tube_wall_mm)
        yield Line(f"{bolt.code} is a tube with a wall of {wall} mm when it is new.")
    resin = resin_of_bolt(bolt)
    if resin is not None and bolt.capsule_mm is not None and bolt.capsule_length_m is not None:
        size = f"{plain(bolt.capsule_mm)} mm, {metres(bolt.capsule_length_m)} long"
        capsules = f"{counted(resin.capsules, 'capsule')} of {size}"
        yield Line(f"{bolt.code} takes {capsules}, which fill {metres(resin.filled_m)} of it.")


def _limits(support_class: SupportClass) -> Lines:
    limits = support_class.limits
    yield limit_line("No bolt is missing.", limits.bolts_present)
    yield limit_line("No two neighbouring bolts are missing.", limits.neighbouring_bolts)
    gap = metres(limits.largest_gap.at_most_m)
    yield limit_line(f"No circle without a bolt is wider than {gap}.", limits.largest_gap)
    spacing = metres(limits.bolt_spacing.at_most_m)
    yield limit_line(f"Bolts in a row stand at most {spacing} apart.", limits.bolt_spacing)
    rows = metres(limits.row_spacing.at_most_m)
    yield limit_line(f"Rows stand at most {rows} apart.", limits.row_spacing)
    lowest = metres(limits.lowest_bolt.at_most_m)
    yield limit_line(f"The lowest bolt is at most {lowest} above the floor.", limits.lowest_bolt)
    density = plain(limits.density.at_least_per_m2)
    yield limit_line(f"At least {density} bolts per m².", limits.density)
    yield limit_line("Every bolt is of the type named for its place.", limits.bolt_type)
    angle = plain(limits.bolt_angle.at_most_deg)
    yield limit_line(f"No bolt leans more than {angle}° from square.", limits.bolt_angle)
    plates = plain(limits.plates_seated.at_most_gap_mm)
    yield limit_line(f"Plates sit on the rock, no gap over {plates} mm.", limits.plates_seated)
    if limits.torque is not None:
        yield limit_line(_torque(limits.torque), limits.torque)


def _torque(limit: TorqueLimit) -> str:
    window = f"{plain(limit.at_least_nm)} to {plain(limit.at_most_nm)} N·m"
    if limit.rule == "first, every nth and last":
        return f"Torque {window} on the first bolt, every {_ordinal(limit.n)} and the last."
    return f"Torque {window} on the first bolt, then on one in {limit.n}."


def _ordinal(number: int) -> str:
    teens = range(10, 20)
    ending = {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}th" if number % 100 in teens else f"{number}{ending}"


def _curing(support_class: SupportClass) -> Lines:
    limit = support_class.limits.curing
    if limit is None:
        return
    for bolt in support_class.bolts:
        if bolt.curing is not None:
            yield limit_line(f"{bolt.code} counts {_cured(bolt.curing, 'in')}.", limit)
    if support_class.shotcrete is not None:
        cured = _cured(support_class.shotcrete.curing, "sprayed")
        yield limit_line(f"Shotcrete counts {cured}; nobody walks under it before.", limit)


def _cured(curing: Curing, done: str) -> str:
    after = f"{plain(curing.after_h)} h after it is {done}"
    if curing.strength_mpa is None:
        return after
    return f"{after} and at {plain(curing.strength_mpa)} MPa, the later of both"


SECTIONS: Final[tuple[ClassSection, ...]] = (
    ("Bolts", _pattern),
    ("What is looked at on the bolts", _limits),
    ("Curing", _curing),
)
