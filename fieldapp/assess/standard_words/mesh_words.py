"""What a class demands of its mesh and shotcrete, of the last row, and of people."""

from typing import Final

from fieldapp.assess.standard_check.faults import metres, plain
from fieldapp.assess.standard_words.section import (
    ClassSection,
    Line,
    Lines,
    counted,
    limit_line,
)
from schemas.limits import CoverLimit, LapLimit, PanelLimit, ReachLimit
from schemas.standard import Limits, Mesh, SupportClass


def _mesh(support_class: SupportClass) -> Lines:
    mesh, limits = support_class.mesh, support_class.limits
    if mesh is None:
        return
    wire = f"{plain(mesh.pitch_mm)} mm pitch, {plain(mesh.wire_mm)} mm wire"
    size = f"{metres(mesh.along_drive_m)} along the drive, {metres(mesh.across_m)} across"
    yield Line(f"{mesh.kind.capitalize()}, {wire}, {size}.")
    if limits.mesh_lap is not None:
        yield from _laps(mesh, limits.mesh_lap)
    if limits.lap_held is not None:
        yield limit_line("A plate bears on both sheets along the whole lap.", limits.lap_held)
    if limits.mesh_reach is not None:
        yield from _reach(limits.mesh_reach)
    yield from _as_it_comes(mesh)
    yield from _damage(limits)
    beyond = plain(mesh.beyond_plates_at_most_mm)
    yield Line(f"Mesh more than {beyond} mm beyond its outermost plates doesn't count.")
    if limits.mesh_cover is not None:
        yield _cover(limits.mesh_cover)
    if mesh.panel_kn is not None:
        told = f"One panel carried {plain(mesh.panel_kn)} kN, {mesh.panel_rig or 'rig not named'}."
        yield Line(told, because=mesh.panel_because or "")
    if limits.mesh_panel is not None:
        yield _panel(limits.mesh_panel)


def _cover(limit: CoverLimit) -> Line:
    most = f"At most {plain(limit.at_most_m2)} m² of rock" if limit.at_most_m2 else "No rock"
    openings = counted(limit.at_most_openings, "opening")
    told = f"{most} without a sheet, where sheets were placed, in places wider than {openings}."
    return limit_line(told, limit)


def _panel(limit: PanelLimit) -> Line:
    rock = f"{metres(limit.loosened_m)} of rock at {plain(limit.rock_kn_per_m3)} kN/m³"
    told = f"No bay between the plates that are there may hold more than that, of {rock}."
    return limit_line(told, limit)


def _laps(mesh: Mesh, limit: LapLimit) -> Lines:
    least = f"{plain(limit.at_least_mm)} mm and {counted(limit.at_least_openings, 'opening')}"
    yield limit_line(f"Laps of at least {least}.", limit)
    advance = metres(mesh.along_drive_m - limit.at_least_mm / 1000)
    yield Line(f"So each sheet advances {advance} along the drive at most.")


def _as_it_comes(mesh: Mesh) -> Lines:
    if mesh.strip_tail_m:
        yield Line(f"A strip hangs {metres(mesh.strip_tail_m)} past the row at either end.")
    if mesh.strip_width_step_m:
        yield Line(f"Strips are ordered in widths of every {metres(mesh.strip_width_step_m)}.")
    if mesh.roll_length_m is not None:
        yield Line(f"A roll is {metres(mesh.roll_length_m)} long.")
    if mesh.strips_per_pack is not None and mesh.pack_length_m is not None:
        strips = counted(mesh.strips_per_pack, "strip")
        yield Line(f"A pack holds {strips}, {metres(mesh.pack_length_m)} in all.")


def _reach(limit: ReachLimit) -> Lines:
    to_face = metres(limit.to_face_at_most_m)
    yield limit_line(f"Mesh held by plates ends at most {to_face} from the face.", limit)
    above = metres(limit.above_floor_at_most_m)
    yield limit_line(f"Mesh comes down to {above} above the floor on both walls.", limit)


def _damage(limits: Limits) -> Lines:
    if limits.mesh_holes is not None:
        largest = counted(limits.mesh_holes.at_most_openings, "opening")
        above = metres(limits.mesh_holes.above_floor_m)
        told = f"Higher than {above} above the floor no hole is larger than {largest}."
        yield limit_line(told, limits.mesh_holes)
    if limits.mesh_bagging is not None:
        deep = f"{plain(limits.mesh_bagging.at_most_mm)} mm"
        heavy = f"{plain(limits.mesh_bagging.at_most_t)} t"
        told = f"Mesh is bagged no deeper than {deep}, with no more than {heavy}."
        yield limit_line(told, limits.mesh_bagging)


def _shotcrete(support_class: SupportClass) -> Lines:
    shotcrete, limit = support_class.shotcrete, support_class.limits.shotcrete_thickness
    if shotcrete is None:
        return
    thick = f"{plain(shotcrete.thickness_mm)} mm"
    yield Line(f"{thick} thick, {plain(shotcrete.strength_mpa)} MPa in the end.")
    if limit is not None:
        least = plain(limit.at_least_mm)
        yield limit_line(f"Nowhere thinner than {least} mm where it is probed.", limit)


def _last_row(support_class: SupportClass) -> Lines:
    limits, entry = support_class.limits, support_class.entry
    face = metres(limits.last_row_to_face.at_most_m)
    told = f"The last row is at most {face} from the face, at the worst of left, middle, right."
    yield limit_line(told, limits.last_row_to_face)
    yield limit_line("The last row is painted or has its sign.", limits.last_row_marked)
    if entry.stand_off_m:
        stand_off = metres(entry.stand_off_m)
        told = f"Whoever is not working at the face keeps {stand_off} back from the entry line."
        yield Line(told, because=entry.because)
    yield Line(f"Charging the face needs {entry.charging_needs}.", because=entry.because)


SECTIONS: Final[tuple[ClassSection, ...]] = (
    ("Mesh", _mesh),
    ("Shotcrete", _shotcrete),
    ("The last row", _last_row),
)
