"""Whether mesh and shotcrete fit their limits, and the laps their rows."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from fieldapp.assess.laps import Sheet, lap_mm, laps_met_by_rows
from fieldapp.assess.mesh.panel import bay_load_kn
from fieldapp.assess.standard_check.faults import (
    Caution,
    ClassRule,
    Fault,
    Refusal,
    metres,
    plain,
)
from fieldapp.assess.standard_check.shape_rules import supported_m
from schemas.limits import LapLimit, PanelLimit
from schemas.numbers import STEP_KN, rounded
from schemas.standard import Mesh, SupportClass

_MESH_CHECKS: Final = ("mesh_lap", "lap_held", "mesh_reach", "mesh_holes", "mesh_bagging")
_MAY_BE_LEFT_OUT: Final = ("mesh_cover", "mesh_panel")
_WATER_KN_PER_M3: Final = Decimal("9.81")
_LAPS_LOOKED_AT: Final = 9
_INSIDE_M: Final = Decimal("0.1")
"""A bolt holds a lap when it is this far inside both edges: common practice, no source."""


def _mesh_and_its_limits(support_class: SupportClass) -> Iterator[Fault]:
    for check in (*_MESH_CHECKS, *_MAY_BE_LEFT_OUT):
        limit = getattr(support_class.limits, check)
        if support_class.mesh is None and limit is not None:
            yield Refusal(f".limits.{check}", "this class has no mesh to look at")
        if support_class.mesh is not None and limit is None and check in _MESH_CHECKS:
            reason = "nothing is written, and this class has mesh"
            yield Refusal(f".limits.{check}", reason)


def _wire(support_class: SupportClass) -> Iterator[Fault]:
    mesh = support_class.mesh
    if mesh is not None and mesh.wire_mm >= mesh.pitch_mm:
        reason = f"wire of {plain(mesh.wire_mm)} mm leaves no opening at {plain(mesh.pitch_mm)} mm"
        yield Refusal(".mesh.wire_mm", reason)


def _lap(support_class: SupportClass) -> Iterator[Fault]:
    mesh, limit = support_class.mesh, support_class.limits.mesh_lap
    if mesh is None or limit is None:
        return
    path = ".limits.mesh_lap"
    counted_mm = lap_mm(limit.at_least_openings, mesh.pitch_mm)
    for side in (mesh.along_drive_m, mesh.across_m):
        for field, lap in (("at_least_mm", limit.at_least_mm), ("at_least_openings", counted_mm)):
            if lap / 1000 >= side:
                reason = f"a lap of {metres(lap / 1000)} is no smaller than the sheet"
                yield Refusal(f"{path}.{field}", f"{reason}, {metres(side)}")
    if abs(counted_mm - limit.at_least_mm) * 2 > mesh.pitch_mm:
        openings = f"{limit.at_least_openings} openings of {plain(mesh.pitch_mm)} mm"
        reason = f"{openings} are {plain(counted_mm)} mm, not {plain(limit.at_least_mm)} mm"
        yield Caution(f"{path}.at_least_openings", f"{reason}; both are demanded")


def _laps_between_rows(support_class: SupportClass) -> Iterator[Fault]:
    mesh, limit = support_class.mesh, support_class.limits.mesh_lap
    if mesh is None or limit is None or limit.at_least_mm / 1000 >= mesh.along_drive_m:
        return
    if limit.at_least_mm / 1000 < 2 * _INSIDE_M:
        lap = plain(limit.at_least_mm)
        reason = f"no bolt can be 100 mm inside both edges of a lap of {lap} mm"
        yield Caution(".limits.mesh_lap.at_least_mm", reason)
        return
    met = _laps_met(mesh, limit, support_class.pattern.row_spacing_m)
    if met < _LAPS_LOOKED_AT:
        rows = metres(support_class.pattern.row_spacing_m)
        laps = "1 lap" if met == 1 else f"{met or 'no'} laps"
        reason = f"rows at {rows} meet {laps} of {_LAPS_LOOKED_AT}"
        advance = metres(mesh.along_drive_m - limit.at_least_mm / 1000)
        yield Caution(".mesh.along_drive_m", f"{reason}: a sheet advances {advance}")


def _laps_met(mesh: Mesh, limit: LapLimit, row_spacing_m: Decimal) -> int:
    sheet = Sheet(mesh.along_drive_m, limit.at_least_mm / 1000)
    middle_m = sheet.lap_m / 2  # the first sheet is lapped over the last row of the old mesh
    return len(laps_met_by_rows(sheet, row_spacing_m, _LAPS_LOOKED_AT, middle_m, _INSIDE_M))


def _reach(support_class: SupportClass) -> Iterator[Fault]:
    reach, lowest = support_class.limits.mesh_reach, support_class.limits.lowest_bolt
    if reach is not None and reach.above_floor_at_most_m > lowest.at_most_m:
        reason = f"mesh may end higher than the lowest bolts, {metres(lowest.at_most_m)}"
        yield Caution(".limits.mesh_reach.above_floor_at_most_m", reason)


def _panel(support_class: SupportClass) -> Iterator[Fault]:
    """Refuse a panel load without its rig, and figures of two rigs in one comparison."""
    mesh, limit = support_class.mesh, support_class.limits.mesh_panel
    if mesh is None:
        return
    if mesh.panel_kn is None:
        if limit is not None:
            yield Refusal(".mesh.panel_kn", "nothing is written, and a limit compares with it")
        return
    if mesh.panel_rig is None:
        reason = "a panel load says nothing without the rig that it was found with"
        yield Refusal(".mesh.panel_rig", reason)
    if mesh.panel_because is None:
        yield Refusal(".mesh.panel_because", "a panel load with no because")
    if limit is None or mesh.panel_rig is None:
        return
    if limit.rig != mesh.panel_rig:
        reason = f"“{limit.rig}” beside a panel load found “{mesh.panel_rig}”"
        yield Refusal(".limits.mesh_panel.rig", f"{reason}: two rigs are never compared")
        return
    yield from _bay(support_class, limit, mesh.panel_kn)


def _bay(support_class: SupportClass, limit: PanelLimit, panel_kn: Decimal) -> Iterator[Fault]:
    """Refuse a panel that a perfect bay overloads; warn of one that only full tolerance does."""
    if limit.rock_kn_per_m3 < _WATER_KN_PER_M3:
        reason = f"no broken rock is as light as {plain(limit.rock_kn_per_m3)} kN/m³"
        yield Refusal(
            ".limits.mesh_panel.rock_kn_per_m3", f"{reason}, which is lighter than water"
        )
    pattern, path = support_class.pattern, ".limits.mesh_panel.loosened_m"
    spacing_m, row_m = pattern.bolt_spacing_m, pattern.row_spacing_m
    widest_m2 = (spacing_m + pattern.bolt_spacing_tolerance_m) * (
        row_m + pattern.row_spacing_tolerance_m
    )
    for area_m2, found, said in (
        (spacing_m * row_m, Refusal, "of the perfect pattern"),
        (widest_m2, Caution, "at full tolerance"),
    ):
        load_kn = rounded(bay_load_kn(area_m2, limit.loosened_m, limit.rock_kn_per_m3), STEP_KN)
        if load_kn > panel_kn:
            bay = f"a bay {said} may hold {plain(load_kn)} kN of broken rock"
            yield found(path, f"{bay}, and its mesh {plain(panel_kn)} kN")
            return


def _strip(support_class: SupportClass) -> Iterator[Fault]:
    mesh, length_m = support_class.mesh, supported_m(support_class)
    if mesh is None or length_m is None or mesh.kind != "rolls of chain-link mesh":
        return
    if mesh.across_m < length_m:
        reason = f"a strip of {metres(mesh.across_m)} is shorter than the {metres(length_m)}"
        yield Caution(".mesh.across_m", f"{reason} of rock in a row")


def _shotcrete(support_class: SupportClass) -> Iterator[Fault]:
    shotcrete, limit = support_class.shotcrete, support_class.limits.shotcrete_thickness
    path = ".limits.shotcrete_thickness"
    if shotcrete is None:
        if limit is not None:
            yield Refusal(path, "this class has no shotcrete to measure")
        return
    if limit is None:
        yield Refusal(path, "nothing is written, and this class has shotcrete")
    elif limit.at_least_mm > shotcrete.thickness_mm:
        reason = f"the class sprays {plain(shotcrete.thickness_mm)} mm, less than this limit"
        yield Refusal(f"{path}.at_least_mm", reason)
    early = shotcrete.curing.strength_mpa
    if early is not None and early > shotcrete.strength_mpa:
        reason = f"more than the {plain(shotcrete.strength_mpa)} MPa that it ever has to reach"
        yield Refusal(".shotcrete.curing.strength_mpa", f"{plain(early)} MPa is {reason}")


def _something_between_the_bolts(support_class: SupportClass) -> Iterator[Fault]:
    if support_class.mesh is None and support_class.shotcrete is None:
        reason = "neither mesh nor shotcrete holds the small rock between the bolts"
        yield Caution(".mesh", reason)


RULES: Final[tuple[ClassRule, ...]] = (
    _mesh_and_its_limits,
    _wire,
    _lap,
    _laps_between_rows,
    _reach,
    _panel,
    _strip,
    _shotcrete,
    _something_between_the_bolts,
)
