import gc
import os
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from kivy.config import Config

if TYPE_CHECKING:
    from tests.ui.harness import Tablet

# The clock reads it once, when Kivy first makes it: hands wait for what they see, never for
# the next sixtieth of a second.
Config.set("graphics", "maxfps", "0")
# Nor for a key that would look pressed a while longer than it is.
Config.set("graphics", "min_state_time", "0")

NOT_THE_OLDEST = (5_000, 10, 1_000_000)
"""Garbage is looked for among all objects once a test; a third of the time went there."""

NO_SCREEN = (
    "This test needs a screen and DISPLAY names none: start one with "
    "`Xvfb :71 -screen 0 1300x1300x24 &`, then `export DISPLAY=:71 SDL_VIDEODRIVER=x11`; "
    "`python3 -m tests` does it by itself."
)


@pytest.fixture(scope="session")
def the_tablet() -> "Tablet":
    assert os.name == "nt" or os.environ.get("DISPLAY"), NO_SCREEN
    from tests.ui.harness import Tablet

    tablet = Tablet()
    gc.set_threshold(*NOT_THE_OLDEST)
    return tablet


@pytest.fixture(scope="module", autouse=True)
def _nothing_of_another_file() -> None:
    """Let go of the screens that the tests of a file before left: each still hears of a look."""
    gc.unfreeze()
    gc.collect()
    gc.freeze()


@pytest.fixture
def tablet(the_tablet: "Tablet", monkeypatch: pytest.MonkeyPatch) -> Iterator["Tablet"]:
    """A tablet in landscape, dark, with nothing on the glass, in quick hands."""
    from fieldapp.ui.theme import look
    from tests.ui.harness import BOUNCE_S, LANDSCAPE

    monkeypatch.setattr("fieldapp.ui.widgets.bounce.BOUNCE_S", BOUNCE_S)
    look.use("dark")
    look.badge = "DEMO – Wrenfall mine"
    the_tablet.show()
    the_tablet.turn(LANDSCAPE)
    yield the_tablet
    the_tablet.show()
    gc.collect()
    gc.freeze()  # what was imported stays: no need to look through it again and again
