"""Reporting a stripping: from where, to where, which wall; the last answer states it.

Anyone may: it only makes entry stricter, until new support over the stretch is accepted.
"""

from decimal import Decimal
from functools import partial
from typing import Any

from fieldapp.ui.figures import metres
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.stripping import report_stripped
from schemas.bodies.event import Stripped
from schemas.standard import Zone

ZONES: tuple[tuple[tuple[Zone, ...], str], ...] = (
    (("left wall",), _("Left wall")),
    (("right wall",), _("Right wall")),
    (("left wall", "right wall"), _("Both walls")),
    (("left shoulder", "back", "right shoulder"), _("Back")),
    ((), _("All around")),
)


class Stripping:
    """One report on its way. Nothing is stated before it is known where, and what."""

    def __init__(self, shell: Any, heading_id: str, name: str, face_m: Decimal) -> None:
        self._shell = shell
        self._heading_id = heading_id
        self._name = name
        self._face_m = face_m

    def ask(self) -> None:
        """Ask where it begins."""
        self._shell.ask_number(
            _("Stripped in {heading}: from which chainage, outbye?").format(heading=self._name),
            lambda typed: self._ask_to(Decimal(typed)),
            unit="m",
            limit=_("the face is at {face}").format(face=self._metres(self._face_m)),
            largest=str(self._face_m - Decimal("0.1")),
        )

    def _ask_to(self, from_m: Decimal) -> None:
        self._shell.ask_number(
            _("Stripped from {begin}: to which chainage, inbye?").format(
                begin=self._metres(from_m)
            ),
            lambda typed: self._ask_zone(from_m, Decimal(typed)),
            unit="m",
            limit=_("as far as the face at {face}").format(face=self._metres(self._face_m)),
            smallest=str(from_m + Decimal("0.1")),
            largest=str(self._face_m),
        )

    def _ask_zone(self, from_m: Decimal, to_m: Decimal) -> None:
        sheet = KeySheet(
            _("Stripped from {begin} to {end}: what?").format(
                begin=self._metres(from_m), end=self._metres(to_m)
            ),
            _("Nobody goes there until new support over it is accepted."),
        )
        for zones, name in ZONES:
            sheet.offer(name, partial(self._state, from_m, Stripped(to_m=to_m, zones=zones)))
        sheet.open()

    def _state(self, from_m: Decimal, stripped: Stripped) -> None:
        shell = self._shell
        job = partial(
            report_stripped, shell.site, self._heading_id, from_m, stripped, shell.session
        )
        shell.do(job, then=lambda _event: shell.open("entry", heading_id=self._heading_id))

    def _metres(self, value_m: Decimal) -> str:
        return metres(value_m, self._shell.site.settings.units)
