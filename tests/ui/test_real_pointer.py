"""The whole way in: a pointer event of the window system reaches a key.

The other tests' touches enter Kivy's event loop; this one enters the window system, so that
the settings of Kivy's input are tried as well.
"""

import shutil
import subprocess

import pytest
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.widgets.key import Key
from tests.ui.harness import Tablet

pytestmark = pytest.mark.window

XDOTOOL = shutil.which("xdotool")


def point(*words: object) -> None:
    assert XDOTOOL is not None
    subprocess.run([XDOTOOL, *map(str, words)], check=True)  # noqa: S603


@pytest.mark.skipif(XDOTOOL is None, reason="xdotool isn't here to move a real pointer")
def test_one_press_of_a_real_pointer_is_one_touch(tablet: Tablet) -> None:
    told: list[object] = []
    root = BoxLayout(orientation="vertical")
    key = Key(title="Undo", tall=True, on_release=told.append)
    root.add_widget(key)
    root.add_widget(BoxLayout())
    tablet.show(root)
    x, y = tablet.place_of(key)
    left, top = tablet.window.left, tablet.window.top

    point("mousemove", round(left + x), round(top + tablet.window.height - y), "mousedown", 1)
    tablet.until(lambda: key.state == "down")
    point("mouseup", 1)
    tablet.until(lambda: bool(told))
    tablet.wait(0.3)

    assert told == [key]
