"""The load map of a round, for engineers: each bolt's ground, hatched by what it carries of it."""

from collections.abc import Iterator
from dataclasses import replace
from decimal import ROUND_FLOOR, Decimal
from itertools import pairwise

import shapely

from assets.translate import _
from fieldapp.assess.by_domain import load_views
from fieldapp.assess.capacity import Governs
from fieldapp.assess.load.demand import Of, demands_of
from fieldapp.assess.load.ground import load_ground
from fieldapp.assess.load.loads import BoltLoad, Loads, LoadsSeen
from fieldapp.assess.seen import Seen, seen_in
from fieldapp.assess.shaken import shaken
from fieldapp.report.drive.picture import BESIDE_M, drive_picture, zone_bands
from fieldapp.report.load_hatching import step_bounds, step_of
from fieldapp.report.shapes import Drawing, LoadCell, Place
from fieldapp.report.words.lengths import Units
from schemas.bundle import Bundle
from schemas.numbers import text

_TENTH = Decimal("0.1")
"""Down to it: what is short of its step never looks as if it had reached it."""
_MOST = 99.0
"""A bolt with hardly any ground: its figure would say more than is known."""


def load_picture(bundle: Bundle, *, units: Units = "metres") -> Drawing | None:
    """Draw what each bolt carries of what its ground demands, by the class of its own ground.

    None where no class demands anything, or the rows leave no ground between them.
    """
    seen = seen_in(bundle)
    parts = loads_by_domain(seen)
    if not parts:
        return None
    bounds = step_bounds(max(_asked(loads.seen) for loads, _shown, _own in parts))
    drawing = drive_picture(bundle, units=units)
    cells = tuple(
        cell for loads, shown, own in parts for cell in _cells(loads, shown, bounds, own)
    )
    across = [s_m for cell in cells for _x, s_m in cell.places]
    left = min([drawing.s_from_m, *(s_m - BESIDE_M for s_m in across)])
    right = max([drawing.s_to_m, *(s_m + BESIDE_M for s_m in across)])
    return replace(
        drawing,
        s_from_m=left,
        s_to_m=right,
        zones=tuple(zone_bands(seen.borders, left, right)),
        cells=cells,
        cell_words=step_words(bounds),
        bands=(),
        sheets=(),
        bare=(),
        spans=(),
        tags=(),
    )


def loads_by_domain(seen: Seen) -> tuple[tuple[LoadsSeen, Loads, frozenset[int]], ...]:
    """Give what the bolts carry by each class of the round, with the rows that are its own."""
    views = [(_part(view), own) for view, own in load_views(seen)]
    return tuple((*part, own) for part, own in views if part is not None)


def step_words(bounds: tuple[Decimal, Decimal, Decimal]) -> tuple[str, ...]:
    """Say what each step carries, as multiples of the demand."""
    ends = [text(bound.normalize() + 0) for bound in bounds]
    between = (_("{low} to {high} times").format(low=a, high=b) for a, b in pairwise(ends))
    return _("less than demanded"), *between, _("{n} times and more").format(n=ends[-1])


def _asked(seen: Seen) -> Decimal:
    limit = seen.support_class.limits.load
    return Decimal(1) if limit is None else limit.at_least_factor


def _part(seen: Seen) -> tuple[LoadsSeen, Loads] | None:
    """Give what a round carries of what its class demands; None where that can't be said."""
    demands, ground = demands_of(seen.support_class), load_ground(seen)
    if demands is None or ground is None:
        return None
    loads = LoadsSeen(seen, ground, demands)
    shown = loads.pressure or loads.energy
    return None if shown is None else (loads, shown)


def _cells(
    loads: LoadsSeen,
    shown: Loads,
    bounds: tuple[Decimal, Decimal, Decimal],
    own: frozenset[int],
) -> Iterator[LoadCell]:
    bolts, shaken_since = [it.share.bolt for it in shown.bolts], bool(shaken(loads.seen))
    first = {id(bolt): it.capacity.governs for bolt, it in loads.carried}
    for it, ground in zip(shown.bolts, loads.ground.outlines(bolts), strict=True):
        if it.share.bolt.row not in own:
            continue
        exact = Decimal(repr(min(it.factor, _MOST)))
        factor = exact.quantize(_TENTH, ROUND_FLOOR) if it.demanded > 0 else None
        unknown = shaken_since or not it.share.bolt.looked_at
        said = _("what it carries is not known until somebody has looked")
        if not unknown:
            said = _carried(it, shown.of, first[id(it.share.bolt)])
        for part in shapely.get_parts(ground):
            yield LoadCell(
                places=_outline(loads, part),
                step=0 if unknown else 3 if factor is None else step_of(exact, bounds),
                figure="?" if unknown else "" if factor is None else text(factor),
                words=said,
                x_m=it.share.bolt.chainage_m,
                s_m=it.share.bolt.s_m,
            )


def _carried(it: BoltLoad, of: Of, first: Governs) -> str:
    """Say what one bolt carries, what gives way first, and what its ground demands of it."""
    unit = "kN" if of == "pressure" else "kJ"
    said = _("carries {figure} {unit}").format(figure=f"{it.carries:.1f}", unit=unit)
    if of == "pressure":
        said = _("{carries}, the {part} gives way first").format(carries=said, part=_(first))
    return _("{carries}; its {area} m² demand {figure} {unit}").format(
        carries=said, area=f"{it.share.area_m2:.2f}", figure=f"{it.demanded:.1f}", unit=unit
    )


def _outline(loads: LoadsSeen, part: shapely.Geometry) -> tuple[Place, ...]:
    corners = shapely.get_coordinates(shapely.get_exterior_ring(part))[:-1]
    return tuple((loads.ground.gaps.chainage_m(float(x)), float(s)) for x, s in corners)
