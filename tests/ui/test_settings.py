"""The settings under a glove: each touch is on the disk, and holds at once."""

from collections.abc import Iterator
from datetime import time
from pathlib import Path

import pytest

from fieldapp.start import SETTINGS_FILE, read_settings
from fieldapp.ui.long_paths import path_words
from fieldapp.ui.theme import look
from fieldapp.ui.zones import areas, places
from schemas.settings import Settings
from tests.ui.harness import LANDSCAPE, PORTRAIT, Tablet
from tests.ui.mine import Hands, at_the_demo
from tests.ui.uilint import faults

pytestmark = pytest.mark.window

both_ways = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        hands.signed_in()
        hands.tap("Settings")
        yield hands


def kept(hands: Hands) -> Settings:
    """Give what the next start will read."""
    return read_settings(hands.home / SETTINGS_FILE)


def test_the_bright_look_holds_at_once_and_after_switching_on(hands: Hands) -> None:
    dark = look.ground[:]

    hands.tap("Bright")

    assert kept(hands).theme == "bright"
    assert look.ground != dark


def test_feet_and_inches_show_on_the_board(hands: Hands) -> None:
    hands.tap("Feet and inches", "Return")

    assert kept(hands).units == "feet and inches"
    hands.sees("Face")
    assert any("\N{NO-BREAK SPACE}ft" in text for text in hands.tablet.texts())


def test_reports_are_laid_out_for_the_paper_that_the_mine_has(hands: Hands) -> None:
    hands.tap("Down", "Letter")

    assert kept(hands).paper == "Letter"


def test_the_camera_s_folder_is_named(
    hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    (tmp_path / "Pictures").mkdir()
    hands.tap("Down", "another folder", "Pictures", "Take this folder")

    hands.sees("Pictures")
    assert kept(hands).camera_folder == tmp_path / "Pictures"


def test_a_shift_begins_at_another_time(hands: Hands) -> None:
    hands.tap("06:00")
    hands.type("5")
    hands.tap("05:30")

    assert [shift.starts for shift in kept(hands).shifts] == [time(5, 30), time(18)]


def test_an_hour_that_no_day_has_is_refused(hands: Hands) -> None:
    hands.tap("06:00")
    hands.type("24")

    assert "Not above 23 h." in hands.tablet.texts()
    assert [shift.starts for shift in kept(hands).shifts] == [time(6), time(18)]


def test_a_crew_comes_and_goes_in_its_place(hands: Hands) -> None:
    hands.tap("crew B", "crew D")
    without = kept(hands).crews
    hands.tap("crew B")

    assert without == ("crew A", "crew C", "crew D")
    assert kept(hands).crews == ("crew A", "crew B", "crew C", "crew D")


def test_the_clock_follows_the_zone(hands: Hands) -> None:
    before = hands.shell.clock_words()
    hands.tap("Down", hands.site.settings.zone, "Australia", "Darwin")

    hour, minute = (int(part) for part in before.split(":"))
    later = (hour * 60 + minute + 570) % 1440  # Darwin is 9 h 30 min ahead all year
    assert kept(hands).zone == "Australia/Darwin"
    assert hands.shell.clock_words() == f"{later // 60:02}:{later % 60:02}"


def test_settings_that_cannot_be_written_are_told_and_not_shown_as_kept(hands: Hands) -> None:
    (hands.home / SETTINGS_FILE).unlink(missing_ok=True)
    (hands.home / SETTINGS_FILE).mkdir()

    hands.tap("Bright")

    assert hands.site.settings.theme == "dark"
    assert "Understood" in hands.tablet.texts()


def test_every_zone_is_reached_by_two_keys() -> None:
    zones = ("Australia/Darwin", "Australia/Perth", "America/Argentina/Salta", "UTC")

    first = areas(zones)

    assert [(it.name, it.zone) for it in first] == [
        ("UTC", "UTC"),
        ("America", ""),
        ("Australia", ""),
    ]
    assert [it.zone for it in places(zones, "Australia")] == [
        "Australia/Darwin",
        "Australia/Perth",
    ]
    assert [it.name for it in places(zones, "America")] == ["Argentina/Salta"]


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("/srv/lastrow", "/srv/lastrow"),
        ("/data/somebody/.local/share/lastrow/demo", "/data/\nsomebody/.local/share/lastrow/demo"),
        (
            "C:\\Tablets\\Somebody of the night shift\\AppData\\Local\\lastrow\\Cache\\one",
            "…Somebody of the night shift\\\nAppData\\Local\\lastrow\\Cache\\one",
        ),
    ],
)
def test_a_long_path_breaks_between_names(path: str, words: str) -> None:
    assert path_words(path) == words


@both_ways
@pytest.mark.parametrize("look_name", ["dark", "bright"])
def test_the_settings_have_no_fault(hands: Hands, size: tuple[int, int], look_name: str) -> None:
    look.use(look_name)
    hands.tablet.turn(size)

    assert faults(hands.tablet) == []
    if hands.tablet.find_all("Down"):
        hands.tap("Down")
        assert faults(hands.tablet) == []


@both_ways
@pytest.mark.parametrize("path", [("06:00",)], ids=" then ".join)
def test_what_lies_over_the_settings_has_no_fault(
    hands: Hands, size: tuple[int, int], path: tuple[str, ...]
) -> None:
    hands.tablet.turn(size)
    hands.tap(*path)

    assert faults(hands.tablet) == []
