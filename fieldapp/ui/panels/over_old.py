"""New support over old: between which two old rows that stay; then its round opens."""

from decimal import Decimal
from functools import partial
from typing import Any

from fieldapp.ui.figures import line, metres
from fieldapp.ui.translate import _
from fieldapp.work.over_old import begin_over_old


class OverOldSupport:
    """One round of new support on its way. Nothing is begun before both ends are known."""

    def __init__(self, shell: Any, heading_id: str, name: str, line_m: Decimal) -> None:
        self._shell = shell
        self._heading_id = heading_id
        self._name = name
        self._line_m = line_m

    def ask(self) -> None:
        """Ask for the old row that stays outbye."""
        self._shell.ask_number(
            _("New support over old in {heading}: chainage of the last old row outbye?").format(
                heading=self._name
            ),
            lambda typed: self._ask_to(Decimal(typed)),
            unit="m",
            limit=_("it stays; the entry line is at {line}").format(
                line=line(self._line_m, self._shell.site.settings.units)
            ),
            largest="99999",
        )

    def _ask_to(self, from_m: Decimal) -> None:
        begin = metres(from_m, self._shell.site.settings.units)
        self._shell.ask_number(
            _("New support from {begin}: chainage of the first old row inbye?").format(
                begin=begin
            ),
            lambda typed: self._begin(from_m, Decimal(typed)),
            unit="m",
            limit=_("it stays; farther inbye than {begin}").format(begin=begin),
            smallest=str(from_m + Decimal("0.1")),
            largest="99999",
            done=_("Begin"),
        )

    def _begin(self, from_m: Decimal, to_m: Decimal) -> None:
        shell = self._shell
        job = partial(begin_over_old, shell.site, self._heading_id, from_m, to_m, shell.session)
        shell.do(job, then=lambda _work: shell.open("round", heading_id=self._heading_id))
