"""Find label under a glove: typed, on a photo, on one that the camera app is just writing."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image

from fieldapp.report.label.form import ROLL
from fieldapp.report.label.labels import Label, labels_png
from fieldapp.ui.photo.camera_sheet import CameraSheet
from fieldapp.work.damage.stating import damages
from fieldapp.work.demo import record_damages
from fieldapp.work.labels import Labelled, thing_named
from fieldapp.work.pegs import add_peg
from fieldapp.work.photo.sources import Camera
from schemas.bodies.survey_peg import SurveyPeg
from schemas.short_id import short_id
from tests.demo_mine import session
from tests.photos.filmed import film_of
from tests.ui.harness import Tablet
from tests.ui.mine import ENGINEER, Hands, at_the_demo
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

MAIN = "4180 Main"


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Hands]:
    monkeypatch.setattr(Path, "home", lambda: tmp_path / "photos")
    monkeypatch.setattr("fieldapp.ui.panels.folder_panel.MEDIA", ())
    (tmp_path / "photos").mkdir()
    with at_the_demo(tablet, tmp_path) as hands:
        hands.signed_in()
        yield hands


def peg(hands: Hands) -> Labelled:
    body = SurveyPeg(heading=hands.heading_id(MAIN), name="P41", chainage_m="38.25", s_m="-1.2")
    add_peg(hands.site, body, session(hands.site, ENGINEER))
    return thing_named(hands.site, "P41")


def photograph(hands: Hands, thing: Labelled, path: Path) -> None:
    """Write a label's picture as a camera does, at the time that it is in the mine."""
    (page,) = labels_png([Label(thing.code, "", "", "")], ROLL)
    path.write_bytes(page)
    now_s = hands.clock.at.timestamp()
    os.utime(path, (now_s, now_s))


def type_id(hands: Hands, digits: str) -> None:
    for digit in digits:
        hands.tablet.tap(digit)
    hands.rest()


def test_a_label_is_found_by_its_id_and_on_a_photo(hands: Hands) -> None:
    thing = peg(hands)
    hands.tap("Find label")
    assert faults_both_ways(hands.tablet) == []

    typed = thing.code.readable.replace("-", "")
    wrong = "0" if typed[-1] != "0" else "1"
    type_id(hands, typed[:-1] + wrong)
    hands.sees("Understood")
    hands.tap("Understood", "Erase")
    type_id(hands, typed[-1])
    hands.sees("Survey peg P41")
    assert any("1.2 m left of the crown" in it for it in hands.tablet.texts())
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Return")

    imports = hands.site.folder / "import"
    imports.mkdir()
    photograph(hands, thing, imports / "peg.png")
    hands.tap("Choose a photo", "peg.png")
    hands.sees(MAIN)
    hands.tap("Entry")
    assert hands.is_at("entry")


def test_the_camera_app_s_photo_is_read_as_soon_as_it_is_whole(
    hands: Hands, tmp_path: Path
) -> None:
    camera = tmp_path / "photos"
    hands.shell.site = hands.site.with_settings(
        hands.site.settings.model_copy(update={"camera_folder": camera})
    )
    hands.tap("Find label", "Photograph it")
    hands.sees("Take the photo now")
    assert faults_both_ways(hands.tablet) == []
    photograph(hands, peg(hands), camera / "new.png")
    hands.tablet.until(lambda: bool(hands.tablet.find_all("Entry")), seconds=10)
    hands.clock.go_on(seconds=5)
    hands.tap("Return", "Photograph it", "Stop")

    hands.sees("Photograph it")


def film_of_label(picture: Path, path: Path) -> Path:
    """Record a film of a label on grey rock."""
    with Image.open(picture) as label:
        frame = Image.new("RGB", (1280, 720), (90, 90, 90))
        frame.paste(label.convert("RGB").resize((900, round(900 * label.height / label.width))))
    return film_of(frame, path)


def test_the_tablet_s_own_camera_reads_a_label(
    hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    photograph(hands, peg(hands), tmp_path / "label.png")
    film = film_of_label(tmp_path / "label.png", tmp_path / "film.avi")
    recorded = lambda home, _number: Camera(str(film), home / "taken")  # noqa: E731
    monkeypatch.setattr("fieldapp.ui.photo.camera_sheet.own_camera", recorded)
    hands.tap("Find label", "Camera")
    hands.tablet.until(lambda: hands.tablet.find(CameraSheet).ready)
    hands.tap("Take photo")

    hands.sees("Survey peg P41")
    hands.rest()


def test_a_search_that_finds_nothing_is_stopped_or_says_what_to_do(
    hands: Hands, tmp_path: Path
) -> None:
    Image.new("L", (400, 300), 90).save(tmp_path / "photos/rock.png")
    Image.new("L", (4_000, 3_000), 90).save(tmp_path / "photos/wall.png")
    hands.tap("Find label", "Choose a photo")
    hands.tablet.tap("wall.png")
    hands.tablet.look_for("Stop")
    hands.tablet.tap("Stop")
    hands.rest()
    hands.sees("Choose a photo")
    assert not hands.tablet.find_all("Understood")

    hands.tap("Choose a photo", "rock.png")
    hands.sees("No square code could be read in the photo rock.png.")


def test_a_label_of_damage_leads_to_it_and_to_seeing_it_again(hands: Hands) -> None:
    record_damages(hands.site)
    torn, *_ = damages(hands.site, hands.clock.at, hands.heading_id("Wrenfall Decline"))
    hands.tap("Find label")
    type_id(hands, short_id("damage", torn.id).readable.replace("-", ""))

    hands.sees("Damage: torn mesh")
    assert any("Not repaired: P3, due" in it for it in hands.tablet.texts())
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Damage")
    assert hands.is_at("rehab_list")
    hands.tap("Return", "Board", "Find label", "Damage: torn mesh", "Seen again")
    assert hands.is_at("damage")
