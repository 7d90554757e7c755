"""What a technician and a rehab crew come for: everything about support that stands already."""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from typing import Any

from fieldapp.ui.board_words import BoardLine
from fieldapp.ui.panels.heading_panel import HeadingPanel
from fieldapp.ui.report_work import ask_report
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.walk.draft import WalkWork, begun_walks


def ask_old_support(shell: Any, lines: Sequence[BoardLine]) -> None:
    """Ask which of it; a walk goes along one of the board's lines."""
    sheet = KeySheet(_("Old support"), _("Look at it, test it, repair it, and see how it goes."))
    walk = partial(_ask_where, shell, lines)
    sheet.offer(_("Condition walk"), walk, _("section by section"))
    rehab, tests, crossings, trends = (
        partial(shell.open, name)
        for name in ("rehab_list", "bolt_tests", "intersections", "trends")
    )
    sheet.offer(_("Rehab list"), rehab, _("what is repaired first"))
    sheet.offer(_("Bolt tests"), tests, _("due, made, record one"))
    sheet.offer(_("Intersections"), crossings, _("cables, bolts, breakaway"))
    sheet.offer(_("Trends"), trends, _("over the months"))
    sheet.offer(_("Reports"), partial(ask_report, shell), _("as PDF"))
    sheet.open()


def _ask_where(shell: Any, lines: Sequence[BoardLine]) -> None:
    begun = partial(begun_walks, shell.site)
    shell.do(begun, then=partial(_ask_heading, shell, lines))


def _ask_heading(shell: Any, lines: Sequence[BoardLine], begun: Sequence[WalkWork]) -> None:
    """Ask for a heading; where a walk was begun and not ended, its key says so."""
    title, waiting = _("Condition walk: in which heading?"), {it.about.heading_id for it in begun}
    told = [_begun(it) if it.heading_id in waiting else it for it in lines]
    walk = partial(shell.open, "condition_walk")
    HeadingPanel(title, told, lambda line: walk(heading_id=line.heading_id)).open()


def _begun(line: BoardLine) -> BoardLine:
    return replace(line, entry=_("walk begun, not ended: go on"))
