"""Asks what may be stated of the work of a round: a list, and keys or the pad for each line."""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from functools import partial

from fieldapp.ui.panels.lines_panel import Line, LinesPanel
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.pad_panel import PadPanel
from fieldapp.work.questions import Asker
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import AnyTouch
from fieldapp.work.work_figures import Answer, Figure, Typed, asked_first, work_figures


@dataclass(frozen=True)
class WorkFigures:
    """The panel *Work* at one moment of a round; what is stated goes to `keep`."""

    work: RoundWork
    asker: Asker
    keep: Callable[[AnyTouch], None]

    def open(self) -> None:
        """Show what was stated and what was not. Nothing of it has to be."""
        lines = [
            Line(_(it.ask), _(it.said) or _("not stated"), partial(self._ask, it))
            for it in work_figures(self.work, self.asker)
        ]
        note = _("By crew and method, never by name. None of it is needed to sign.")
        LinesPanel(_("Work"), note, lines).open()

    def _ask(self, figure: Figure) -> None:
        if not figure.answers and figure.typed is not None:
            self._type(figure, figure.typed)
            return
        sheet = KeySheet(_(figure.ask))
        for answer in figure.answers:
            sheet.offer(_(answer.label), partial(self._take, answer, figure))
        if figure.typed is not None:
            sheet.offer(
                _("Other…"), partial(self._type, figure, figure.typed), _(figure.typed.unit)
            )
        sheet.open()

    def _take(self, answer: Answer, figure: Figure) -> None:
        if answer.then is not None:
            self._ask(answer.then)
        elif answer.touch is not None:
            self._keep(answer.touch, figure)

    def _keep(self, touch: AnyTouch, figure: Figure) -> None:
        """Keep what was stated; first ask whether it was so, where it hardly can be."""
        asked = asked_first(self.work, touch, self.asker)
        if not asked:
            self.keep(touch)
            return
        said = "; ".join(map(_, asked))
        sheet = KeySheet(_("Was it so?"), f"{said}.", holds_sentences=True)
        sheet.offer(_("No, say it again"), partial(self._again, figure), role="main")
        sheet.offer(_("Yes, it was so"), partial(self.keep, touch))
        sheet.open()

    def _again(self, figure: Figure) -> None:
        """Ask for it anew, from its first question."""
        first = work_figures(self.work, self.asker)
        self._ask(next((it for it in first if it.ask == figure.ask), figure))

    def _type(self, figure: Figure, typed: Typed) -> None:
        PadPanel(
            lambda text: self._keep(typed.touch(Decimal(text)), figure),
            question=_(figure.ask),
            unit=typed.unit,
            decimals=typed.decimals,
            smallest=typed.smallest,
            largest=typed.largest,
        ).open()
