"""What came of a walk's drawn sample: which stratum, where its bolts or bays are, how many bad."""

from collections.abc import Callable, Sequence
from decimal import Decimal
from functools import partial
from typing import Any

from fieldapp.assess.walk import ToLookAt
from fieldapp.report.words.section import sample_lines
from fieldapp.ui.panels.lines_panel import Line, LinesPanel
from fieldapp.ui.translate import _
from schemas.bodies.walk import LookedAt


class WalkSample:
    """Asks step by step; `then` is told what is to be kept of a stratum.

    Those drawn and not looked at could not be reached, whatever the reason: they count as bad.
    """

    def __init__(
        self, shell: Any, drawn: Sequence[ToLookAt], then: Callable[[LookedAt], None]
    ) -> None:
        self._shell, self._drawn, self._then = shell, drawn, then

    def ask(self, told: Sequence[LookedAt]) -> None:
        """Show every stratum, with what was told of it so far."""
        title = _("Drawn to be looked at: touch one")
        note = _("It is drawn from all of the heading, and never excuses a bolt known to be bad.")
        known = {(it.of, it.stratum): it for it in told}
        lines = [self._line(it, known.get((it.rule.of, it.stratum))) for it in self._drawn]
        LinesPanel(title, note, lines or [Line(_("The standard draws nothing here."))]).open()

    def _line(self, sample: ToLookAt, told: LookedAt | None) -> Line:
        title = _("{stratum}: {n} of {m} {what}").format(
            stratum=sample.stratum, n=len(sample.spots), m=sample.there, what=_(sample.rule.of)
        )
        said = _("not told yet")
        if told is not None:
            said = _("{n} looked at, {bad} bad").format(n=told.looked_at, bad=told.bad)
        return Line(title, said, partial(self._show, sample))

    def _show(self, sample: ToLookAt) -> None:
        """Show where they are."""
        first, *spots = sample_lines(sample, self._shell.site.settings.units)
        tell = Line(
            _("Tell what came of it"), _("once they are looked at"), partial(self._ask, sample)
        )
        LinesPanel(sample.stratum, first, [tell, *(Line("", it) for it in spots)]).open()

    def _ask(self, sample: ToLookAt) -> None:
        drawn = len(sample.spots)
        self._shell.ask_number(
            _("How many of the {n} drawn were looked at?").format(n=drawn),
            partial(self._ask_bad, sample),
            unit=_(sample.rule.of),
            limit=_("those not reached count as bad"),
            largest=str(drawn),
            decimals=0,
        )

    def _ask_bad(self, sample: ToLookAt, looked_at: str) -> None:
        self._shell.ask_number(
            _("How many of those {n} are bad?").format(n=looked_at),
            partial(self._told, sample, int(Decimal(looked_at))),
            unit=_(sample.rule.of),
            limit=_("of those that were drawn"),
            largest=looked_at,
            decimals=0,
        )

    def _told(self, sample: ToLookAt, looked_at: int, bad: str) -> None:
        drawn = len(sample.spots)
        self._then(
            LookedAt(
                of=sample.rule.of,
                stratum=sample.stratum,
                there=sample.there,
                drawn=drawn,
                looked_at=looked_at,
                not_reached=drawn - looked_at,
                bad=int(Decimal(bad)),
            )
        )
