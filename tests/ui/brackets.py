"""``python -m tests.ui.brackets FOLDER``: the screens of a round in a made-up language, as JSON.

A process of its own: a tablet speaks a language from switching on, before any screen is loaded.
"""

import json
import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from assets.translate import speak
from tests.made_up_language import BRACKETS, in_brackets

if TYPE_CHECKING:
    from tests.ui.mine import Hands

SHOWN = "shown.json"
STOPS = ("ground", "bolter", "bolts", "old row 0", "ahead 1", "count 2", "spacing 2")
STOPS_LATER = ("lap 1", "lap held 1", "mesh to face", "last row marked", "face left")
ALL_ASKED = ""


def main(folder: Path) -> None:
    """Write the texts of every screen."""
    speak(BRACKETS, in_brackets(folder / "words"))
    from tests.ui.harness import Tablet
    from tests.ui.mine import at_the_demo

    tablet = Tablet()
    shown: dict[str, list[str]] = {}
    with at_the_demo(tablet, folder / "board") as hands:
        _sign_in(hands)
        hands.go("shift_board")
        shown["board"] = tablet.texts()
        for key in (*STOPS, *STOPS_LATER, ALL_ASKED):
            shown[f"round, {key}"] = _round(hands, key)
            shown[f"review, {key}"] = _review(hands)
    (folder / SHOWN).write_text(json.dumps(shown), encoding="utf-8")


def _sign_in(hands: "Hands") -> None:
    """Have the day supervisor signed in: keys to tap have other names here."""
    from tests.demo_mine import session
    from tests.ui.mine import DAY

    hands.shell.signed_in(session(hands.site, DAY))
    hands.rest()


def _round(hands: "Hands", stops_before: str) -> list[str]:
    from fieldapp.ui.widgets.drive_map import DriveMap
    from tests.ui.on_a_round import Recorder, look_at
    from tests.ui.test_round_looks import A_GAP

    look_at(hands, replace(A_GAP, stops_before=stops_before or None))
    recorder = Recorder(hands)
    recorder.begin()
    question = recorder.screen.view.question
    assert (question.key if question else ALL_ASKED) == stops_before
    drawing = hands.tablet.find(DriveMap).drawing
    return [*hands.tablet.texts(), *(tag.text for tag in drawing.tags)]


def _review(hands: "Hands") -> list[str]:
    from fieldapp.work.demo import READY

    hands.go("review", heading_id=hands.heading_id(READY))
    return hands.tablet.texts()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
