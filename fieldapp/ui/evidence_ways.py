"""Ways from what a point of a trend stands on to where it can be seen."""

from collections.abc import Callable
from functools import partial
from typing import Any, Final

from fieldapp.report.lengths import in_units
from fieldapp.ui.panels.lines_panel import Line
from fieldapp.ui.panels.round_panel import RoundPanel, round_shown
from fieldapp.ui.translate import _
from fieldapp.work.trends import Evidence

KINDS: Final = {
    "round": _("the round as it was signed"),
    "event": _("the heading's entry"),
    "damage": _("the rehab list"),
    "walk": _("what was seen there"),
    "bolt_test": _("the list of bolt tests"),
}


class EvidenceWays:
    """Opens a round, damage, a walk or an event, each where it is shown."""

    def __init__(self, shell: Any) -> None:
        self._shell = shell
        self._ways: dict[str, Callable[[Evidence], None]] = {
            "round": self._round,
            "event": self._entry,
            "damage": self._damage,
            "bolt_test": self._bolt_test,
        }

    def line(self, evidence: Evidence) -> Line:
        """Name what a point stands on, and lead to it."""
        way = self._ways.get(evidence.kind)
        then = partial(way, evidence) if way is not None else None
        words = _(in_units(evidence.words, self._shell.site.settings.units))
        return Line(words, KINDS.get(evidence.kind, ""), then)

    def _round(self, evidence: Evidence) -> None:
        shell = self._shell
        job = partial(round_shown, shell.site, evidence.id)
        shell.do(job, then=lambda shown: RoundPanel(shown).open(), lane="long")

    def _bolt_test(self, evidence: Evidence) -> None:
        self._shell.open("bolt_tests", heading_id=evidence.heading_id, test_id=evidence.id)

    def _entry(self, evidence: Evidence) -> None:
        self._shell.open("entry", heading_id=evidence.heading_id)

    def _damage(self, evidence: Evidence) -> None:
        self._shell.open("rehab_list", damage_id=evidence.id)
