"""A frame of the map while a finger moves 5,000 bolts, and the turn of a list's page."""

from functools import partial
from typing import TYPE_CHECKING

from tests.bench.frames import SLOW_FRAME_MS, beside_a_frame, frame_ms
from tests.bench.ratio import Ratio

if TYPE_CHECKING:
    from fieldapp.ui.widgets.drive_map import DriveMap
    from tests.ui.harness import Tablet

FRAMES = 120
ROWS = 50_000


def ratios() -> list[Ratio]:
    """Move the map, change its scale, turn a list; each beside a frame."""
    from tests.ui.harness import Tablet

    tablet = Tablet()
    drive_map = _long_map(tablet)
    return [
        beside_a_frame("map with 5,004 bolts, a frame of panning", _panned(tablet, drive_map)),
        beside_a_frame(
            "map with 5,004 bolts, another scale", _scaled(tablet, drive_map), SLOW_FRAME_MS
        ),
        beside_a_frame(f"a page of {ROWS:,} rows", _turned(tablet)),
    ]


def _long_map(tablet: "Tablet") -> "DriveMap":
    from fieldapp.ui.widgets.drive_map import DriveMap
    from tests.ui.sample_drive import long_drawing

    drive_map = DriveMap(drawing=long_drawing())
    tablet.show(drive_map)
    return drive_map


def _panned(tablet: "Tablet", drive_map: "DriveMap") -> list[float]:
    tablet.press(drive_map.ids.field)
    finger = tablet.finger
    frames = []
    x, y = drive_map.ids.field.center
    for number in range(FRAMES):
        at = (x, y + 7 * (number % 40))
        frames.append(frame_ms(tablet, partial(tablet.move, finger, at)))
    tablet.let_go()
    return frames


def _scaled(tablet: "Tablet", drive_map: "DriveMap") -> list[float]:
    acts = (drive_map.zoom_in, drive_map.zoom_out) * 10
    return [frame_ms(tablet, act) for act in acts]


def _turned(tablet: "Tablet") -> list[float]:
    from fieldapp.ui.widgets.finding_row import FindingRow
    from fieldapp.ui.widgets.paged_list import PagedList

    def row(number: int) -> FindingRow:
        return FindingRow(verdict="rework", title=f"row {number}", measured="210 mm")

    def fill(row: FindingRow, number: int) -> None:
        row.title = f"row {number}"

    rows = PagedList(items=range(ROWS), make_row=row, fill_row=fill)
    tablet.show(rows)
    return [frame_ms(tablet, lambda: rows.turn(1)) for _ in range(20)]
