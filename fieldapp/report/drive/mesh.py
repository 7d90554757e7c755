"""Placed sheets of mesh on the unrolled drive: the sheets, their laps, and what stays bare."""

from collections.abc import Iterator

from fieldapp.assess.mesh.lapped import Lap, is_read, laps_of
from fieldapp.assess.mesh.placed import Placed, old_sheets, placed_sheets
from fieldapp.assess.seen import Seen
from fieldapp.report.drive.findings import lap_colour
from fieldapp.report.shapes import Band, MeshSheet, Place, Tag
from schemas.findings import Assessment


def drawn_sheets(seen: Seen) -> tuple[MeshSheet, ...]:
    """Draw every sheet that was placed, those of the round before first."""
    if not placed_sheets(seen):
        return ()
    return tuple(map(_drawn, (*old_sheets(seen), *placed_sheets(seen))))


def sheet_tags(seen: Seen) -> Iterator[Tag]:
    """Say beside a sheet that it only lies as standard; its number where it was read."""
    for sheet in placed_sheets(seen):
        x_m, s_m = map(float, sheet.box.middle_m)
        words = f"sheet {sheet.number}"
        said = words if sheet.is_read else f"{words}: as standard, assumed"
        yield Tag(said, x_m, s_m, "measures" if sheet.is_read else "quiet")


def sheet_bands(seen: Seen, assessment: Assessment | None) -> tuple[Band, ...]:
    """Draw each lap of placed sheets where it lies."""
    line = seen.all_rows[-1].line
    ends = line.left_s_m, line.right_s_m
    taped = {it.number for it in seen.round.laps if is_read(it)}
    return tuple(
        _band(lap, ends, assessment, read=lap.is_read or lap.number in taped)
        for lap in laps_of(seen)
        if lap.width_m is None or lap.width_m
    )


def bare_places(seen: Seen) -> tuple[tuple[Place, ...], ...]:
    """Draw the outline of all rock that no sheet covers, by the limit of the class."""
    limit, mesh = seen.support_class.limits.mesh_cover, seen.support_class.mesh
    if limit is None or mesh is None or not placed_sheets(seen):
        return ()
    from fieldapp.assess.mesh.cover import cover_of  # shapely comes with it

    bare = cover_of(seen, float(limit.at_most_openings * mesh.pitch_mm / 1000)).bare
    return tuple(tuple((x, s) for x, s in piece.exterior.coords) for piece in bare)


def _drawn(sheet: Placed) -> MeshSheet:
    box = sheet.box
    return MeshSheet(
        x_from_m=float(box.from_m),
        x_to_m=float(box.to_m),
        s_from_m=float(box.left_s_m),
        s_to_m=float(box.right_s_m),
        number=sheet.number,
        read=sheet.is_read,
        old=sheet.old,
    )


def _band(
    lap: Lap, ends: tuple[float, float], assessment: Assessment | None, *, read: bool
) -> Band:
    box = lap.box

    def names(words: str) -> bool:
        return words.startswith(lap.words) or words == f"lap {lap.number}"

    return Band(
        x_from_m=float(box.from_m),
        x_to_m=float(box.to_m),
        s_from_m=max(float(box.left_s_m), ends[0]) if lap.across else float(box.left_s_m),
        s_to_m=min(float(box.right_s_m), ends[1]) if lap.across else float(box.right_s_m),
        number=lap.number,
        colour=lap_colour(assessment, names),
        read=read,
    )
