"""A list that is turned by pages: a wet glove can't flick."""

from collections.abc import Callable, Sequence
from typing import Any

from kivy.clock import Clock
from kivy.properties import (
    AliasProperty,
    BooleanProperty,
    NumericProperty,
    ObjectProperty,
    StringProperty,
)
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldapp.ui import theme
from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.words import Words

__all__ = ["Key", "PagedList", "Words"]


class PagedList(PairedWidget, BoxLayout):
    """Shows as many rows of `items` as fit, and keys to the page before and after.

    The keys stand beside the rows where there is width to spare, else below them. `make_row`
    turns an item into its widget; only the rows in sight exist. Where `fill_row` is given, it
    puts another item into a row that is there already, which is several times quicker. `head`
    stands above the rows. A touch on a row fires `on_row` with its item.
    """

    items: Sequence[Any] = ObjectProperty(())
    make_row: Callable[[Any], Widget] | None = ObjectProperty(None, allownone=True)
    fill_row: Callable[[Widget, Any], None] | None = ObjectProperty(None, allownone=True)
    row_height = NumericProperty(theme.TOUCH)
    page = NumericProperty(0)
    pages = NumericProperty(1)
    head: Widget | None = ObjectProperty(None, allownone=True)
    empty = StringProperty()
    beside = BooleanProperty(False)
    beside_from = NumericProperty(theme.mm(150))
    """A wider list has its keys beside the rows."""

    __events__ = ("on_row",)

    def __init__(self, **kwargs: object) -> None:
        self._refill = Clock.create_trigger(self._refill_now, -1)
        super().__init__(**kwargs)
        for name in ("items", "make_row", "row_height", "page", "size", "beside", "empty"):
            self.fbind(name, self._refill)
        self.fbind("head", self._put_head)

    def on_kv_post(self, _base: object) -> None:
        # Inside another look the ids are not there before this.
        self._put_head(self, self.head)
        self._refill()

    def _place(self) -> str:
        return _("{page} of {pages}").format(page=int(self.page) + 1, pages=int(self.pages))

    place = AliasProperty(_place, bind=["page", "pages"])

    def turn(self, by: int) -> None:
        """Go some pages on, or back; never beyond the ends."""
        self.page = max(0, min(self.pages - 1, self.page + by))

    def _put_head(self, _list: object, head: Widget | None) -> None:
        self.ids.head.clear_widgets()
        if head is not None:
            self.ids.head.add_widget(head)
            head.fbind("height", self._refill)

    def _rows_in(self, height: float) -> int:
        height -= self.head.height if self.head is not None else 0
        return max(1, int((height + theme.GAP) // (self.row_height + theme.GAP)))

    def _rows_a_page(self) -> int:
        whole = self._rows_in(self.height)
        if self.beside or len(self.items) <= whole:
            return whole
        return self._rows_in(self.height - theme.TOUCH - theme.GAP)

    def _refill_now(self, _elapsed: float) -> None:
        count = self._rows_a_page()
        self.pages = max(1, -(-len(self.items) // count))
        self.page = max(0, min(self.pages - 1, int(self.page)))
        first = int(self.page) * count
        if self.make_row is not None:
            self._show(self.items[first : first + count], self.make_row)

    def _show(self, items: Sequence[Any], make_row: Callable[[Any], Widget]) -> None:
        rows = self.ids.rows
        kept = list(reversed(rows.children))[: len(items)] if self.fill_row is not None else []
        for row in [each for each in rows.children if each not in kept]:
            rows.remove_widget(row)
        for row, item in zip(kept, items, strict=False):
            row.item = item
            self._fill(row, item)
        for item in items[len(kept) :]:
            row = make_row(item)
            row.item = item
            rows.add_widget(row)
            if row.is_event_type("on_release"):
                row.fbind("on_release", lambda touched: self.dispatch("on_row", touched.item))

    def _fill(self, row: Widget, item: Any) -> None:
        if self.fill_row is not None:
            self.fill_row(row, item)

    def on_row(self, item: Any) -> None:
        """Told which item's row was touched."""
