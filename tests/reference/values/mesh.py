"""Sheets of mesh: unions, what a sheet really covers, what a bay may hold and a wire carries."""

from collections.abc import Iterator
from decimal import Decimal
from math import pi

from fieldapp.assess.capacity import steel_kn
from fieldapp.assess.checks.mesh_panel import mesh_panel
from fieldapp.assess.laps import Sheet
from fieldapp.assess.mesh.bays import Bay, bays
from fieldapp.assess.mesh.panel import bay_load_kn
from fieldapp.assess.mesh.placed import Box, union_of
from fieldapp.assess.seen import Seen, seen_in
from schemas.findings import Finding
from schemas.limits import PanelLimit
from tests.reference.value import Source, Value
from tests.standards import D1, changed, put
from tests.unit.assess.conforming import conforming, missing, with_bolts

ATLANTIS = Source("ACM ICPC Mid-Central European Regional 2000, Atlantis, its sample", "published")
ESTATE = Source("NAIPC 2017, Unreal Estate, its first sample", "published")
EXCLUSION = Source("Inclusion and exclusion of three rectangles", "own")
BESIDE = Source("n sheets side by side cover n·w − (n − 1)·lap", "own")
EFFECTIVE = Source("A sheet covers its sides less the lap, both ways", "own")
BAY = Source("Weight is unit weight times spacing, row spacing and thickness", "own")
HOLE = Source("Lattice cells that share a missing plate", "own")
PANEL = Source("Panels pulled by a plate of 300 × 300 mm, all by one rig", "common practice")
WIRE = Source("F = A·f, A = π·d²/4", "own")

Corners = tuple[float, float, float, float]


def boxes(*corners: Corners) -> list[Box]:
    return [Box(*(Decimal(str(it)) for it in (x1, x2, y1, y2))) for x1, y1, x2, y2 in corners]


def row(sheets: int, width: float, length: float, lap: float) -> list[Box]:
    starts = [round(n * (width - lap), 6) for n in range(sheets)]
    return boxes(*((start, 0, round(start + width, 6), length) for start in starts))


def area(shape: object) -> float:
    return float(shape.area)  # type: ignore[attr-defined]


def largest_m2(found: Iterator[Bay]) -> float:
    return max(bay.area_m2 for bay in found)


def lacking(code: str, *places: tuple[int, int]) -> Seen:
    bundle = conforming(code, 4)
    for row, position in places:
        bundle = with_bolts(bundle, row, missing(position))
    return seen_in(bundle)


S_M, B_M = 9.916 / 8, 0.9
"""Spacing in a row of the demo's 9.916 m, which 9 bolts share, and between rows."""
HOLES = (
    ("square, none missing", "D1", (), S_M * B_M),
    ("square, one missing", "D1", ((2, 4),), 2 * S_M * 2 * B_M),
    ("square, two side by side", "D1", ((2, 4), (2, 5)), 3 * S_M * 2 * B_M),
    ("square, two along the drive", "D1", ((2, 4), (3, 4)), 2 * S_M * 3 * B_M),
    ("square, two diagonally", "D1", ((2, 4), (3, 5)), 7 * S_M * B_M),
)

PANELS = (
    ("mild-steel chain link", "20", "rework"),
    ("welded mesh of 5.6 mm", "40", "accept"),
    ("high-tensile mesh of 3 mm", "50", "accept"),
    ("high-tensile mesh of 4 mm", "110", "accept"),
)
"""What each carried at most, and the verdict on a bay of it that may hold 24.1 kN."""


def one_missing(panel_kn: str) -> tuple[Seen, PanelLimit]:
    """One bolt of the last row missing: 2.48 × 0.90 m of 0.4 m at 27 kN/m³ may hang in a bay."""
    standard = changed(put(D1, "mesh", panel_kn=panel_kn))
    bundle = with_bolts(conforming(), 3, missing(4)).model_copy(update={"standard": standard})
    limit = standard.classes[D1].limits.mesh_panel
    assert limit is not None
    return seen_in(bundle), limit


def limit_kn(found: tuple[Finding, ...]) -> Decimal:
    return Decimal(str(found[0].limit).removeprefix("at most "))


VALUES: tuple[Value, ...] = (
    ATLANTIS.says(
        "union of two rectangles", 180.0, "m²", union_of,
        boxes((10, 10, 20, 20), (15, 15, 25, 25.5)), within=1e-9, take=area,
    ),
    ESTATE.says(
        "union of a rectangle and one inside it", 10_000.0, "m²", union_of,
        boxes((0, 0, 100, 100), (30, 30, 60, 60)), within=1e-9, take=area,
    ),
    EXCLUSION.says(
        "union of three rectangles", 8.0, "m²", union_of,
        boxes((0, 0, 2, 2), (1, 0, 3, 2), (0, 1, 2, 3)), within=1e-9, take=area,
    ),
    *(
        BESIDE.says(
            f"{n} sheets of {w} × {long} m lapped {lap} m", covered, "m²", union_of,
            row(n, w, long, lap), within=1e-9, take=area,
        )
        for n, w, long, lap, covered in ((3, 2.4, 3.0, 0.3, 19.8), (4, 2.4, 3.3, 0.2, 29.7))
    ),
    EFFECTIVE.says(
        "3.0 × 2.4 m lapped 0.3 m both ways", 5.67, "m²", Sheet, Decimal("3.0"), Decimal("0.3"),
        take=lambda it: it.advance_m * Sheet(Decimal("2.4"), Decimal("0.3")).advance_m,
    ),
    EFFECTIVE.says(
        "its share of the sheet", 0.7875, "", Sheet, Decimal("3.0"), Decimal("0.3"),
        take=lambda it: it.advance_m * Decimal("2.1") / (it.along_m * Decimal("2.4")),
    ),
    *(
        WIRE.says(
            f"wire of {mm} mm at 1,770 N/mm²", kn, "kN", steel_kn, pi * mm**2 / 4, 1_770,
            within=0.05,
        )
        for mm, kn in ((3, 12.5), (4, 22.2))
    ),
    *(
        PANEL.says(
            f"panel of {mesh}: what a bay may hold", Decimal(kn), "kN", mesh_panel,
            *one_missing(kn), take=limit_kn,
        )
        for mesh, kn, _ in PANELS
    ),
    *(
        PANEL.says(
            f"24.1 kN in a bay of {mesh}", verdict, "", mesh_panel, *one_missing(kn),
            take=lambda found: str(found[0].verdict),
        )
        for mesh, kn, verdict in PANELS
    ),
    *(
        HOLE.says(f"bay of a pattern: {which}", m2, "m²", bays, lacking(code, *gone),
                  within=0.002, take=largest_m2)
        for which, code, gone, m2 in HOLES
    ),
    BAY.says(
        "0.5 m of rock at 27 kN/m³ over 1.4 × 1.2 m", 22.68, "kN", bay_load_kn, Decimal("1.68"),
        Decimal("0.5"), Decimal(27),
    ),
)  # fmt: skip
