"""Naming who bolted the round, by hand, and what the one who is named meets at the signing."""

from pathlib import Path

import pytest

from fieldapp.ui.widgets.hold_key import HoldKey
from fieldapp.ui.widgets.question_panel import MOST_KEYS
from fieldapp.work.demo import SITE_CODE
from fieldapp.work.demo.walking import Look
from fieldapp.work.people import enrol
from fieldapp.work.sign import STATES
from tests.ui.harness import LANDSCAPE, PORTRAIT, Tablet
from tests.ui.mine import DAY, at_the_demo
from tests.ui.on_a_round import Recorder, at_a_round, look_at
from tests.ui.uilint import faults

pytestmark = pytest.mark.window

NIGHT = "Night supervisor"
SIZES = [pytest.param(LANDSCAPE, id="landscape"), pytest.param(PORTRAIT, id="portrait")]


def name_them(recorder: Recorder, *names: str) -> None:
    for label in ("By name", *names, "Nobody else"):
        recorder.touch(label)


def keys_to_sign(tablet: Tablet) -> list[bool]:
    """Say of each key that signs whether it can be held."""
    return [not key.disabled for key in tablet.find_all(HoldKey)]


@pytest.mark.parametrize("size", SIZES)
def test_who_was_named_is_told_before_signing_and_signs_nothing(
    tablet: Tablet, tmp_path: Path, size: tuple[int, int]
) -> None:
    tablet.turn(size)
    with at_a_round(tablet, tmp_path, "bolter") as recorder:
        name_them(recorder, DAY)
        recorder.hands.go("review", heading_id=recorder.screen.heading_id)
        tablet.until(lambda: "installed this round" in recorder.screen.states)

        assert keys_to_sign(tablet) == [False, False, False]
        assert faults(tablet) == []


def test_where_others_bolted_the_signer_states_so(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "bolter") as recorder:
        name_them(recorder, NIGHT)
        recorder.hands.go("review", heading_id=recorder.screen.heading_id)
        tablet.until(lambda: any(keys_to_sign(tablet)))

        assert recorder.screen.states == STATES
        assert STATES in tablet.texts()


@pytest.mark.parametrize("size", SIZES)
def test_a_long_list_of_names_is_turned_page_by_page(
    tablet: Tablet, tmp_path: Path, size: tuple[int, int]
) -> None:
    tablet.turn(size)
    with at_the_demo(tablet, tmp_path) as hands:
        for number in range(4):
            name, code = f"Bolter {number} of the long hole crew", f"9182{number}7"
            enrol(hands.site, name, ("bolter",), sign_code=code, site_code=SITE_CODE)
        hands.switch_off_and_on()
        hands.sign_in(DAY)
        look_at(hands, Look(stops_before="bolter"))
        recorder = Recorder(hands)
        recorder.begin()
        recorder.touch("By name")
        names = [it.label for it in recorder.question.choices]
        assert len(names) == 10
        assert [name in tablet.texts() for name in names[:6]] == [True] * (MOST_KEYS - 1) + [False]
        assert faults(tablet) == []

        tablet.wait(0.2)
        tablet.tap("More…")
        tablet.settle()
        assert [name in tablet.texts() for name in names[4:]] == [False] + [True] * 5
        tablet.wait(0.2)
        recorder.touch(names[9])

        assert recorder.work.seen.installed_by[-1:] == (
            recorder.hands.shell.known.installers[9].person_id,
        )
