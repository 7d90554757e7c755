"""Sheets of mesh placed on the unrolled drive by touch."""

from decimal import Decimal
from pathlib import Path
from time import sleep

import pytest

from fieldapp.ui import theme
from fieldapp.ui.mesh.placing_sheet import PlacingSheet
from fieldapp.ui.mesh.sheet_map import Edge, SheetMap
from schemas.bodies.round import SheetSeen
from tests.ui.harness import BOUNCE_S, PORTRAIT, Tablet
from tests.ui.on_a_round import Recorder, at_a_round
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window


class Placer:
    """Somebody who places sheets."""

    def __init__(self, recorder: Recorder) -> None:
        self.recorder, self.tablet = recorder, recorder.tablet
        self.recorder.hands.tap("More", "Mesh")

    @property
    def sheet(self) -> PlacingSheet:
        (sheet,) = self.tablet.find_all(PlacingSheet)
        assert isinstance(sheet, PlacingSheet)
        return sheet

    @property
    def map(self) -> SheetMap:
        (drive,) = self.tablet.find_all(SheetMap)
        assert isinstance(drive, SheetMap)
        return drive

    @property
    def placed(self) -> tuple[SheetSeen, ...]:
        return self.recorder.work.seen.sheets

    def touch(self, label: str) -> None:
        sleep(BOUNCE_S)
        self.tablet.tap(label)
        self.recorder.rest()

    def answer(self, label: str) -> None:
        sleep(BOUNCE_S)
        self.tablet.tap(self.tablet.find(label, self.sheet.ids.question))
        self.recorder.rest()

    def drag(self, edge: Edge, by_m: float) -> list[str]:
        """Drag an edge of the chosen sheet; give what was said meanwhile."""
        said: list[str] = []
        self.sheet.bind(told=lambda _sheet, words: said.append(words))
        x, y = self.map.handles()[edge]
        way = by_m * self.map.view.px_per_m
        end = (x, y + way) if edge in ("outbye", "inbye") else (x + way, y)
        self.tablet.drag([(x, y), end])
        self.recorder.rest()
        return said


def test_strips_of_mesh_are_placed_dragged_read_and_taken_away(
    tablet: Tablet, tmp_path: Path
) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        placer = Placer(recorder)
        assert faults_both_ways(tablet) == []

        placer.touch("Place a sheet")
        placer.touch("Next sheet")
        first, second = placer.placed
        assert second.left_s_m == first.right_s_m - Decimal("0.3"), "with the standard's lap"
        assert placer.sheet.chosen_words == "Sheet 2: as standard, assumed"
        assert faults_both_ways(tablet) == []

        said = placer.drag("left", 0.1)
        assert placer.placed[1].left_s_m == second.left_s_m + Decimal("0.1")
        assert any("by eye\n2 openings, 200 mm" in it for it in said), said
        assert placer.placed[1].left_method == "paced"
        placer.touch("Tape it")
        placer.recorder.hands.type("3.28")
        placer.recorder.rest()
        assert (placer.placed[1].left_s_m, placer.placed[1].left_method) == (
            Decimal("-3.28"),
            "tape",
        )
        placer.touch("Undo")
        placer.touch("Undo")
        assert placer.placed[1] == second

        placer.answer("3")
        placer.answer("Yes")
        assert placer.sheet.chosen_words in ("Sheet 2", "Sheet 2: as standard, assumed")
        lap = placer.placed[1].laps[0]
        assert (lap.openings, lap.held) == (3, True) or lap.with_sheet == 0

        middle = placer.map.view.pixel(float(first.from_m) + 1.0, float(first.left_s_m) + 0.8)
        placer.tablet.tap(middle)
        placer.recorder.rest()
        assert placer.sheet.number == 1
        placer.touch("Take away")
        assert [it.number for it in placer.placed] == [2]
        assert recorder.on_disk().seen.sheets == placer.placed

        placer.drag("right", -0.4)
        placer.drag("inbye", 1.0)
        assert "larger than 2.40 m by 3.00 m" in placer.sheet.ids.question.ask
        assert faults_both_ways(tablet) == []
        placer.answer("As standard")
        assert placer.placed[0].right_s_m - placer.placed[0].left_s_m == Decimal("2.4")

        placer.touch("Return")
        assert recorder.screen.ids.map.drawing.sheets


def test_a_handle_is_as_large_as_whatever_else_is_touched(tablet: Tablet, tmp_path: Path) -> None:
    for size in (tablet.window.size, PORTRAIT):
        tablet.turn(tuple(size))
        with at_a_round(tablet, tmp_path / f"{size[0]}") as recorder:
            placer = Placer(recorder)
            placer.touch("Place a sheet")
            x, y = placer.map.handles()["inbye"]
            near = placer.map._edge_at((x + theme.TOUCH / 2 - 1, y))

            assert near == "inbye"
