"""Who goes beneath holes and bagged mesh, whatever the table of priorities says.

A reading that straddles its limit counts as a breach until it is measured again; what nobody
read of a hole or a bag counts as one too.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from fieldapp.assess.damage.observed import Observation, Reading, counting_reading
from fieldapp.assess.laps import clear_opening_mm
from schemas.limits import BaggingLimit, HoleLimit
from schemas.numbers import text
from schemas.rehab_rules import Holds
from schemas.standard import Measuring, Mesh, SupportClass

MEASURE = "until it is measured again"


@dataclass(frozen=True)
class Beneath:
    """What a hole or a bag holds entry at, and why."""

    holds: Holds
    because: str
    measure_again: bool = False
    """Whether a better reading might end it."""


def beneath(
    seen: Sequence[Observation], demanded: SupportClass | None, measuring: Measuring | None
) -> tuple[Beneath, ...]:
    """Find what a damage holds entry at by the limits on holes and bagging of its class.

    Parameters
    ----------
    seen : sequence of Observation
        Of one damage, in the order in which they were seen. [mm, m, t]
    demanded : SupportClass or None
        The class put up there; None where none is known, and nothing follows. [mm, m, t]
    measuring : Measuring or None
        How far readings may be off where nobody said. [m]

    Returns
    -------
    tuple of Beneath
        Nobody on foot beneath a hole until it is patched; nobody beneath a bag. [-]

    Source
    ------
    Common practice, no source; the guard on the reading: JCGM 106:2012, 8.3.2.
    """
    if demanded is None:
        return ()
    return tuple(_found(seen, demanded, measuring))


def _found(
    seen: Sequence[Observation], demanded: SupportClass, measuring: Measuring | None
) -> Iterator[Beneath]:
    limits, mesh = demanded.limits, demanded.mesh
    kinds = {it.damage.kind for it in seen}
    if limits.mesh_holes is not None and mesh is not None:
        openings = (it.damage.extent.openings for it in seen)
        # A hole does not heal: another count is no proof that the first was wrong.
        counted = max((it for it in openings if it is not None), default=None)
        if "torn mesh" in kinds or counted is not None:
            yield from _hole(seen, counted, limits.mesh_holes, mesh, measuring)
    if limits.mesh_bagging is not None:
        depth = counting_reading(seen, "bag_depth", measuring)
        mass = counting_reading(seen, "loose_mass", measuring)
        if "bagged mesh" in kinds or depth is not None or mass is not None:
            yield from _bag(depth, mass, limits.mesh_bagging)


def _hole(
    seen: Sequence[Observation],
    openings: int | None,
    limit: HoleLimit,
    mesh: Mesh,
    measuring: Measuring | None,
) -> Iterator[Beneath]:
    above = counting_reading(seen, "above_floor", measuring)
    long = counting_reading(seen, "length", measuring)
    clear_mm = clear_opening_mm(limit.at_most_openings * mesh.pitch_mm, mesh.wire_mm)
    small = _is_small(openings, limit, long, clear_mm)
    if small or (above is not None and above.is_surely_within(limit.above_floor_m)):
        return
    counted = f"{openings} openings" if openings is not None else None
    size = counted or _said(long, _no_length(counting_reading(seen, "area", measuring)))
    high = _said(above, "height not measured")
    sure = _is_large(openings, limit, long, clear_mm) and _is_over(above, limit.above_floor_m)
    because = (
        f"nobody on foot beneath until patched: hole of {size}, {high}; limit "
        f"{limit.at_most_openings} opening above {text(limit.above_floor_m)} m"
    )
    yield Beneath("restricted", because if sure else f"{because}; {MEASURE}", not sure)


def _is_small(
    openings: int | None, limit: HoleLimit, long: Reading | None, clear_mm: Decimal
) -> bool:
    counted_small = openings is not None and openings <= limit.at_most_openings
    if long is None:
        return counted_small
    return long.is_surely_within(clear_mm) and (openings is None or counted_small)


def _is_large(
    openings: int | None, limit: HoleLimit, long: Reading | None, clear_mm: Decimal
) -> bool:
    return (openings is not None and openings > limit.at_most_openings) or _is_over(long, clear_mm)


def _bag(depth: Reading | None, mass: Reading | None, limit: BaggingLimit) -> Iterator[Beneath]:
    light = mass is None or mass.is_surely_within(limit.at_most_t)
    if light and depth is not None and depth.is_surely_within(limit.at_most_mm):
        return
    sure = _is_over(depth, limit.at_most_mm) or _is_over(mass, limit.at_most_t)
    read = [_said(depth, "depth not measured"), *([] if mass is None else [mass.words])]
    because = (
        f"nobody beneath: bagged {', '.join(read)}; limit {text(limit.at_most_mm)} mm "
        f"or {text(limit.at_most_t)} t"
    )
    yield Beneath("no entry", because if sure else f"{because}; {MEASURE}", not sure)


def _is_over(read: Reading | None, limit: Decimal) -> bool:
    return read is not None and read.is_surely_over(limit)


def _no_length(area: Reading | None) -> str:
    """Say what is missing: a limit of openings is met along the longer side, whatever the area."""
    return "size not measured" if area is None else f"{area.words}, longer side not measured"


def _said(read: Reading | None, nothing: str) -> str:
    return nothing if read is None else read.words
