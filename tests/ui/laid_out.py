"""Small helps for tests of widgets."""

from collections.abc import Callable

from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldapp.ui import theme


def column(*parts: Widget) -> Widget:
    root = BoxLayout(orientation="vertical", padding=theme.EDGE, spacing=theme.GAP)
    for part in parts:
        root.add_widget(part)
    return root


def heard(told: list[object]) -> Callable[..., None]:
    return lambda _widget, *facts: told.append(facts[0] if len(facts) == 1 else facts)
