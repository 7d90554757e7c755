"""The unrolled drive of one round as plain shapes: what was seen, and what was found.

Pure: screen, PDF and PNG paint the drawing that this makes, so they can't differ. What is
measured and matched comes from `fieldapp.assess.seen`; nothing is judged here.
"""

from dataclasses import dataclass, replace
from decimal import Decimal

from assets.translate import _
from fieldapp.assess.pattern import ZoneBorders
from fieldapp.assess.seen import Row, Seen, seen_in
from fieldapp.report.drive.bolts import drawn_bolts, short_rows
from fieldapp.report.drive.face import drawn_face, face_span
from fieldapp.report.drive.findings import (
    gap_circles,
    gap_tags,
    lap_bands,
    lap_tags,
    other_tags,
)
from fieldapp.report.drive.ground import ground_lines, ground_of_rows, ground_tags, ground_words
from fieldapp.report.drive.mesh import bare_places, drawn_sheets, sheet_bands, sheet_tags
from fieldapp.report.shapes import (
    Band,
    ChainageTick,
    CrossLine,
    Drawing,
    FaceLine,
    MeshSheet,
    RowFrame,
    Tag,
    ZoneBand,
)
from fieldapp.report.words.lengths import Units, in_units, line_tick_words, tick_words
from schemas.bundle import Bundle
from schemas.findings import Assessment

BESIDE_M = 0.3
"""Ground shown beyond the ends of the rows."""
OUTBYE_M = 0.45
INBYE_M = 0.3
SHEETS_M = 4.0
"""So far around the round a sheet of mesh is shown whole."""


def drive_picture(
    bundle: Bundle,
    assessment: Assessment | None = None,
    *,
    selected_row: int | None = None,
    entry_line_m: Decimal | None = None,
    units: Units = "metres",
) -> Drawing:
    """Draw a round. Without an assessment readings are drawn and nothing is coloured by it.

    `selected_row` is numbered from the joint, 0 and -1 are the two old rows. Lengths are written
    in the mine's units, also those that the assessment says in metres.
    """
    seen = seen_in(bundle)
    face = drawn_face(seen)
    sheets = drawn_sheets(seen)
    bands = sheet_bands(seen, assessment) if sheets else lap_bands(seen, assessment)
    spans = face_span(seen, assessment)
    grounds = ground_of_rows(seen)
    rows = tuple(
        replace(_row_frame(row, selected_row), ground=grounds.get(row.number, ""))
        for row in seen.all_rows
    )
    ends = _ends(rows, face, bands, sheets)
    left, right = ends.s_from_m, ends.s_to_m
    return Drawing(
        x_from_m=ends.x_from_m,
        x_to_m=ends.x_to_m,
        s_from_m=left,
        s_to_m=right,
        zones=tuple(zone_bands(seen.borders, left, right)),
        sheets=sheets,
        bare=bare_places(seen),
        bands=bands,
        ticks=tuple(_tick(row, units) for row in seen.all_rows),
        lines=(*_lines(seen, entry_line_m, units), *ground_lines(seen)),
        rows=rows,
        face=face,
        bolts=drawn_bolts(seen),
        circles=gap_circles(assessment),
        spans=tuple(span for span, _ in spans),
        tags=(
            *ground_tags(seen, units),
            *(
                _tag_in(tag, units)
                for tag in (
                    *gap_tags(assessment),
                    *short_rows(seen),
                    *(tag for _, tag in spans),
                    *lap_tags(seen, bands),
                    *sheet_tags(seen),
                    *other_tags(seen, assessment),
                )
            ),
        ),
        notes=(
            *filter(None, (ground_words(seen, units),)),
            *(_(note) for note in _notes(seen, bands, read=face.read)),
        ),
        units=units,
    )


def _tag_in(tag: Tag, units: Units) -> Tag:
    return replace(tag, text=_(in_units(tag.text, units)))


def last_row_m(bundle: Bundle) -> Decimal:
    """Give the chainage of the last row, as it was read or as the standard puts it."""
    return seen_in(bundle).all_rows[-1].chainage_m


@dataclass(frozen=True)
class _Ends:
    x_from_m: float
    x_to_m: float
    s_from_m: float
    s_to_m: float


def _ends(
    rows: tuple[RowFrame, ...],
    face: FaceLine,
    bands: tuple[Band, ...],
    sheets: tuple[MeshSheet, ...],
) -> _Ends:
    """Give the ground that the picture shows; a sheet far from the round doesn't shrink it."""
    face_m = max(x for x, _ in face.places)
    first_m = rows[0].x_m
    left, right = min(row.s_from_m for row in rows), max(row.s_to_m for row in rows)
    here = [it for it in sheets if it.x_from_m < face_m and it.x_to_m > rows[-1].x_m - SHEETS_M]
    inbye = [it.x_to_m for it in here if it.x_to_m < face_m + SHEETS_M]
    beside = [it.s_from_m for it in here if it.s_from_m > left - SHEETS_M]
    aside = [it.s_to_m for it in here if it.s_to_m < right + SHEETS_M]
    low = [it.x_from_m for it in bands if it.x_from_m > first_m - SHEETS_M]
    return _Ends(
        x_from_m=min([first_m, *low]) - OUTBYE_M,
        x_to_m=max([face_m, *inbye]) + INBYE_M,
        s_from_m=min([left, *beside]) - BESIDE_M,
        s_to_m=max([right, *aside]) + BESIDE_M,
    )


def _row_frame(row: Row, selected_row: int | None) -> RowFrame:
    old = row.number <= 0
    return RowFrame(
        label="old" if old else str(row.number),
        row=None if old else row.number,
        x_m=float(row.chainage_m),
        s_from_m=row.line.left_s_m,
        s_to_m=row.line.right_s_m,
        old=old,
        selected=row.number == selected_row,
        x_assumed=_is_assumed(row),
    )


def _is_assumed(row: Row) -> bool:
    return row.number > 0 and row.ahead is None


def _tick(row: Row, units: Units) -> ChainageTick:
    words = tick_words(row.chainage_m, units)
    return ChainageTick(float(row.chainage_m), f"({words})" if _is_assumed(row) else words)


def zone_bands(borders: ZoneBorders, left: float, right: float) -> list[ZoneBand]:
    """Give the zones from edge to edge, as far as they are on the picture."""
    edges = (
        left,
        borders.left_springline_s_m,
        borders.left_shoulder_s_m,
        borders.right_shoulder_s_m,
        borders.right_springline_s_m,
        right,
    )
    names = ("left wall", "left shoulder", "back", "right shoulder", "right wall")
    inside = [min(max(edge, left), right) for edge in edges]
    zones = [
        ZoneBand(name, start, end)
        for name, start, end in zip(names, inside, inside[1:], strict=False)
    ]
    return [zone for zone in zones if zone.s_to_m > zone.s_from_m]


def _lines(seen: Seen, entry_line_m: Decimal | None, units: Units) -> list[CrossLine]:
    lines = [CrossLine("joint", float(seen.round.joint_m))]
    if seen.rows and seen.round.last_row_marked:
        lines.append(CrossLine("last row", float(seen.rows[-1].chainage_m)))
    if entry_line_m is not None:
        words = _("to {line}").format(line=line_tick_words(entry_line_m, units))
        lines.append(CrossLine("entry line", float(entry_line_m), words))
    return lines


def _notes(seen: Seen, bands: tuple[Band, ...], *, read: bool) -> list[str]:
    bolts = [bolt for row in seen.all_rows for bolt in row.all_bolts if bolt.looked_at]
    notes = []
    if any(bolt.method == "assumed" for bolt in bolts):
        if seen.round.sheets:
            notes.append("counted bolts stand where the standard puts them")
        else:
            notes.append("counted bolts and laps stand where the standard puts them")
    elif bands and not seen.round.sheets:
        notes.append("laps stand where the standard puts them")
    if any(_is_assumed(row) for row in seen.rows):
        notes.append("chainages in brackets are the standard's")
    if not read:
        notes.append("face dashed: not wholly read")
    return notes
