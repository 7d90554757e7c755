"""One step of a repair: what every step's questions need."""

from collections.abc import Callable
from decimal import Decimal
from functools import partial
from typing import Any

from fieldapp.ui.photo.photo_sheet import PhotoSheet
from fieldapp.ui.rehab_work import RehabLine
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet

LAPS = (1, 2, 3, 4)


class RepairStep:
    """Asks one thing after the other. Nothing is stated before the last answer."""

    def __init__(self, shell: Any, line: RehabLine) -> None:
        self._shell, self._line = shell, line

    @property
    def _rehab_id(self) -> str:
        return self._line.row.id

    def _ask_metres(
        self, question: str, then: Callable[[Decimal], None], limit: str, largest: str
    ) -> None:
        self._shell.ask_number(
            question, lambda typed: then(Decimal(typed)), unit="m", limit=limit, largest=largest
        )

    def _laps_sheet(self, then: Callable[[int], None]) -> KeySheet:
        """Ask for the least lap, in openings."""
        sheet = KeySheet(
            _("How far does new mesh lap sound old mesh?"), _("At the least place, in openings.")
        )
        for openings in LAPS:
            sheet.offer(str(openings), partial(then, openings))
        return sheet

    def _photos(self, then: Callable[[], None]) -> None:
        """Take photos of the work, and go on."""
        title, before = self._line.title, self._line.row.seen
        PhotoSheet(self._shell, self._rehab_id, title=title, then=then, shown_before=before).open()

    def _do(self, step: Callable[[], object]) -> None:
        self._shell.state(step)
