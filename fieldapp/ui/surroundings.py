"""What has to be settled before Kivy is first imported, so that it leaves the process alone.

Kivy reads its environment once. Left to itself it takes over the root logger and the command
line, reads a settings file of the person's, draws a red dot for a second mouse finger and
believes that every screen has 96 dots per inch.
"""

import os
from pathlib import Path

from fieldapp.ui.density import chosen_ppi, density

GUARDS = {
    "KIVY_LOG_MODE": "PYTHON",
    "KIVY_NO_ARGS": "1",
    "KIVY_NO_CONSOLELOG": "1",
    "KIVY_NO_FILELOG": "1",
    "KIVY_NO_CONFIG": "1",
    "KIVY_METRICS_FONTSCALE": "1",
}

SETTINGS = (
    ("graphics", "multisamples", "0"),  # costs a third of the frame; some tablets lose GL by it
    ("graphics", "maxfps", "60"),
    ("kivy", "exit_on_escape", "0"),
    ("kivy", "desktop", "0"),
    ("kivy", "keyboard_mode", "system"),
    ("widgets", "scroll_timeout", "55"),
    ("widgets", "scroll_distance", "24"),
)


def prepare_kivy() -> None:
    """Set the guards and the settings. Whoever set a variable before us keeps it."""
    for name, value in GUARDS.items():
        os.environ.setdefault(name, value)
    os.environ.setdefault("KIVY_HOME", str(_kivy_home()))
    ppi = chosen_ppi(os.environ)
    os.environ.setdefault("KIVY_METRICS_DENSITY", f"{density(ppi):.4f}")
    os.environ.setdefault("KIVY_DPI", f"{ppi:.2f}")  # else asking for a size opens a window
    _settle()


def _kivy_home() -> Path:
    from platformdirs import user_cache_path

    return user_cache_path("lastrow") / "kivy"


def _settle() -> None:
    from kivy.config import Config

    for section, name, value in SETTINGS:
        Config.set(section, name, value)
    # One provider only: two that see one finger would press every key twice. Touch screens
    # are heard through the window itself.
    for name, _ in Config.items("input"):
        Config.remove_option("input", name)
    Config.set("input", "mouse", "mouse,disable_multitouch")
