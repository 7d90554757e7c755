"""A drawing of an invented round, and of a long drive, for the map to show."""

from math import sin

from fieldapp.report.shapes import (
    Band,
    Bolt,
    BoltState,
    ChainageTick,
    Circle,
    CrossLine,
    Drawing,
    FaceLine,
    RowFrame,
    Span,
    Tag,
    ZoneBand,
)

HALF_M = 5.6
POSITIONS = 9
SPACING_M = 2 * HALF_M / (POSITIONS - 1)
ROW_M = 1.2
JOINT_M = 1386.4


def round_drawing() -> Drawing:
    """Three new rows, two old ones; one bolt missing, one plate loose, one lap too short."""
    rows = tuple(_row(label, number) for number, label in enumerate(("old", "old", "1", "2", "3")))
    x3 = rows[4].x_m
    face = tuple((x3 + 0.8 + 0.08 * sin(5 * s), s) for s in _across(40))
    return Drawing(
        x_from_m=rows[0].x_m - 0.6,
        x_to_m=x3 + 1.3,
        s_from_m=-HALF_M - 0.4,
        s_to_m=HALF_M + 0.4,
        zones=(
            ZoneBand("left wall", -HALF_M - 0.4, -4.0),
            ZoneBand("left shoulder", -4.0, -2.4),
            ZoneBand("back", -2.4, 2.4),
            ZoneBand("right shoulder", 2.4, 4.0),
            ZoneBand("right wall", 4.0, HALF_M + 0.4),
        ),
        bands=(
            Band(JOINT_M - 0.05, JOINT_M + 0.25, -HALF_M, HALF_M, 1, "measures"),
            Band(JOINT_M + 1.6, JOINT_M + 1.81, -HALF_M, HALF_M, 2, "rework"),
            Band(JOINT_M + 2.75, JOINT_M + 3.05, -HALF_M, HALF_M, 3, "measures", read=False),
        ),
        ticks=tuple(ChainageTick(row.x_m, f"{row.x_m:.1f}") for row in rows),
        lines=(CrossLine("joint", JOINT_M), CrossLine("entry line", rows[2].x_m - 0.55)),
        rows=rows,
        face=FaceLine(face),
        bolts=_bolts(rows),
        circles=(Circle(rows[3].x_m, 2 * SPACING_M, 2.43, "no_entry"),),
        spans=(Span(x3, x3 + 0.8, -0.7, "measures"),),
        tags=(
            Tag("2.43 m", rows[3].x_m - 1.2, 2 * SPACING_M, "no_entry"),
            Tag("210 mm", JOINT_M + 1.7, -HALF_M + 0.7, "rework"),
            Tag("300 mm", JOINT_M + 0.1, -HALF_M + 0.7, "measures"),
            Tag("0.80 m", x3 + 0.4, -0.7, "measures"),
        ),
    )


def long_drawing(rows: int = 556) -> Drawing:
    """A drive of some hundred rows: 5,004 bolts with nine in a row."""
    frames = tuple(_row(str(number), number) for number in range(rows))
    return Drawing(
        x_from_m=frames[0].x_m - 1,
        x_to_m=frames[-1].x_m + 1,
        s_from_m=-HALF_M - 0.4,
        s_to_m=HALF_M + 0.4,
        zones=(
            ZoneBand("left wall", -6, -3),
            ZoneBand("back", -3, 3),
            ZoneBand("right wall", 3, 6),
        ),
        ticks=tuple(ChainageTick(row.x_m, f"{row.x_m:.0f}") for row in frames[::5]),
        rows=frames,
        bolts=_bolts(frames),
        bands=tuple(
            Band(row.x_m + 0.5, row.x_m + 0.8, -HALF_M, HALF_M, number, "measures")
            for number, row in enumerate(frames[::10])
        ),
    )


def _row(label: str, number: int) -> RowFrame:
    return RowFrame(
        label=label,
        row=None if label == "old" else int(label),
        x_m=JOINT_M - 1.8 + number * ROW_M,
        s_from_m=-HALF_M,
        s_to_m=HALF_M,
        old=label == "old",
        selected=label == "3",
    )


def _bolts(rows: tuple[RowFrame, ...]) -> tuple[Bolt, ...]:
    return tuple(
        Bolt(
            x_m=row.x_m + 0.05 * sin(7 * position + index),
            s_m=s_m + 0.06 * sin(3 * position + 2 * index),
            state=_state(row.label, position),
            row=row.row,
            position=position + 1,
            old=row.old,
        )
        for index, row in enumerate(rows)
        for position, s_m in enumerate(_across(POSITIONS))
    )


def _state(label: str, position: int) -> BoltState:
    odd: dict[tuple[str, int], BoltState] = {
        ("2", 6): "missing",
        ("1", 3): "loose",
        ("1", 5): "not counting",
        ("2", 1): "assumed",
        ("2", 2): "assumed",
    }
    return odd.get((label, position), "not looked at" if label == "3" else "seated")


def _across(count: int) -> list[float]:
    return [-HALF_M + 2 * HALF_M * number / (count - 1) for number in range(count)]
