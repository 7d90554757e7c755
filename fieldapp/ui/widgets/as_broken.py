"""The drive as it was broken: width and rise, of the round or of one row where it differs."""

from collections.abc import Callable
from decimal import Decimal
from functools import partial

from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.pad_panel import PadPanel
from fieldapp.work.demanded import demanded_in_row, overbreak_of
from fieldapp.work.questions import Asker
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import AnyTouch, ProfileMeasured, RowAsBroken
from schemas.bodies.round import ProfileSeen

WIDEST_M = "20"


class Broken:
    """One profile on its way; the last answer keeps it."""

    def __init__(self, work: RoundWork, asker: Asker, keep: Callable[[AnyTouch], None]) -> None:
        self._work = work
        self._asker = asker
        self._keep = keep

    @property
    def words(self) -> str:
        """How much more was broken than designed; empty where nobody measured it."""
        percent = overbreak_of(self._work)
        return "" if percent is None else _("{percent} % of area").format(percent=f"{percent:+}")

    def ask(self) -> None:
        """Ask for the profile of the round."""
        self._width(self._of_round)

    def ask_row(self, survey: Callable[[int], None]) -> None:
        """Ask at which row it differs, then for the profile there; `survey` takes it surveyed."""
        sheet = self._rows(lambda number: self._width(partial(self._of_row, number)))
        ask_file = self._rows(survey).open
        sheet.offer(_("From a file"), ask_file, _("surveyed points"))
        sheet.open()

    def _rows(self, then: Callable[[int], None]) -> KeySheet:
        sheet = KeySheet(
            _("At which row is the drive broken otherwise?"),
            _("Its bolts are demanded along the rock as it is there."),
        )
        own = {row.number: row.profile for row in self._work.seen.rows}
        for number in range(1, self._work.seen.rows_planned + 1):
            known = own.get(number)
            said = _("{n} bolts").format(n=demanded_in_row(self._work, number))
            if known is not None and known.points:
                said = _("{n} points").format(n=len(known.points))
            elif known is not None:
                said = f"{known.width_m} × {known.rise_m} m"
            sheet.offer(_("Row {row}").format(row=number), partial(then, number), said)
        return sheet

    def _of_round(self, profile: ProfileSeen) -> None:
        self._keep(ProfileMeasured(at=self._asker.at, by=self._asker.by, profile=profile))

    def _of_row(self, number: int, profile: ProfileSeen) -> None:
        touch = RowAsBroken(at=self._asker.at, by=self._asker.by, row=number, profile=profile)
        self._keep(touch)

    def _width(self, then: Callable[[ProfileSeen], None]) -> None:
        designed = self._work.support_class.profile.width_m
        rise = partial(self._rise, then)
        _ask_metres(_("Width of the drive, wall to wall?"), designed, rise)

    def _rise(self, then: Callable[[ProfileSeen], None], width_m: Decimal) -> None:
        def keep(rise_m: Decimal) -> None:
            then(ProfileSeen(width_m=width_m, rise_m=rise_m, method="tape"))

        designed = self._work.support_class.profile.rise_m
        _ask_metres(_("Rise from springline to crown?"), designed, keep)


def _ask_metres(question: str, designed: Decimal, then: Callable[[Decimal], None]) -> None:
    PadPanel(
        lambda typed: then(Decimal(typed)),
        question=question,
        unit="m",
        limit=_("designed {m} m").format(m=designed),
        smallest="0.5",
        largest=WIDEST_M,
    ).open()
