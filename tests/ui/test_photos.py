"""A photo from the camera's folder: kept, looked at, drawn over, measured, and handed over."""

import os
import shutil
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from fieldapp.ui.photo.photo_sheet import PhotoSheet
from fieldapp.ui.photo.photo_view import PhotoView
from fieldapp.ui.photo.view_sheet import ViewSheet
from fieldapp.work.photo_marks import marks_on
from fieldapp.work.photo_measured import measured_on
from fieldapp.work.photographs import photos_of
from tests.photos.files import EQUIVALENT_MM, FOUR_HUNDRED_PX, METRE_PX, photo
from tests.ui.harness import Point, Tablet
from tests.ui.mine import Hands, at_the_demo
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

DAMAGE = "01c2a8d6-4d20-7b11-9c35-0a4e6f2d8b19"


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
    assert faults_both_ways(tablet) == []
    hands.tap("Draw", "Arrow")
    tablet.drag([photographer.at("300", "300"), photographer.at("500", "420")])
    hands.tap("Draw", "Words")
    tablet.tap(photographer.at("300", "250"))
    hands.tap("torn")

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
    assert faults_both_ways(tablet) == []
    hands.tap("Use it", "Return", "Return")

    (kept,) = photos_of(hands.site, DAMAGE)
    known = measured_on(hands.site, kept.id)
    assert known is not None
    assert [it.kind for it in marks_on(hands.site, kept.id)] == ["arrow", "words"]
    ((quantity, value, plus_minus),) = photographer.measured
    assert quantity == "length"
    assert abs(value - 400) <= plus_minus < 60
    assert str(value) == known.body.found.results[0].value
    assert photographer.closed()


def test_power_that_goes_takes_nothing_that_was_kept(
    photographer: Photographer, tmp_path: Path
) -> None:
    """The next start finds the photo, and the mark that was on it."""
    hands, tablet = photographer.hands, photographer.tablet
    photographer.take(photo(tmp_path / "IMG_1.jpg"))
    photographer.open()
    hands.tap("Keep the new photo")
    tablet.until(lambda: tablet.find(ViewSheet).texture is not None)
    hands.tap("Draw", "Ring")
    tablet.drag([photographer.at("900", "500"), photographer.at("1000", "500")])
    hands.rest()
    left = shutil.copytree(hands.home, tmp_path / "left")
    hands.close()
    hands.home = left
    hands.open()
    (kept,) = photos_of(hands.site, DAMAGE)

    assert [it.kind for it in marks_on(hands.site, kept.id)] == ["ring"]


def test_two_fingers_make_the_photo_larger_and_leave_no_mark(
    photographer: Photographer, tmp_path: Path
) -> None:
    hands, tablet = photographer.hands, photographer.tablet
    photographer.take(photo(tmp_path / "IMG_1.jpg"))
    photographer.open()
    hands.tap("Keep the new photo")
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
