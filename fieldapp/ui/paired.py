"""A screen or widget is one .py and one .kv of the same name, side by side."""

import inspect
from pathlib import Path
from typing import Any

from kivy.lang import Builder
from kivy.properties import ObjectProperty
from kivy.uix.screenmanager import Screen

LOOKLESS = (__name__, "kivy.factory")
"""PairedScreen itself, and classes that a .kv makes out of another (`Wide@Key`)."""


class PairedWidget:
    """Mixed into a widget: its look is in the .kv beside its module, loaded with the class.

    Several classes of one module share the one file, which is loaded with the first of them.
    """

    def __init_subclass__(cls, **kwargs: object) -> None:
        super().__init_subclass__(**kwargs)
        if cls.__module__ in LOOKLESS:
            return
        look = str(Path(inspect.getfile(cls)).with_suffix(".kv"))
        if look not in Builder.files:
            Builder.load_file(look, encoding="utf8")


class PairedScreen(PairedWidget, Screen):
    """A screen whose look is in the .kv beside its module.

    `shell` is what holds it: where it is opened from, asks for what it needs, and leaves to.
    """

    shell: Any = ObjectProperty(None, allownone=True)

    def opened(self, *_args: Any, **about: Any) -> None:
        """Told each time somebody comes here, with what it is about."""

    def awaited(self) -> None:
        """Told when something is being stated that changes what is shown; `refreshed` follows."""

    def refreshed(self) -> None:
        """Told when what is shown may have changed beside this screen."""
