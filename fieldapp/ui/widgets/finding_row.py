"""One finding in the list beside the map."""

from kivy.properties import StringProperty

from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.touchable import Touchable
from fieldapp.ui.widgets.words import Words

__all__ = ["FindingRow", "Mark", "Words"]


class FindingRow(Touchable):
    """Mark, check and verdict above; what was measured, and the limit, below."""

    verdict = StringProperty()
    title = StringProperty()
    measured = StringProperty()
    limit = StringProperty()
