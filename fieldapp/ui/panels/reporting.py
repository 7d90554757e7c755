"""Reporting an event in a heading: what it was, where it was, and that states it.

Anyone may: an event only makes entry stricter.
"""

from decimal import Decimal
from functools import partial
from typing import Any

from fieldapp.ui.figures import line, metres
from fieldapp.ui.names import short
from fieldapp.ui.panels.over_old import OverOldSupport
from fieldapp.ui.panels.stripping import Stripping
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.entry import entry
from fieldapp.work.events import report_event
from fieldapp.work.headings import heading
from schemas.standard import EventWhat

EVENTS: tuple[tuple[EventWhat, str], ...] = (
    ("fired", _("Fired")),
    ("seismic", _("Seismic")),
    ("nearby blast", _("Nearby blast")),
    ("fall of ground", _("Fall of ground")),
    ("vehicle strike", _("Vehicle strike")),
    ("water change", _("Water change")),
)
LONGEST_ROUND_M = "12"
"""More than any round advances: a slip of the finger, not a reading."""
LONGEST_HEADING_M = "99999"


class Reporting:
    """One report on its way. Nothing is stated before it is known what and where."""

    def __init__(self, shell: Any, heading_id: str) -> None:
        self._shell = shell
        self._heading_id = heading_id
        self._name = ""
        self._face_m = Decimal(0)
        self._line_m = Decimal(0)

    def ask(self) -> None:
        """Look where the face is, then ask what happened."""
        self._shell.do(self._look, then=self._ask_what)

    def _look(self) -> None:
        site = self._shell.site
        self._name = short(heading(site, self._heading_id).body.name)
        state = entry(site, self._heading_id, self._shell.now())
        self._face_m, self._line_m = state.face_m, state.line_m

    def _ask_what(self, _looked: None) -> None:
        sheet = KeySheet(
            _("What happened in {heading}?").format(heading=self._name),
            _("Around an event entry is withdrawn at once, until somebody has inspected."),
        )
        for what, name in EVENTS:
            sheet.offer(name, partial(self._ask_where, what, name))
        stripping = Stripping(self._shell, self._heading_id, self._name, self._face_m)
        sheet.offer(_("Stripped"), stripping.ask, _("with its support"))
        over_old = OverOldSupport(self._shell, self._heading_id, self._name, self._line_m)
        sheet.offer(_("New support"), over_old.ask, _("over old"))
        sheet.offer(_("Damage"), self._to_damage, _("to support that stands"))
        sheet.offer(_("Bolt tests"), self._to_tests, _("due, made, record one"))
        sheet.offer(_("Condition walk"), self._to_walk, _("of old support"))
        sheet.open()

    def _to_damage(self) -> None:
        self._shell.open("damage", heading_id=self._heading_id)

    def _to_tests(self) -> None:
        self._shell.open("bolt_tests", heading_id=self._heading_id)

    def _to_walk(self) -> None:
        self._shell.open("condition_walk", heading_id=self._heading_id)

    def _ask_where(self, what: EventWhat, name: str) -> None:
        if what == "fired":
            self._ask_metres_fired()
            return
        sheet = KeySheet(_("{event} in {heading}: where?").format(event=name, heading=self._name))
        at_face = partial(self._state, what, self._face_m)
        sheet.offer(_("At the face"), at_face, self._metres(self._face_m))
        units = self._shell.site.settings.units
        at_line = partial(self._state, what, self._line_m)
        sheet.offer(_("At the entry line"), at_line, line(self._line_m, units))
        sheet.offer(_("Another place"), partial(self._ask_chainage, what, name), _("by chainage"))
        sheet.open()

    def _ask_metres_fired(self) -> None:
        self._shell.ask_number(
            _("Fired in {heading}: how far did it advance?").format(heading=self._name),
            self._state_fired,
            unit="m",
            limit=_("the face was at {face}").format(face=self._metres(self._face_m)),
            smallest="0.1",
            largest=LONGEST_ROUND_M,
            done=_("Fired"),
        )

    def _ask_chainage(self, what: EventWhat, name: str) -> None:
        self._shell.ask_number(
            _("{event} in {heading}: at which chainage?").format(event=name, heading=self._name),
            lambda typed: self._state(what, Decimal(typed)),
            unit="m",
            limit=_("the face is at {face}").format(face=self._metres(self._face_m)),
            largest=LONGEST_HEADING_M,
        )

    def _state_fired(self, typed: str) -> None:
        self._state("fired", self._face_m, Decimal(typed))

    def _state(self, what: EventWhat, at_m: Decimal, fired_m: Decimal | None = None) -> None:
        shell = self._shell
        job = partial(report_event, shell.site, self._heading_id, what, at_m, shell.session)
        shell.do(
            lambda: job(fired_m=fired_m),
            then=lambda _event: shell.open("entry", heading_id=self._heading_id),
        )

    def _metres(self, value_m: Decimal) -> str:
        return metres(value_m, self._shell.site.settings.units)
