"""A row of value chips, and one for any other value."""

from kivy.properties import BooleanProperty, ListProperty, NumericProperty, StringProperty
from kivy.uix.gridlayout import GridLayout

from fieldapp.ui import theme
from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.widgets.chip import Chip

MOST_CHIPS = 6


class ChipRow(PairedWidget, GridLayout):
    """Up to six values, none of them chosen until a finger says so.

    Fires `on_value` with the value as text, or `on_other` when the last chip was touched.
    """

    values = ListProperty()
    unit = StringProperty()
    chosen = StringProperty()
    other = StringProperty("other…")
    offer_other = BooleanProperty(True)
    chip_count = NumericProperty(1)

    __events__ = ("on_value", "on_other")

    def __init__(self, **kwargs: object) -> None:
        super().__init__(**kwargs)
        for name in ("values", "unit", "other", "offer_other"):
            self.fbind(name, self._rebuild)
        self.fbind("chosen", self._show_chosen)
        self._rebuild()

    def most_in_a_line(self, width: float) -> int:
        """Give how many chips fit side by side without falling below a thumb's width."""
        least = theme.mm(19)
        return max(1, int((width + theme.GAP) // (least + theme.GAP)))

    def on_value(self, value: str) -> None:
        """Told which value was touched."""

    def on_other(self) -> None:
        """Told that none of the values is right."""

    def _rebuild(self, *_: object) -> None:
        if len(self.values) > MOST_CHIPS:
            raise ValueError(f"{len(self.values)} values; a row has at most {MOST_CHIPS} chips")
        self.clear_widgets()
        for value in self.values:
            chip = Chip(value=str(value), unit=self.unit, selected=str(value) == self.chosen)
            chip.fbind("on_release", self._touched)
            self.add_widget(chip)
        if self.offer_other:
            self.add_widget(Chip(unit=self.other, on_release=self._other_touched))
        self.chip_count = len(self.children)

    def _show_chosen(self, *_: object) -> None:
        for chip in self.children:
            chip.selected = bool(chip.value) and chip.value == self.chosen

    def _touched(self, chip: Chip) -> None:
        self.chosen = chip.value
        self.dispatch("on_value", chip.value)

    def _other_touched(self, _chip: Chip) -> None:
        self.dispatch("on_other")
