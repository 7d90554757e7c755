"""The map under fingers."""

import gc
import weakref
from dataclasses import replace
from decimal import Decimal

import pytest
from kivy.graphics import Mesh, Rectangle
from kivy.graphics.instructions import InstructionGroup
from kivy.uix.widget import Widget

from fieldapp.report.shapes import Bolt, ChainageTick, Drawing
from fieldapp.report.words.lengths import FEET, Units, tick_words
from fieldapp.ui import theme
from fieldapp.ui.theme import look
from fieldapp.ui.widgets.drive_map import DriveMap
from fieldapp.ui.widgets.mark import Mark
from tests.ui.harness import PORTRAIT, Point, Tablet
from tests.ui.sample_drive import long_drawing, round_drawing

pytestmark = pytest.mark.window


class Heard:
    """A map on the glass, and what it told."""

    def __init__(self, tablet: Tablet, drawing: Drawing) -> None:
        self.bolts: list[Bolt] = []
        self.choices: list[tuple[tuple[Bolt, ...], tuple[float, ...]]] = []
        self.places: list[tuple[float, float]] = []
        self.map = DriveMap(
            drawing=drawing,
            on_bolt=lambda _, bolt: self.bolts.append(bolt),
            on_choose=lambda _, bolts, *place: self.choices.append((bolts, place)),
            on_ground=lambda _, x_m, s_m: self.places.append((x_m, s_m)),
        )
        tablet.show(self.map)

    def at(self, bolt: Bolt) -> Point:
        x, y = self.map.view.pixel(bolt.x_m, bolt.s_m)
        return x, y


def written_beside(drive: DriveMap) -> list[float]:
    """Give the right edges of all words at the edges of the map."""
    words = drive._margins._group.children
    return [it.pos[0] + it.size[0] for it in words if isinstance(it, Rectangle)]


@pytest.mark.parametrize("units", ["metres", FEET])
@pytest.mark.parametrize("at_m", ["5.2", "1386.4", "12386.4"])
def test_the_longest_chainage_stays_within_the_map(
    tablet: Tablet, units: Units, at_m: str
) -> None:
    ticks = tuple(ChainageTick(1.0 + n, f"({tick_words(Decimal(at_m), units)})") for n in range(3))
    heard = Heard(tablet, replace(two_bolts(apart_m=1.0), ticks=ticks))
    frame = heard.map.ids.frame

    assert heard.map.shows_chainages
    assert len(written_beside(heard.map)) >= len(ticks)
    assert max(written_beside(heard.map)) <= frame.right


def two_bolts(apart_m: float) -> Drawing:
    bolts = tuple(Bolt(2.0, s_m, "seated", 1, 1) for s_m in (0.0, apart_m))
    return Drawing(0.0, 4.0, -3.0, 3.0, bolts=bolts)


def test_the_key_for_the_other_map_is_there_again_however_long_it_was_not(
    tablet: Tablet,
) -> None:
    drive = Heard(tablet, round_drawing()).map
    gc.collect()  # while no key is offered, nothing but the map keeps it

    drive.other = "Load"
    tablet.settle()

    assert "Load" in tablet.texts()


def test_a_touch_on_a_bolt_names_it(tablet: Tablet) -> None:
    heard = Heard(tablet, round_drawing())
    missing = next(bolt for bolt in heard.map.drawing.bolts if bolt.state == "missing")

    tablet.tap(heard.at(missing))

    assert heard.bolts == [missing]


def test_a_touch_beside_a_bolt_means_it_too(tablet: Tablet) -> None:
    heard = Heard(tablet, two_bolts(apart_m=1.0))
    x, y = heard.at(heard.map.drawing.bolts[0])

    tablet.tap((x - theme.mm(5), y))

    assert heard.bolts == [heard.map.drawing.bolts[0]]


def test_a_touch_between_two_bolts_asks_which(tablet: Tablet) -> None:
    drawing = two_bolts(apart_m=0.1)
    heard = Heard(tablet, drawing)
    (x0, y), (x1, _) = map(heard.at, drawing.bolts)

    tablet.tap(((x0 + x1) / 2 - 2, y))

    ((bolts, place),) = heard.choices
    assert bolts == drawing.bolts
    assert place == pytest.approx((2.0, 0.05), abs=0.05), "the place itself may have been meant"
    assert heard.bolts == []


def test_a_touch_on_the_ground_gives_the_place(tablet: Tablet) -> None:
    heard = Heard(tablet, two_bolts(apart_m=0.1))
    x, y = heard.map.view.pixel(3.2, -2.0)

    tablet.tap((x, y))

    ((x_m, s_m),) = heard.places
    assert (x_m, s_m) == pytest.approx((3.2, -2.0), abs=0.02)


def test_one_finger_moves_the_ground_and_touches_nothing(tablet: Tablet) -> None:
    heard = Heard(tablet, long_drawing())
    before = heard.map.view.place((500, 250))

    tablet.drag([(500, 250), (500, 400)])

    # What lay under the finger has moved with it, but for the way that a glove may roll.
    assert heard.map.view.place((500, 400)) == pytest.approx(before, abs=0.4)
    assert (heard.bolts, heard.choices, heard.places) == ([], [], [])


def test_a_rolling_finger_still_touches(tablet: Tablet) -> None:
    heard = Heard(tablet, two_bolts(apart_m=1.0))
    x, y = heard.at(heard.map.drawing.bolts[0])

    tablet.drag([(x, y), (x + theme.mm(1), y)])

    assert heard.bolts == [heard.map.drawing.bolts[0]]


def test_keys_change_the_scale(tablet: Tablet) -> None:
    heard = Heard(tablet, round_drawing())
    whole = heard.map.view.px_per_m

    tablet.tap("+")
    larger = heard.map.view.px_per_m
    tablet.tap("−")

    assert larger == pytest.approx(1.4 * whole)
    assert heard.map.view.px_per_m == pytest.approx(whole)


def test_two_fingers_change_the_scale(tablet: Tablet) -> None:
    heard = Heard(tablet, long_drawing())
    before = heard.map.view.px_per_m

    tablet.drag([(450, 400), (350, 400)], [(550, 400), (650, 400)], steps=20)

    # 100 px apart become 300; the ground may not grow beyond two metres across
    assert heard.map.view.px_per_m == pytest.approx(3 * before, rel=0.1)
    assert (heard.bolts, heard.places) == ([], [])


def test_all_shows_the_whole_round_again(tablet: Tablet) -> None:
    heard = Heard(tablet, round_drawing())
    whole = heard.map.view
    for _ in range(4):
        tablet.tap("+")

    tablet.tap("All")

    assert heard.map.view == whole


def test_a_finding_brings_its_place_to_the_middle_with_a_ring(tablet: Tablet) -> None:
    heard = Heard(tablet, long_drawing())
    bolt = heard.map.drawing.bolts[900]

    heard.map.focus(bolt.x_m, bolt.s_m)
    tablet.settle()

    x, y = heard.at(bolt)
    field = heard.map.ids.field
    assert y == pytest.approx(field.center_y, abs=theme.mm(3))
    lamp = tuple(round(part * 255) for part in look.palette.rgb("lamp"))
    assert lamp in _colours_around(tablet, (x, y), theme.mm(6))


def test_nothing_is_drawn_outside_the_map(tablet: Tablet) -> None:
    heard = Heard(tablet, long_drawing())
    for _ in range(3):
        tablet.tap("+")
    right = heard.map.ids.frame.right
    beside = tablet.picture().crop((int(right) + 1, 320, int(right) + theme.GAP - 1, 790))

    assert len(beside.getcolors(9) or range(9)) == 1


def test_another_drawing_of_the_same_ground_keeps_the_view(tablet: Tablet) -> None:
    heard = Heard(tablet, round_drawing())
    tablet.tap("+")
    before = heard.map.view

    heard.map.drawing = round_drawing()
    tablet.settle()

    assert heard.map.view == before


def test_turning_the_tablet_shows_all_of_the_round(tablet: Tablet) -> None:
    heard = Heard(tablet, round_drawing())

    tablet.turn(PORTRAIT)

    drawing, view = heard.map.drawing, heard.map.view
    assert view.window.holds(view.pixel(drawing.x_from_m, drawing.s_from_m))
    assert view.window.holds(view.pixel(drawing.x_to_m - 0.01, drawing.s_to_m - 0.01))


def test_five_thousand_bolts_are_a_few_meshes_that_panning_leaves_alone(tablet: Tablet) -> None:
    heard = Heard(tablet, long_drawing())
    before = _meshes(heard.map.ids.field.canvas)

    tablet.drag([(500, 250), (500, 400)])

    assert len(heard.map.drawing.bolts) >= 5000
    assert 0 < len(before) <= 8
    assert _meshes(heard.map.ids.field.canvas) == before


@pytest.mark.parametrize("kind", [DriveMap, Mark])
def test_what_was_taken_off_the_glass_is_let_go(tablet: Tablet, kind: type[Widget]) -> None:
    shown: list[Widget] = [kind()]
    tablet.show(*shown)
    still_there = weakref.ref(shown.pop())

    tablet.show()
    gc.collect()

    assert still_there() is None


def _meshes(group: InstructionGroup) -> list[Mesh]:
    found: list[Mesh] = []
    for child in group.children:
        if isinstance(child, Mesh):
            found.append(child)
        elif isinstance(child, InstructionGroup):
            found += _meshes(child)
    return found


def _colours_around(tablet: Tablet, at: Point, reach: int) -> set[tuple[int, ...]]:
    high = tablet.window.system_size[1]
    x, y = int(at[0]), int(high - at[1])
    part = tablet.picture().crop((x - reach, y - reach, x + reach, y + reach))
    return {colour for _, colour in part.getcolors(100_000) or [] if isinstance(colour, tuple)}
