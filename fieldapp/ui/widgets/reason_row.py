"""One finding with its reason: measured, limit, clause, place. The reason stands with it."""

from kivy.properties import StringProperty

from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.touchable import Touchable
from fieldapp.ui.widgets.words import Words
from schemas.findings import Finding

__all__ = ["Mark", "ReasonRow", "Words"]


class ReasonRow(Touchable):
    """A finding on the Review screen; touched, the map goes there."""

    verdict = StringProperty()
    title = StringProperty()
    measured = StringProperty()
    limit = StringProperty()
    reason = StringProperty()
    place = StringProperty()

    def tell(self, finding: Finding) -> None:
        """Show a finding."""
        self.verdict = finding.verdict.value
        self.title = finding.title
        self.limit = finding.limit or ""
        self.reason = f"{finding.verdict} · {finding.because}"
        self.place = "; ".join(place.words for place in finding.places[:2]) or finding.how
        doubt = f" ± {finding.uncertainty}" if finding.uncertainty else ""
        measured = f"{finding.measured}{doubt} {finding.unit}" if finding.measured else ""
        self.measured = measured.strip()
