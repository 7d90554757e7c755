"""The panels of the Round screen: one bolt, one place, any value, what is asked seldom."""

from collections.abc import Callable
from decimal import Decimal
from functools import partial

from fieldapp.report.shapes import Bolt
from fieldapp.ui.round_work import row_at
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.number_pad import NumberPad
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.work.exceptions import (
    BoltPlace,
    Statement,
    beside,
    extra,
    hole_at,
    marking,
    statements,
)
from fieldapp.work.questions import Asker, Question
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import (
    AnyTouch,
    BagFound,
    BoltMarked,
    HoleFound,
    NoteAdded,
    ProfileMeasured,
    RowsPlanned,
)
from schemas.bodies.round import BagSeen, Method, ProfileSeen

Keep = Callable[[AnyTouch], None]

PHRASES = (
    "drummy between rows",
    "mesh cut at the shoulder",
    "water at the back",
    "face ragged",
    "bolter short of plates",
    "handed over to the next shift",
)


class BoltSheet(KeySheet):
    """What is to be said of one bolt."""

    def __init__(self, place: BoltPlace, asker: Asker, keep: Keep) -> None:
        super().__init__(_("What is it like?"), place.words)
        self._place, self._asker, self._keep = place, asker, keep
        for statement in statements(place):
            self._offer(statement)
        if place.position is not None:
            self.offer(_("Put in beside"), self._beside, _("blocked hole"))

    def _offer(self, statement: Statement) -> None:
        touch = marking(self._place, self._asker)(statement.bolt)
        self.offer(statement.label, lambda: self._keep(touch))

    def _beside(self) -> None:
        sheet = KeySheet(_("How far beside the hole that was given up?"), self._place.words)
        touch = marking(self._place, self._asker)
        for statement in beside(self._place):
            bolt = statement.bolt
            sheet.offer(statement.label, partial(self._keep, touch(bolt)))
        sheet.open()


class ChooserSheet(KeySheet):
    """Which of several bolts a finger meant."""

    def __init__(self, bolts: tuple[Bolt, ...], chosen: Callable[[Bolt], None]) -> None:
        super().__init__(_("Which bolt?"), _("Your finger touched more than one."))
        for bolt in bolts[:8]:
            row = f"row {bolt.row}" if bolt.row is not None else "old row"
            label = f"bolt {bolt.position}" if bolt.position else "extra bolt"
            self.offer(label, partial(chosen, bolt), row)


class GroundSheet(KeySheet):
    """What is to be said of a place between the bolts."""

    def __init__(
        self, work: RoundWork, place: tuple[Decimal, Decimal], asker: Asker, keep: Keep
    ) -> None:
        x_m, s_m = place
        side = _("left") if s_m < 0 else _("right")
        where = f"{abs(s_m):.1f} m {side} of the crown, at {x_m:.1f} m"
        super().__init__(_("What is here?"), where)
        self._work = work
        self._place, self._asker, self._keep = place, asker, keep
        row = row_at(work, x_m)
        bolt = extra(s_m)
        mark = BoltMarked(at=asker.at, by=asker.by, row=row, bolt=bolt)
        self.offer(_("Extra bolt"), lambda: keep(mark), f"row {row}")
        if work.support_class.mesh is not None:
            self._offer_mesh()

    def _offer_mesh(self) -> None:
        for openings in (2, 4, 9):
            self.offer(
                _("Hole in the mesh"),
                partial(self._keep, self._hole(openings)),
                f"{openings} openings",
            )
        for depth_mm in (100, 200, 400):
            self.offer(
                _("Mesh bagged"),
                partial(self._keep, self._bag(depth_mm)),
                f"{depth_mm} mm deep",
            )

    def _hole(self, openings: int) -> AnyTouch:
        x_m, s_m = self._place
        hole = hole_at(self._work, x_m, s_m, openings)
        return HoleFound(at=self._asker.at, by=self._asker.by, hole=hole)

    def _bag(self, depth_mm: int) -> AnyTouch:
        x_m, s_m = self._place
        bag = BagSeen(chainage_m=x_m, s_m=s_m, depth_mm=Decimal(depth_mm))
        return BagFound(at=self._asker.at, by=self._asker.by, bag=bag)


class PadSheet(Sheet):
    """The large pad for one question, with its unit, its limit and the way of reading."""

    def __init__(self, question: Question, keep: Keep) -> None:
        super().__init__(place="full")
        assert question.digits is not None  # noqa: S101 - offered only where there is a pad
        self._digits, self._keep = question.digits, keep
        self._method: Method = self._digits.methods[0] if self._digits.methods else "tape"
        self._pad = NumberPad(
            question=question.ask,
            unit=self._digits.unit,
            limit=self._digits.limit,
            smallest=str(self._digits.least),
            largest=str(self._digits.most),
            decimals=self._digits.decimals,
        )
        self._pad.bind(on_entered=self._entered, on_leave=lambda *_args: self.close())
        self.add_widget(self._pad)
        self._ways: list[Key] = []
        for method in self._digits.methods:
            self._offer_way(method)

    def _offer_way(self, method: Method) -> None:
        key = Key(title=method, selected=method == self._method)
        key.bind(on_release=lambda *_args: self._read_by(method))
        self._ways.append(key)
        self.add_key(key)

    def _read_by(self, method: Method) -> None:
        self._method = method
        for key in self._ways:
            key.selected = key.title == method

    def _entered(self, _pad: object, typed: str) -> None:
        self.close()
        self._keep(self._digits.touch(Decimal(typed), self._method))


class MoreSheet(KeySheet):
    """What is asked seldom: the number of rows, the profile as broken, notes."""

    def __init__(self, work: RoundWork, asker: Asker, keep: Keep) -> None:
        super().__init__(_("More about this round"))
        self._work, self._asker, self._keep = work, asker, keep
        self.offer(_("Number of rows"), self._rows, _("now {n}").format(n=work.seen.rows_planned))
        self.offer(_("Overbreak"), self._width, _("width and rise"))
        self.offer(_("Note"), self._notes, _("pick a phrase"))

    def _rows(self) -> None:
        sheet = KeySheet(_("How many rows are there in this round?"))
        now = self._work.seen.rows_planned
        for rows in range(max(1, now - 3), now + 5):
            touch = RowsPlanned(at=self._asker.at, by=self._asker.by, rows=rows)
            sheet.offer(str(rows), partial(self._keep, touch), _("rows"))
        sheet.open()

    def _notes(self) -> None:
        sheet = KeySheet(_("Which note?"))
        for phrase in PHRASES:
            touch = NoteAdded(at=self._asker.at, by=self._asker.by, text=phrase)
            sheet.offer(phrase, partial(self._keep, touch))
        sheet.open()

    def _width(self) -> None:
        designed = self._work.support_class.profile.width_m
        _ask_metres(_("Width of the drive, wall to wall?"), f"designed {designed}", self._rise)

    def _rise(self, width_m: Decimal) -> None:
        designed = self._work.support_class.profile.rise_m

        def keep(rise_m: Decimal) -> None:
            profile = ProfileSeen(width_m=width_m, rise_m=rise_m, method="tape")
            self._keep(ProfileMeasured(at=self._asker.at, by=self._asker.by, profile=profile))

        _ask_metres(_("Rise from springline to crown?"), f"designed {designed}", keep)


def _ask_metres(question: str, limit: str, then: Callable[[Decimal], None]) -> None:
    sheet = Sheet(place="full")
    pad = NumberPad(
        question=question, unit="m", limit=limit, smallest="0.5", largest="20", decimals=2
    )

    def entered(_pad: object, typed: str) -> None:
        sheet.close()
        then(Decimal(typed))

    pad.bind(on_entered=entered, on_leave=lambda *_args: sheet.close())
    sheet.add_widget(pad)
    sheet.open()
