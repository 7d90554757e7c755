"""One finding in the list beside the map."""

from kivy.properties import AliasProperty, ObjectProperty, StringProperty

from fieldapp.report.words.findings import in_signs
from fieldapp.ui import theme
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.touchable import Touchable
from fieldapp.ui.widgets.words import Words, extent

__all__ = ["FindingRow", "Mark", "Words"]

BESIDE_WORDS = 2 * theme.PADDING + theme.MARK + 2 * theme.GAP + theme.mm(1)


class FindingRow(Touchable):
    """Mark, check and verdict above; what was measured, and the limit, below.

    In a list too narrow for both, the check's title stays and the verdict is left to its mark:
    the shapes differ, and the screen's headline has the word. Where nothing was measured the
    verdict stands in its place, once.
    """

    verdict = StringProperty()
    title = StringProperty()
    measured = StringProperty()
    limit = StringProperty()
    finding = ObjectProperty(None, allownone=True)

    def _word(self) -> str:
        verdict = _(self.verdict)
        if verdict == self.measured:
            return ""
        asked = (theme.font_for(self.title), False), theme.SMALL_TEXT
        needed = sum(extent(text, *asked)[0] for text in (self.title, verdict))
        return verdict if needed + BESIDE_WORDS <= self.width else ""

    word = AliasProperty(_word, bind=["title", "verdict", "measured", "width"])

    def _bound(self) -> str:
        font = theme.font_for(self.limit)
        needed = extent(self.measured, (font, True), theme.TITLE_TEXT)[0]
        needed += extent(self.limit, (font, False), theme.SMALL_TEXT)[0]
        return self.limit if needed + BESIDE_WORDS <= self.width else in_signs(self.limit)

    bound = AliasProperty(_bound, bind=["limit", "measured", "width"])
    """The limit in words, or in signs where the list is too narrow for them."""
