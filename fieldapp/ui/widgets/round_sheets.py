"""The panels of the Round screen: one bolt, one place, what is asked seldom."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import partial

from fieldapp.report.shapes import Bolt, Drawing
from fieldapp.ui.figures import metres
from fieldapp.ui.round_work import bolts_of_row, rows_of
from fieldapp.ui.translate import _, counted
from fieldapp.ui.widgets.as_broken import Broken
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.pad_panel import PadPanel
from fieldapp.ui.widgets.questions_panel import QuestionsPanel
from fieldapp.ui.widgets.second_domain import GroundChange
from fieldapp.work.exceptions import (
    BoltPlace,
    Statement,
    beside,
    corroded,
    extra,
    hole_at,
    marked,
    marking,
    statements,
    taped,
)
from fieldapp.work.questions import Asker, Question, rows_planned
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import (
    AnyTouch,
    BagFound,
    BoltMarked,
    HoleFound,
    NoteAdded,
)
from schemas.bodies.round import BagSeen

HOLES = (2, 4, 9)
BAGS_MM = (100, 200, 400)
PHRASES = (
    "drummy between rows",
    "mesh cut at the shoulder",
    "water at the back",
    "face ragged",
    "bolter short of plates",
    "handed over to the next shift",
)
WIDEST_M = "20"


@dataclass(frozen=True)
class WaysOn:
    """Where the panel of what is asked seldom leads to, beside answers."""

    photos: Callable[[], None]
    tests: Callable[[], None]
    intersections: Callable[[], None]
    figures: Callable[[], None]
    mesh: Callable[[], None]
    survey: Callable[[int], None]
    """Has the surveyed profile of a row taken from a file."""


@dataclass(frozen=True)
class Sheets:
    """Opens the panels about one moment of a round; what is chosen goes to `keep`."""

    work: RoundWork
    asker: Asker
    keep: Callable[[AnyTouch], None]

    # --- one bolt ---------------------------------------------------------------------------

    def bolt(self, place: BoltPlace, carries: str = "") -> None:
        """Ask what a bolt is like; `carries` says to an engineer what it does."""
        note = f"{place.words}: {carries}" if carries else place.words
        sheet = KeySheet(_("What is it like?"), note)
        self._offer(sheet, place, statements(place))
        if place.position is not None:
            sheet.offer(_("Put in beside"), partial(self._beside, place), _("hole given up"))
        if place.old_index is not None:
            sheet.offer(_("Rusted"), partial(self._rusted, place), _("visible part"))
        sheet.offer(_("Tape its place"), partial(self._tape, place), _("from the crown"))
        sheet.open()

    def choose(
        self,
        bolts: Sequence[Bolt],
        chosen: Callable[[Bolt], None],
        between: Callable[[], None],
    ) -> None:
        """Ask which of several bolts a finger meant, or whether it was the place between them."""
        sheet = KeySheet(_("Which bolt?"), _("Your finger touched more than one."))
        for bolt in bolts:
            row = f"row {bolt.row}" if bolt.row is not None else _("old row")
            label = f"bolt {bolt.position}" if bolt.position else _("extra bolt")
            sheet.offer(label, partial(chosen, bolt), row)
        sheet.offer(_("None of them"), between, _("the place between"))
        sheet.open()

    def mark_one(self, drawing: Drawing, row: int | None, chosen: Callable[[Bolt], None]) -> None:
        """Ask for a bolt by its number: of the row in question, or of another one."""
        if row is None:
            self._which_row(drawing, chosen)
            return
        name = _("Row {row}").format(row=row) if row > 0 else _("Old row")
        sheet = KeySheet(
            _("{row}: which bolt from the left?").format(row=name),
            _("Or touch it on the map; for mesh, touch the place between the bolts."),
        )
        for bolt in bolts_of_row(drawing, row):
            label = str(bolt.position) if bolt.position else _("extra")
            sheet.offer(label, partial(chosen, bolt))
        sheet.offer(_("Another row"), partial(self._which_row, drawing, chosen))
        sheet.open()

    def _which_row(self, drawing: Drawing, chosen: Callable[[Bolt], None]) -> None:
        sheet = KeySheet(_("Which row?"), _("Row 1 is nearest the joint."))
        for row, frame in rows_of(drawing):
            label = _("Old row") if frame.old else _("Row {row}").format(row=row)
            at = metres(Decimal(str(frame.x_m)), drawing.units) if frame.old else ""
            sheet.offer(label, partial(self.mark_one, drawing, row, chosen), at)
        sheet.open()

    def _offer(self, sheet: KeySheet, place: BoltPlace, said: Sequence[Statement]) -> None:
        touch = marking(place, self.asker)
        for statement in said:
            sheet.offer(statement.label, partial(self.keep, touch(statement.bolt)))

    def _beside(self, place: BoltPlace) -> None:
        sheet = KeySheet(_("How far beside the hole that was given up?"), place.words)
        self._offer(sheet, place, beside(place))
        sheet.open()

    def _rusted(self, place: BoltPlace) -> None:
        sheet = KeySheet(_("How rusted is what can be seen?"), place.words)
        self._offer(sheet, place, corroded(place))
        sheet.open()

    def _tape(self, place: BoltPlace) -> None:
        touch, known = marking(place, self.asker), marked(self.work, place)
        PadPanel(
            lambda typed: self.keep(touch(taped(known, place, Decimal(typed)))),
            question=_("Along the rock, from the crown to its collar?"),
            limit=_("right of the crown; ± for left"),
            unit="m",
            signed=True,
            smallest=f"-{WIDEST_M}",
            largest=WIDEST_M,
        ).open()

    # --- one place --------------------------------------------------------------------------

    def ground(self, x_m: float, s_m: float, row: int) -> None:
        """Ask what is at a place between the bolts."""
        at = (Decimal(f"{x_m:.2f}"), Decimal(f"{s_m:.2f}"))
        side = _("left") if s_m < 0 else _("right")
        where = _("{off:.1f} m {side} of the crown, at {at}")
        x_words = metres(at[0], "metres")
        sheet = KeySheet(_("What is here?"), where.format(off=abs(s_m), side=side, at=x_words))
        bolt = BoltMarked(at=self.asker.at, by=self.asker.by, row=row, bolt=extra(at[1]))
        sheet.offer(_("Extra bolt"), partial(self.keep, bolt), f"row {row}")
        if self.work.support_class.mesh is not None:
            self._offer_mesh(sheet, at)
        sheet.open()

    def _offer_mesh(self, sheet: KeySheet, at: tuple[Decimal, Decimal]) -> None:
        x_m, s_m = at
        when, by = self.asker.at, self.asker.by
        for openings in HOLES:
            hole = HoleFound(at=when, by=by, hole=hole_at(self.work, x_m, s_m, openings))
            words = counted("{} opening", "{} openings", openings)
            sheet.offer(_("Hole in mesh"), partial(self.keep, hole), words)
        for depth_mm in BAGS_MM:
            seen = BagSeen(chainage_m=x_m, s_m=s_m, depth_mm=Decimal(depth_mm))
            bag = BagFound(at=when, by=by, bag=seen)
            sheet.offer(_("Mesh bagged"), partial(self.keep, bag), f"{depth_mm} mm")

    # --- what is asked seldom ---------------------------------------------------------------

    def more(
        self,
        asked: Sequence[Question],
        again: Callable[[Question], None],
        ways: WaysOn,
    ) -> None:
        """Offer rows, mesh, profile, notes, the ways on, and every answered question again."""
        sheet = KeySheet(_("More about this round"))
        now = _("now {n}").format(n=self.work.seen.rows_planned)
        answered = [question for question in asked if question.answered]
        if answered:
            sheet.offer(
                _("Answer again"),
                lambda: QuestionsPanel(_("Which one?"), answered, again).open(),
                _("{n} answered").format(n=len(answered)),
            )
        sheet.offer(_("Number of rows"), self._rows, now)
        if self.work.support_class.mesh is not None:
            placed = _("{n} placed").format(n=len(self.work.seen.sheets))
            sheet.offer(
                _("Mesh"), ways.mesh, placed if self.work.seen.sheets else _("place sheets")
            )
        broken = Broken(self.work, self.asker, self.keep)
        sheet.offer(_("Overbreak"), broken.ask, broken.words or _("width and rise"))
        one_row = partial(broken.ask_row, ways.survey)
        sheet.offer(_("Overbreak, one row"), one_row, _("where it differs"))
        change = GroundChange(self.work, self.asker, self.keep)
        sheet.offer(_("Ground changes"), change.ask, _("another class past it"))
        sheet.offer(_("Note"), self._notes, _("pick a phrase"))
        sheet.offer(_("Photos"), ways.photos, _("take, draw, measure"))
        sheet.offer(_("Bolt tests"), ways.tests, _("due, made"))
        sheet.offer(_("Intersections"), ways.intersections, _("of this heading"))
        sheet.offer(_("Work"), ways.figures, _("time, crew, what went in"))
        sheet.open()

    def _rows(self) -> None:
        sheet = KeySheet(_("How many rows are there in this round?"))
        now = self.work.seen.rows_planned
        for rows in range(max(1, now - 3), now + 5):
            sheet.offer(str(rows), partial(self._plan, rows))
        sheet.open()

    def _plan(self, rows: int) -> None:
        self.keep(rows_planned(self.work, self.asker, rows))

    def _notes(self) -> None:
        sheet = KeySheet(_("Which note?"))
        for phrase in PHRASES:
            touch = NoteAdded(at=self.asker.at, by=self.asker.by, text=phrase)
            sheet.offer(phrase, partial(self.keep, touch))
        sheet.open()
