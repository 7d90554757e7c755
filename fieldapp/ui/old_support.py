"""What a technician and a rehab crew come for: everything about support that stands already."""

from collections.abc import Sequence
from functools import partial
from typing import Any

from fieldapp.ui.panels.heading_panel import HeadingPanel
from fieldapp.ui.report_work import ask_report
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet


def ask_old_support(shell: Any, lines: Sequence[Any]) -> None:
    """Ask which of it; a walk goes along one of the board's lines."""
    sheet = KeySheet(_("Old support"), _("Look at it, test it, repair it, and see how it goes."))
    walk = partial(_ask_where, shell, lines)
    sheet.offer(_("Condition walk"), walk, _("section by section"))
    rehab, tests, trends = (
        partial(shell.open, name) for name in ("rehab_list", "bolt_tests", "trends")
    )
    sheet.offer(_("Rehab list"), rehab, _("what is repaired first"))
    sheet.offer(_("Bolt tests"), tests, _("due, made, record one"))
    sheet.offer(_("Trends"), trends, _("over the months"))
    sheet.offer(_("Reports"), partial(ask_report, shell), _("as PDF"))
    sheet.open()


def _ask_where(shell: Any, lines: Sequence[Any]) -> None:
    title = _("Condition walk: in which heading?")
    walk = partial(shell.open, "condition_walk")
    HeadingPanel(title, lines, lambda line: walk(heading_id=line.heading_id)).open()
