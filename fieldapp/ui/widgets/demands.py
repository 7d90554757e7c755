"""What a standard demands, line by line: the demand, what a breach means, and why."""

from math import ceil

from kivy.properties import BooleanProperty, NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.assess.standard_words import Line
from fieldapp.report.marks import VERDICT_MARKS
from fieldapp.ui import theme
from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.standard_pages import Block, Page
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.words import Words, wrapped_height

__all__ = ["DemandBlock", "DemandPage", "DemandRow", "Mark", "Words"]

WIDE_MM = 130
MARK_MM, GAP_MM = 5, 1.5
DEMANDED, DEMANDED_ALONE = 1.25, 2.6
"""Width of the demand beside what stands to its right, with a breach and without one."""
BREACH, BECAUSE = 1.4, 1.0
"""Shares of what stands beside, as in the look."""

BLOCK_SIDES = 2 * theme.GAP
BLOCK_HEAD = theme.LINE_HEIGHT + 2 * theme.mm(1) + theme.GAP
ROW_GAP = theme.mm(1)


class DemandRow(PairedWidget, BoxLayout):
    """One line. Its height is the text's, at the width it is given."""

    demanded = StringProperty()
    breach = StringProperty()
    because = StringProperty()
    verdict = StringProperty()
    share = NumericProperty(1)
    wide = BooleanProperty(True)

    def __init__(self, line: Line, width: float) -> None:
        super().__init__()
        self.demanded, self.breach, self.because = line.demanded, line.breach, line.because
        self.verdict = verdict_of(line)
        self.wide = width > theme.mm(WIDE_MM)
        self.share = _share(line) if self.wide else 1
        self.height = height_of(line, width)


class DemandBlock(PairedWidget, BoxLayout):
    """Lines of one subject under its title."""

    title = StringProperty()

    def __init__(self, block: Block, width: float) -> None:
        super().__init__()
        self.title = _("{title}, going on").format(title=block.title)
        if not block.goes_on:
            self.title = block.title
        for line in block.lines:
            self.add_widget(DemandRow(line, width - BLOCK_SIDES))


class DemandPage(PairedWidget, BoxLayout):
    """One page of blocks."""

    def __init__(self, page: Page, width: float) -> None:
        super().__init__()
        for block in page:
            self.add_widget(DemandBlock(block, width))


def verdict_of(line: Line) -> str:
    """Give the verdict whose mark stands before a breach, where the breach names one."""
    return next((known for known in VERDICT_MARKS if line.breach.startswith(known)), "")


def height_of(line: Line, width: float) -> int:
    """Measure a line, in pixels, at the width of its row."""
    if width > theme.mm(WIDE_MM):
        part = (width - theme.GAP) / (_share(line) + 1)
        return max(_text(line.demanded, part * _share(line)), _beside(line, part))
    return _text(line.demanded, width) + _beside(line, width)


def _share(line: Line) -> float:
    return DEMANDED if line.breach else DEMANDED_ALONE


def _beside(line: Line, width: float) -> int:
    """Measure what stands beside the demand, or under it on a narrow screen."""
    if not line.breach:
        return _text(line.because, width * BECAUSE / (BECAUSE + 0.001))
    mark = theme.mm(MARK_MM) if verdict_of(line) else 0
    share = (width - mark - 2 * theme.mm(GAP_MM)) / (BREACH + BECAUSE)
    texts = _text(line.breach, share * BREACH), _text(line.because, share * BECAUSE)
    return max(mark, *texts)


def _text(text: str, width: float) -> int:
    if not text:
        return 0
    kind = (theme.font_for(text), False)
    return ceil(wrapped_height(text, kind, theme.SMALL_TEXT, int(width)))
