"""A batch in doubt: every round that used it, and the engineer's decision."""

from functools import partial
from typing import Any

from fieldapp.report.batch_told import used_in
from fieldapp.ui.panels.letters_panel import TypingPanel
from fieldapp.ui.panels.lines_panel import Line, LinesPanel
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.batches import EngineersDecision, decide_batch
from fieldapp.work.site import Site

REASONS: dict[EngineersDecision, tuple[str, ...]] = {
    "cleared": (_("set and pull tests passed"), _("the label was read wrongly")),
    "kept": (_("a test failed"), _("tests are still to be made"), _("past its day")),
}
LONGEST_REASON = 200


class BatchDeciding:
    """Shows where a batch was used; an engineer clears it or keeps it in doubt, and says why."""

    def __init__(self, shell: Any, label: str) -> None:
        self._shell, self._label = shell, label

    def show(self) -> None:
        """List the rounds, the newest first, and what the engineer may say."""
        job = partial(round_lines, self._shell.site, self._label)
        self._shell.do(job, then=self._show)

    def _show(self, rounds: tuple[Line, ...]) -> None:
        session = self._shell.session
        acts = (
            Line(_("Clear it"), _("nothing is wrong with it"), partial(self._ask, "cleared")),
            Line(_("Keep it in doubt"), _("and say why"), partial(self._ask, "kept")),
        )
        may = session is not None and session.has("geotechnical engineer")
        note = _("It closes no heading by itself: an engineer decides.")
        title = _("Batch {label} in doubt").format(label=self._label)
        LinesPanel(title, note, [*(acts if may else ()), *rounds]).open()

    def _ask(self, decision: EngineersDecision) -> None:
        sheet = KeySheet(_("Why?"), self._label, holds_sentences=True)
        for reason in REASONS[decision]:
            sheet.offer(reason, partial(self._decide, decision, reason))
        sheet.offer(_("Other words"), partial(self._ask_words, decision))
        sheet.open()

    def _ask_words(self, decision: EngineersDecision) -> None:
        TypingPanel(_("Why?"), partial(self._decide, decision), longest=LONGEST_REASON).open()

    def _decide(self, decision: EngineersDecision, reason: str) -> None:
        shell = self._shell

        def job() -> None:
            decide_batch(shell.site, self._label, shell.session, decision=decision, reason=reason)

        shell.do(job, then=lambda _done: shell.refresh())


def round_lines(site: Site, label: str) -> tuple[Line, ...]:
    """Give a line for each round that used a batch, with its place and day."""
    return tuple(
        Line(f"{it.heading}, {_(it.round)}", f"{it.place} · {it.at}")
        for it in used_in(site, label)
    )
