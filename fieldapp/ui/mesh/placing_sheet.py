"""Placing sheets of mesh: the next one by a key, edges by a finger, laps by chips."""

from decimal import Decimal
from typing import Any, Final, Protocol

from kivy.properties import (
    BooleanProperty,
    NumericProperty,
    ObjectProperty,
    OptionProperty,
    StringProperty,
)

from fieldapp.report.shapes import MeshSheet
from fieldapp.report.words.lengths import Units
from fieldapp.ui.figures import metres
from fieldapp.ui.mesh.sheet_map import Edge, SheetMap
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.question_panel import QuestionPanel
from fieldapp.ui.widgets.reading_pad import ReadingPad
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.words import Words
from fieldapp.work.questions import Asker, Choice
from fieldapp.work.round import RoundWork
from fieldapp.work.sheets import Placing
from fieldapp.work.touches import AnyTouch

__all__ = ["Key", "PlacingSheet", "QuestionPanel", "SheetMap", "Words"]

NOTE: Final = _("Drag an edge by its ring. Touch a sheet to choose it.")
NO_SHEET: Final = _("No sheet is placed yet.")
ASSUMED: Final = _("as standard, assumed")
EDGES: Final[dict[Edge, str]] = {
    "outbye": _("outbye edge"),
    "inbye": _("inbye edge"),
    "left": _("left edge"),
    "right": _("right edge"),
}


class Recorded(Protocol):
    """The Round screen, as far as placing sheets needs it: it keeps touches and judges."""

    work: RoundWork | None
    judged: Any
    asker: Asker

    def keep(self, touch: AnyTouch) -> None:
        """Put a touch on the disk, then show what follows."""

    def undo(self) -> None:
        """Take the last touch back."""

    def fbind(self, name: str, told: Any) -> int:
        """Be told of a change."""

    def funbind(self, name: str, told: Any) -> None:
        """Be told no more."""


class PlacingSheet(Sheet):
    """Places sheets on the drive. Each act is a touch of the round, undone as any other."""

    drawing = ObjectProperty(None, allownone=True)
    number = NumericProperty(0)
    """Of the chosen sheet; 0 where none is."""
    chosen_words = StringProperty()
    told = StringProperty()
    away_second = StringProperty()
    place_title = StringProperty()
    place_second = StringProperty()
    dragged_edge = OptionProperty(None, options=[None, *EDGES], allownone=True)
    """The edge that was dragged last, which may be taped; None where none was."""
    tape_second = StringProperty()
    can_undo = BooleanProperty(False)
    wide = BooleanProperty(True)

    def __init__(self, recorded: Recorded, units: Units) -> None:
        super().__init__(place="full", title=_("Sheets of mesh"), note=NOTE)
        self._recorded, self._units = recorded, units
        self._placing: Placing | None = None
        self.ids.map.snap = self._snap
        recorded.fbind("judged", self._show)
        self._show()

    def on_closed(self) -> None:
        self._recorded.funbind("judged", self._show)

    # --- what is touched --------------------------------------------------------------------

    def put_down(self) -> None:
        """Put down the next sheet, and choose it."""
        if self._placing is not None:
            touch = self._placing.next_sheet()
            self._choose(touch.sheet.number)
            self._recorded.keep(touch)

    def take_away(self) -> None:
        """Take the chosen sheet away."""
        if self._placing is not None and self.number:
            self._recorded.keep(self._placing.taken_away(int(self.number)))

    def undo(self) -> None:
        """Take the last touch back, whatever it was."""
        self._recorded.undo()

    def answer(self, choice: Choice) -> None:
        """Give the answer that stands on a chip."""
        self._recorded.keep(choice.touch)

    def touched(self, x_m: float, s_m: float) -> None:
        """Choose the sheet there; of several that lap, the next one after the one chosen."""
        here = [
            it.number
            for it in self.drawing.sheets
            if it.x_from_m <= x_m <= it.x_to_m and it.s_from_m <= s_m <= it.s_to_m
        ]
        later = [number for number in here if number > self.number]
        if here:
            self._choose(min(later or here))
            self._show()

    def dragged(self, edge: Edge, at_m: Decimal) -> None:
        """Say where the edge would be, and the lap that it would leave."""
        assert self._placing is not None  # noqa: S101 - an edge is there only with a sheet
        width_m = self._placing.width_at(int(self.number), edge, at_m)
        lap = _("laps no sheet there") if width_m is None else self._lap_words(width_m)
        self.told = "\n".join([_edge_words(edge, at_m, self._units), lap])

    def edge_let_go(self, edge: Edge, at_m: Decimal) -> None:
        """Keep the edge where it was let go, by eye."""
        assert self._placing is not None  # noqa: S101 - an edge is there only with a sheet
        self.dragged_edge, self.tape_second = edge, EDGES[edge]
        self._recorded.keep(self._placing.edge_read(int(self.number), edge, at_m))

    def tape(self) -> None:
        """Ask for the edge that was dragged as a tape has it."""
        if self._placing is not None and self.dragged_edge is not None:
            question = self._placing.edge_asked(int(self.number), self.dragged_edge)
            if question is not None:
                ReadingPad(question, self._recorded.keep).open()

    def _choose(self, number: int) -> None:
        self.number = number
        self.dragged_edge, self.tape_second = None, ""

    # --- showing ----------------------------------------------------------------------------

    def _show(self, *_args: object) -> None:
        judged = self._recorded.judged
        if judged is None:
            return
        self._placing = Placing(judged.work, self._recorded.asker)
        placed = {it.number for it in self._placing.placed}
        if self.number not in placed:
            self._choose(max(placed, default=0))
        self.drawing = judged.drawing
        self.ids.map.chosen = self._chosen()
        self.can_undo = judged.work.can_undo
        self.place_title = _("Next sheet") if placed else _("Place a sheet")
        self.place_second = _("{n} placed").format(n=len(placed)) if placed else _("as standard")
        self.away_second = _("sheet {n}").format(n=self.number) if self.number else ""
        self._show_laps(self._placing)

    def _chosen(self) -> MeshSheet | None:
        own = (it for it in self.drawing.sheets if it.number == self.number and not it.old)
        return next(own, None)

    def _show_laps(self, placing: Placing) -> None:
        chosen = self._chosen()
        if chosen is None:
            self.chosen_words, self.told = NO_SHEET, ""
            self.ids.question.show(None)
            return
        name = _("Sheet {n}").format(n=chosen.number)
        self.chosen_words = name if chosen.read else f"{name}: {ASSUMED}"
        self.told = "\n".join(
            f"{_(lap.words)}: {self._lap_words(lap.width_m)}"
            for lap in placing.laps_of(chosen.number)
            if lap.width_m is not None
        )
        question = placing.asked(chosen.number)
        self.ids.question.show(question, _("Its laps are read."), "")

    def _lap_words(self, width_m: Decimal) -> str:
        """Say a lap in openings and millimetres."""
        assert self._placing is not None  # noqa: S101 - said only of a sheet
        pitch_mm = self._placing.mesh.pitch_mm
        mm, openings = width_m * 1000, width_m * 1000 / pitch_mm
        if openings == 1:
            return _("1 opening, {mm} mm").format(mm=f"{mm:.0f}")
        said = f"{openings:.1f}".removesuffix(".0")
        return _("{n} openings, {mm} mm").format(n=said, mm=f"{mm:.0f}")

    def _snap(self, edge: Edge, at_m: float) -> Decimal | None:
        if self._placing is None:
            return None
        return self._placing.edge_at(int(self.number), edge, at_m)


def _edge_words(edge: Edge, at_m: Decimal, units: Units) -> str:
    side = "" if edge in ("outbye", "inbye") else (_("left") if at_m < 0 else _("right"))
    where = metres(at_m if not side else abs(at_m), units)
    return ", ".join([f"{EDGES[edge]} {where} {side}".strip(), _("by eye")])
