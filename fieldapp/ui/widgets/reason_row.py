"""One finding with its reason: measured, limit, clause, place. The reason stands with it."""

from kivy.properties import ListProperty, ObjectProperty, StringProperty

from fieldapp.report.words.findings import measured, places, verdict_words
from fieldapp.report.words.lengths import Units, finding_in, limit_words
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.fitting_words import FittingWords
from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.touchable import Touchable
from fieldapp.ui.widgets.words import Words
from schemas.findings import Finding

__all__ = ["FittingWords", "Mark", "ReasonRow", "Words"]


class ReasonRow(Touchable):
    """A finding on the Review screen; touched, the map goes there."""

    finding = ObjectProperty(None, allownone=True)
    verdict = StringProperty()
    title = StringProperty()
    measured = StringProperty()
    limit = StringProperty()
    clause = StringProperty()
    says = StringProperty()
    where = ListProperty()
    """Ways to say where, the longest first."""

    def tell(self, finding: Finding, units: Units) -> None:
        """Show a finding."""
        self.finding = finding
        self.verdict = finding.verdict.value
        self.title = _(finding.title)
        self.measured = _(measured(finding_in(finding, units)))
        self.limit = _(limit_words(finding, units)) if finding.measured else ""
        self.clause = finding.because
        self.says = _(verdict_words(finding))
        told = finding_in(finding, units)
        self.where = [_(places(told, 1) or told.how), *_rows(finding)]


def _rows(finding: Finding) -> list[str]:
    rows = sorted({place.row for place in finding.places if place.row is not None})
    if not rows:
        return []
    names = ", ".join(_("old") if row <= 0 else str(row) for row in rows)
    return [
        _("row {row}").format(row=names) if len(rows) == 1 else _("rows {rows}").format(rows=names)
    ]
