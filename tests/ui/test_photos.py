"""A photo from the camera's folder: kept, looked at, drawn over, measured, and handed over."""

import os
import shutil
from collections.abc import Iterator
from decimal import Decimal
from importlib.resources import files
from pathlib import Path
from time import sleep

import pytest

from fieldapp.ui.photo.photo_cell import taken_words
from fieldapp.ui.photo.photo_sheet import PhotoSheet
from fieldapp.ui.photo.photo_view import PhotoView
from fieldapp.ui.photo.view_sheet import ViewSheet
from fieldapp.work.photo.file import PhotoFacts
from fieldapp.work.photo.frames_known import Yardstick
from fieldapp.work.photo.marks import marks_on
from fieldapp.work.photo.measured import keep_measured, measured_on
from fieldapp.work.photo.photographs import keep_photo, photo_path, photos_of
from fieldapp.work.photo.taps import OnPhoto, Thing
from tests.photos.files import EQUIVALENT_MM, FOUR_HUNDRED_PX, METRE_PX, photo
from tests.ui.harness import BOUNCE_S, Point, Tablet
from tests.ui.mine import Hands, at_the_demo
from tests.ui.on_a_round import at_a_round
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

MESH = Yardstick("mesh", Decimal(100), Decimal(100))
TEAR = Path(str(files("assets"))) / "demo/photos/torn-mesh.jpg"
DAMAGE = "01c2a8d6-4d20-7b11-9c35-0a4e6f2d8b19"
OTHER = "01c2a8d6-4d20-7b11-9c35-0a4e6f2d8b20"


class Photographer:
    """Somebody at the photos of one damage."""

    def __init__(self, hands: Hands, folder: Path) -> None:
        self.hands, self.tablet, self.folder = hands, hands.tablet, folder
        site = hands.shell.site
        settings = site.settings.model_copy(update={"camera_folder": folder})
        hands.shell.site = site.with_settings(settings)
        self.measured: list[tuple[str, Decimal, Decimal]] = []

    def open(self) -> None:
        told = lambda *result: self.measured.append(result)  # noqa: E731
        PhotoSheet(self.hands.shell, DAMAGE, on_measured=told).open()
        self.hands.rest()

    def take(self, file: Path) -> None:
        """Have the camera's app write a photo."""
        taken = shutil.copy(file, self.folder)
        os.utime(taken, (self.hands.clock.at.timestamp(),) * 2)

    def at(self, *px: str) -> Point:
        """Give the pixel of the glass at which a pixel of the photo lies."""
        view = self.tablet.find(PhotoView)
        x, y = view.to_glass((float(px[0]) / 1920, float(px[1]) / 1080))
        return x, y

    def closed(self) -> bool:
        return not self.tablet.find_all(PhotoSheet)


@pytest.fixture
def photographer(tablet: Tablet, tmp_path: Path) -> Iterator[Photographer]:
    folder = tmp_path / "camera"
    folder.mkdir()
    with at_the_demo(tablet, tmp_path) as hands:
        hands.signed_in()
        yield Photographer(hands, folder)


def test_a_photo_is_taken_drawn_over_measured_and_used(
    photographer: Photographer, tmp_path: Path
) -> None:
    hands, tablet = photographer.hands, photographer.tablet
    photographer.open()
    photographer.take(photo(tmp_path / "IMG_1.jpg", equivalent_mm=EQUIVALENT_MM))
    hands.tap("Keep the new photo")
    tablet.until(lambda: tablet.find(ViewSheet).texture is not None)
    hands.tap("Draw", "Arrow")
    tablet.drag([photographer.at("300", "300"), photographer.at("500", "420")])
    hands.tap("Draw", "Words")
    tablet.tap(photographer.at("300", "250"))
    hands.tap("Other words", *"torn", "Write it")

    hands.tap("Measure")
    hands.tap("Mesh")
    for corner in METRE_PX:
        tablet.tap(photographer.at(*corner))
    for openings in ("10", "10"):
        hands.type(openings)
    hands.tap("Length")
    for end in FOUR_HUNDRED_PX:
        tablet.tap(photographer.at(*end))
    hands.rest()
    hands.tap("Use it")

    (kept,) = photos_of(hands.site, DAMAGE)
    known = measured_on(hands.site, kept.id)
    assert known is not None
    arrow, words = marks_on(hands.site, kept.id)
    assert (arrow.kind, words.kind == "words" and words.text) == ("arrow", "torn")
    ((quantity, value, plus_minus),) = photographer.measured
    assert quantity == "length"
    assert abs(value - 400) <= plus_minus < 60
    assert str(value) == known.body.found.results[0].value
    assert photographer.closed()

    of_others = keep_photo(hands.site, TEAR, None, OTHER)
    photo_path(hands.site, of_others.body).unlink()
    PhotoSheet(hands.shell, OTHER).open()
    tablet.until(lambda: "comes by the share" in tablet.texts())


def test_mesh_that_was_found_counts_once_somebody_has_looked_at_all_its_corners(
    photographer: Photographer,
) -> None:
    hands, tablet = photographer.hands, photographer.tablet
    kept = keep_photo(hands.site, TEAR, hands.shell.session, DAMAGE)
    photographer.open()
    hands.tap(taken_words(hands.shell, kept), "Measure", "Find the mesh")
    tablet.until(lambda: bool(tablet.find_all("No")), seconds=20)
    assert faults_both_ways(tablet) == []
    hands.tap("Return")
    assert measured_on(hands.site, kept.id) is None

    hands.tap("Measure", "Find the mesh")
    tablet.until(lambda: bool(tablet.find_all("Yes")), seconds=20)
    hands.tap("Yes", "Length")
    assert tablet.find_all("Tap one end.")


def test_a_lap_of_a_round_is_measured_on_a_photo_with_its_own_doubt(
    tablet: Tablet, tmp_path: Path
) -> None:
    """Three corners of the metre of mesh: the third lies a metre off the line of the others."""
    with at_a_round(tablet, tmp_path, stops_before="lap 1") as recorder:
        hands, work = recorder.hands, recorder.work
        file = photo(tmp_path / "IMG_1.jpg", equivalent_mm=EQUIVALENT_MM)
        kept = keep_photo(hands.site, file, hands.shell.session, work.round_id)
        facts = PhotoFacts(1920, 1080, EQUIVALENT_MM)
        corners = tuple((float(x) / 1920, float(y) / 1080) for x, y in METRE_PX)
        taps = OnPhoto(facts, MESH, corners, (10, 10), (Thing("lap", corners[:3]),))
        keep_measured(hands.site, kept.id, taps, hands.shell.session)
        sleep(BOUNCE_S)
        taken = taken_words(hands.shell, kept)
        hands.tap("Other…", "On a photo", taken, "Measure")
        tablet.until(lambda: bool(tablet.find_all("Use it")))
        hands.tap("Use it")
        recorder.rest()
        (lap,) = (lap for lap in recorder.on_disk().seen.laps if lap.number == 1)

        assert lap.method == "photo"
        assert lap.least_mm == Decimal(1000)
        assert lap.doubt_mm is not None
        assert lap.doubt_mm > 0
        assert not tablet.find_all(PhotoSheet)


def test_power_that_goes_takes_nothing_that_was_kept(
    photographer: Photographer, tmp_path: Path
) -> None:
    """The next start finds the photo, and the mark that was on it."""
    hands, tablet = photographer.hands, photographer.tablet
    photographer.take(photo(tmp_path / "IMG_1.jpg"))
    photographer.open()
    hands.tap("Keep the new photo")
    tablet.until(lambda: tablet.find(ViewSheet).texture is not None)
    assert tablet.find(ViewSheet).title.startswith("Photo, kept "), "its camera did not say when"
    hands.tap("Draw", "Ring")
    tablet.drag([photographer.at("900", "500"), photographer.at("1000", "500")])
    hands.rest()
    left = shutil.copytree(hands.home, tmp_path / "left")
    hands.close()
    hands.home = left
    hands.open()
    (kept,) = photos_of(hands.site, DAMAGE)

    assert [it.kind for it in marks_on(hands.site, kept.id)] == ["ring"]


def test_two_fingers_or_a_key_make_the_photo_larger_and_leave_no_mark(
    photographer: Photographer, tmp_path: Path
) -> None:
    hands, tablet = photographer.hands, photographer.tablet
    photographer.open()
    tablet.find(PhotoSheet).keep(photo(tmp_path / "IMG_1.jpg"))
    tablet.until(lambda: bool(tablet.find_all(ViewSheet)))
    tablet.until(lambda: tablet.find(ViewSheet).texture is not None)
    hands.rest()
    view = tablet.find(PhotoView)
    wide = view.wide_px
    hands.tap("Draw", "Outline")
    x, y = photographer.at("960", "540")
    tablet.drag([(x - 40, y), (x - 160, y)], [(x + 40, y), (x + 160, y)])
    hands.rest()
    (kept,) = photos_of(hands.site, DAMAGE)

    assert view.wide_px > 2 * wide
    assert marks_on(hands.site, kept.id) == ()
    hands.tap("All")
    assert view.wide_px == pytest.approx(wide, rel=0.01)

    place = photographer.at("1100", "500")
    tablet.tap(place)
    hands.tap("+")
    assert photographer.at("1100", "500") == pytest.approx(place, abs=2)
