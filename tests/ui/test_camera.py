"""The tablet's own camera on the glass: last time's photo over it, and off when it is left."""

from collections.abc import Iterator
from pathlib import Path
from time import sleep

import pytest
from PIL import Image

from fieldapp.report.words.findings import BETWEEN
from fieldapp.ui.photo.camera_sheet import CameraSheet
from fieldapp.ui.photo.live_view import LiveView, over
from fieldapp.ui.photo.photo_sheet import PhotoSheet
from fieldapp.work.photo.photographs import keep_photo, photos_of
from fieldapp.work.photo.sources import Camera
from fieldapp.work.walk.draft import open_walk
from fieldapp.work.walk.walks import record_walk
from tests.demo_mine import session
from tests.photos.filmed import film_of
from tests.ui.harness import BOUNCE_S, Tablet
from tests.ui.mine import Hands, at_the_demo
from tests.ui.uilint import faults_both_ways
from tests.unit.work.walking import section, walk

pytestmark = pytest.mark.window

OPEN, TECHNICIAN = "4180 Main", "Geotechnical technician"
WHITE, RED, BOTH = (255, 255, 255), (255, 0, 0), (255, 128, 128)
PLATE = (0.25, 0.25, 0.5, 0.5)
"""Where a plate lies in both pictures, in parts of them from the upper left."""


def a_plate(colour: tuple[int, int, int], size: tuple[int, int]) -> Image.Image:
    picture = Image.new("RGB", size)
    left, top, right, bottom = (round(part * size[n % 2]) for n, part in enumerate(PLATE))
    picture.paste(colour, (left, top, right, bottom))
    return picture


class Cameras:
    """The tablet's own cameras: the first is a film, the second is broken."""

    def __init__(self, folder: Path) -> None:
        self.film = film_of(a_plate(WHITE, (320, 240)), folder / "film.avi")
        self.made: list[Camera] = []

    def __call__(self, home: Path, number: int = 0) -> Camera:
        device = self.film if number == 0 else self.film.with_name("none.avi")
        self.made.append(Camera(str(device), home / "taken"))
        return self.made[-1]

    def are_off(self) -> bool:
        return not any(it.is_on for it in self.made)


@pytest.fixture
def cameras(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Cameras:
    cameras = Cameras(tmp_path)
    monkeypatch.setattr("fieldapp.ui.photo.camera_sheet.own_camera", cameras)
    return cameras


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        yield hands


def walked_before(hands: Hands, folder: Path) -> None:
    """Have the first section photographed in March, by a camera of twice as many pixels."""
    hands.clock.go_on(days=-45)
    a_plate(RED, (640, 480)).save(folder / "old.png")
    old = keep_photo(hands.site, folder / "old.png", None, "0" * 36)
    seen = section(from_m="0", to_m="10", photo=old.id, at="2031-03-22T09:00:00Z")
    times = {"began_at": "2031-03-22T08:30:00Z", "ended_at": "2031-03-22T09:30:00Z"}
    body = walk(seen, month="2031-03", **times)
    record_walk(hands.site, body, session(hands.site, TECHNICIAN))
    hands.clock.go_on(days=45)


def colour(tablet: Tablet, x: float, y: float) -> tuple[int, ...]:
    """Give the colour on the glass at a place of the live picture, in parts from its corner."""
    view = tablet.find(LiveView)
    left, bottom, wide, high = view.live_place
    at = round(left + x * wide), round(view.get_root_window().height - bottom - (1 - y) * high)
    found = tablet.picture().getpixel(at)
    assert isinstance(found, tuple)
    return found


def about(colour: tuple[int, ...]) -> object:
    return pytest.approx(colour, abs=12)


def test_last_time_s_photo_lies_over_the_camera_edge_on_edge(
    hands: Hands, cameras: Cameras, tmp_path: Path
) -> None:
    tablet = hands.tablet
    walked_before(hands, tmp_path)
    hands.signed_in(TECHNICIAN)
    hands.go("condition_walk", heading_id=hands.heading_id(OPEN))
    hands.tap("Begin the walk")
    for answer in ("Nothing new", "Camera"):
        hands.sees(answer)
        sleep(BOUNCE_S)
        hands.tap(answer)
    tablet.until(lambda: tablet.find(CameraSheet).ready)
    assert faults_both_ways(tablet) == []
    inside, outside = [(0.27, 0.27), (0.48, 0.48)], [(0.23, 0.37), (0.52, 0.37), (0.37, 0.53)]

    assert [colour(tablet, *at) for at in inside] == [about(BOTH)] * 2
    assert [colour(tablet, *at) for at in outside] == [about((0, 0, 0))] * 3
    hands.tap("0 %")
    assert colour(tablet, 0.37, 0.37) == about(WHITE)

    hands.tap("Take photo")
    hands.sees(f"10.0 – 20.0 m{BETWEEN}1 answered, 61 left")
    work = open_walk(hands.site, hands.heading_id(OPEN))
    assert work is not None
    (kept,) = photos_of(hands.site, work.walk_id)
    assert [it.said["photo"] for it in work.sections.values() if it.answer] == [kept.id]
    assert not any((hands.home / "taken").iterdir())
    assert cameras.are_off()


def test_the_camera_is_off_once_nobody_sees_what_it_sees(hands: Hands, cameras: Cameras) -> None:
    tablet = hands.tablet
    leaving = (
        lambda: hands.tap("Return"),
        lambda: tablet.window.dispatch("on_minimize"),
        hands.shell.lock,
    )
    for leave in leaving:
        hands.signed_in()
        PhotoSheet(hands.shell, "0" * 36).open()
        hands.tap("Camera")
        tablet.until(lambda: tablet.find(CameraSheet).ready)
        leave()
        tablet.until(cameras.are_off)

        assert not tablet.find_all(CameraSheet)
        hands.shell.close_sheets()


def test_a_broken_camera_says_so_and_a_file_is_taken_all_the_same(
    hands: Hands, cameras: Cameras, tmp_path: Path
) -> None:
    tablet = hands.tablet
    settings = hands.site.settings.model_copy(update={"camera_folder": tmp_path})
    hands.shell.site = hands.site.with_settings(settings)
    a_plate(RED, (640, 480)).save(tmp_path / "old.png")
    hands.signed_in()
    PhotoSheet(hands.shell, "0" * 36).open()
    hands.tap("Camera", "Other camera")
    hands.sees("Nothing was changed.")
    assert faults_both_ways(tablet) == []
    tablet.tap("Take photo")
    assert tablet.find_all(CameraSheet), "there is nothing to take"

    (tmp_path / "IMG_2.HEIC").touch()
    hands.tap("Choose a file")
    told = "1 HEIC photo is not listed: set the camera to JPEG; 1 film is not listed"
    assert any(it.startswith(told) for it in tablet.texts())
    assert faults_both_ways(tablet) == []
    hands.tap("old.png")
    tablet.until(lambda: len(photos_of(hands.site, "0" * 36)) == 1)
    assert cameras.are_off()
    assert hands.shell.photos_from == tmp_path, "the next choice begins there"


@pytest.mark.parametrize(
    ("live", "old", "lies"),
    [
        ((800, 450), (4000, 3000), (800, 600)),  # cut off above and below, by the camera
        ((450, 800), (3000, 4000), (600, 800)),
        ((800, 600), (3000, 4000), (450, 600)),  # held the other way: all of it
    ],
)
def test_an_old_photo_has_the_camera_s_scale(
    live: tuple[int, int], old: tuple[int, int], lies: tuple[int, int]
) -> None:
    assert over(live, old) == pytest.approx(lies)
