"""Ways from what a point of a trend stands on to where it can be seen."""

from collections.abc import Callable
from decimal import Decimal
from functools import partial
from typing import Any, Final

from fieldapp.report.words.lengths import places_in_units
from fieldapp.ui.panels.lines_panel import Line, LinesPanel
from fieldapp.ui.panels.round_panel import RoundPanel, round_shown
from fieldapp.ui.section_looks import LookShown, SectionShown, section_shown
from fieldapp.ui.translate import _
from fieldapp.work.trends import Evidence

KINDS: Final = {
    "round": _("the round as it was signed"),
    "event": _("the heading's entry"),
    "damage": _("the rehab list"),
    "walk": _("every look at the section"),
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
            "walk": self._walk,
            "bolt_test": self._bolt_test,
        }

    def line(self, evidence: Evidence) -> Line:
        """Name what a point stands on, and lead to it."""
        words = _(places_in_units(evidence.words, self._shell.site.settings.units))
        return Line(words, KINDS[evidence.kind], partial(self._ways[evidence.kind], evidence))

    def _round(self, evidence: Evidence) -> None:
        shell = self._shell
        job = partial(round_shown, shell.site, evidence.id)
        shell.do(job, then=lambda shown: RoundPanel(shown).open(), lane="long")

    def _walk(self, evidence: Evidence) -> None:
        shell, at_m = self._shell, evidence.chainage_m or Decimal(0)
        job = partial(section_shown, shell.site, evidence.heading_id, at_m, evidence.id)
        shell.do(job, then=_show_section, lane="long")

    def _bolt_test(self, evidence: Evidence) -> None:
        self._shell.open("bolt_tests", heading_id=evidence.heading_id, test_id=evidence.id)

    def _entry(self, evidence: Evidence) -> None:
        self._shell.open("entry", heading_id=evidence.heading_id, returns=True)

    def _damage(self, evidence: Evidence) -> None:
        self._shell.open("rehab_list", damage_id=evidence.id, returns=True)


def _show_section(shown: SectionShown) -> None:
    lines = [Line(it.day, it.detail, partial(_show_look, shown, it)) for it in shown.looks]
    LinesPanel(
        shown.title, _("The look of this point, then every other, the newest first."), lines
    ).open()


def _show_look(shown: SectionShown, look: LookShown) -> None:
    LinesPanel(shown.title, look.day, [Line("", it) for it in look.lines]).open()
