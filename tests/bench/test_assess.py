"""A round of 63 bolts judged with gaps and load, beside the bare library calls it needs."""

import io
from contextlib import redirect_stdout
from decimal import Decimal
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import shapely
from scipy.optimize import linear_sum_assignment
from scipy.spatial import Voronoi, cKDTree
from scipy.spatial.distance import cdist

from fieldapp.assess import assess
from fieldapp.assess.gaps.area import Points
from fieldapp.assess.gaps.ground import GapGround, gap_ground
from fieldapp.assess.load.ground import load_ground
from fieldapp.assess.seen import Seen, seen_in
from fieldapp.cli import main
from fieldapp.cli.bundles import bundle_bytes
from schemas.bodies.round import BoltSeen, ProfileSeen
from schemas.bundle import Bundle
from tests.bench.ratio import Ratio, lasted_s, medians_s
from tests.unit.assess.conforming import conforming, with_row

ROWS = 7
FRAME_AT_30_HZ_MS = 33.0
BUDGET = 2.0
BUNDLES = 40
A_THOUSAND = 1000


def ratios() -> list[Ratio]:
    """Judge, and do bare what judging needs: assign each row, and find two widest circles."""
    bundle = placed_by_photo()
    seen = seen_in(bundle)
    ground = gap_ground(seen)
    assert ground is not None
    ours, bare = partial(assess, bundle), partial(bare_calls, seen, ground)
    lasted_s(ours), lasted_s(bare)
    ours_s, bare_s = medians_s(ours, bare, times=15)
    beside = "bare scipy and shapely: assignment, three Voronoi diagrams, clipping, nearest bolts"
    stepped = partial(assess, of_other_profiles(bundle))
    lasted_s(stepped)
    stepped_s, _ = medians_s(stepped, bare, times=15)
    return [
        Ratio("assess a round of 63 bolts", beside, ours_s / bare_s, BUDGET),
        Ratio("assess a round of 63 bolts", "a frame at 30 Hz", ours_s * 1000, FRAME_AT_30_HZ_MS,
              unit="ms"),
        Ratio("assess a round of four profiles", "a frame at 30 Hz",
              stepped_s * 1000, FRAME_AT_30_HZ_MS, unit="ms"),
        _a_thousand_bundles(bundle),
    ]  # fmt: skip


def _a_thousand_bundles(bundle: Bundle) -> Ratio:
    """Have the terminal judge files of different rounds, and reckon it up to a thousand."""
    with TemporaryDirectory() as folder:
        files = [Path(folder) / f"{number:03}.json" for number in range(BUNDLES)]
        for number, file in enumerate(files, start=1):
            other = bundle.round.model_copy(update={"number": number})
            file.write_bytes(bundle_bytes(bundle.model_copy(update={"round": other})))
        said = [_said(files), _said(files)]
        assert said[0] == said[1], "assessed twice it is not the same bytes"
        took_s = lasted_s(partial(_said, files)) * A_THOUSAND / BUNDLES
    beside = f"reckoned from {BUNDLES} files on one core, the same bytes each time"
    return Ratio("assess 1,000 bundles from the terminal", beside, took_s, 60.0, unit="s")


def _said(files: list[Path]) -> str:
    told = io.StringIO()
    with redirect_stdout(told):
        main(["assess", "--json", *map(str, files)])
    return told.getvalue()


def placed_by_photo() -> Bundle:
    """Every bolt is known by its place alone; one plate is loose, so that both gaps differ."""
    bundle = conforming("D1", ROWS)
    for row in seen_in(bundle).rows:
        marks = tuple(
            BoltSeen(
                s_m=Decimal(f"{bolt.s_m + 0.03 * ((n * 7 + row.number) % 3 - 1):.2f}"),
                method="photo",
                state="present",
                plate="loose" if (row.number, n) == (3, 4) else "seated",
            )
            for n, bolt in enumerate(row.bolts.positions)
        )
        bundle = with_row(bundle, row.number, bolts=marks)
    return bundle


def of_other_profiles(bundle: Bundle) -> Bundle:
    """The same round, broken wider or tighter at three of its rows."""
    for row, width, rise in ((2, "5.60", "2.10"), (4, "5.20", "2.00"), (6, "5.90", "2.30")):
        broken = ProfileSeen(width_m=Decimal(width), rise_m=Decimal(rise), method="tape")
        bundle = with_row(bundle, row, profile=broken)
    return bundle


def bare_calls(seen: Seen, ground: GapGround) -> None:
    """What a script would call: it sees no face, no verdict and no doubt of a figure."""
    for row in seen.rows:
        demanded = np.array([(0.0, s) for s in row.demanded.s_m])
        there = np.array([(0.0, bolt.s_m) for bolt in row.bolts.positions])
        linear_sum_assignment(cdist(there, demanded))
    for holds in ("plated", "anchored"):
        rows = ground.rows
        held = [(x, b.s_m) for row, x in rows for b in row.all_bolts if getattr(b, holds)]
        _widest(np.array(held), ground)
    _areas(seen)


def _areas(seen: Seen) -> None:
    """Each bolt's ground in the back and in all, and the boundaries that tell its doubt."""
    loads = load_ground(seen)
    assert loads is not None
    rows = loads.gaps.rows
    held = np.array([(x, b.s_m) for row, x in rows for b in row.all_bolts if b.anchored])
    frame = np.array([(-400.0, 0.0), (400.0, 1.0), (0.0, -400.0), (1.0, 400.0)])
    diagram = Voronoi(np.concatenate([held, frame]))
    regions = [diagram.regions[region] for region in diagram.point_region[: len(held)]]
    cells = np.array([shapely.Polygon(diagram.vertices[region]) for region in regions])
    for ground in (loads.back, loads.whole):
        shapely.area(shapely.intersection(cells, ground))
    ends = [ridge for ridge in diagram.ridge_vertices if -1 not in ridge]
    lines = shapely.linestrings(diagram.vertices[np.array(ends)])
    clipped = shapely.intersection(lines, loads.whole)
    shapely.length(clipped), shapely.centroid(clipped)


def _widest(bolts: Points, ground: GapGround) -> float:
    diagram = Voronoi(bolts)
    area = shapely.Polygon(ground.area.outline_m)
    assert area.is_valid
    ridges = [diagram.vertices[ridge] for ridge in diagram.ridge_vertices if -1 not in ridge]
    cut = shapely.intersection(shapely.linestrings(np.array(ridges)), area.exterior)
    inside = diagram.vertices[shapely.intersects_xy(area, diagram.vertices)]
    places = np.concatenate([inside, shapely.get_coordinates(cut), ground.area.starts])
    to_face = shapely.distance(shapely.points(places), shapely.LineString(ground.face.places_m))
    return float(np.minimum(cKDTree(bolts).query(places)[0], to_face).max())


def test_the_bare_calls_find_the_circle_that_the_face_does_not_hold() -> None:
    """The comparison is fair only while both look for the same thing."""
    seen = seen_in(placed_by_photo())
    ground = gap_ground(seen)
    assert ground is not None
    bolts = [(x, bolt.s_m) for row, x in ground.rows for bolt in row.all_bolts if bolt.plated]
    ours = ground.widest(lambda bolt: bolt.plated).gap

    assert not ours.touches_face
    assert abs(2 * _widest(np.array(bolts), ground) - ours.diameter_m) < 1e-6
