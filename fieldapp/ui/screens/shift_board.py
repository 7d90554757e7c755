"""The Shift board: every heading of the shift, how far people may go, and what waits."""

from collections.abc import Callable
from functools import partial
from typing import Any

from kivy.properties import BooleanProperty, ListProperty, ObjectProperty, StringProperty

from fieldapp.ui.board_words import Board, BoardLine, board_now
from fieldapp.ui.looking import BEING_WORKED_OUT, Looking
from fieldapp.ui.looking_into import LookingInto, beyond_words
from fieldapp.ui.old_support import ask_old_support
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.panels.heading_panel import HeadingPanel
from fieldapp.ui.panels.reporting import Reporting
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.heading_row import HeadingRow, HeadingTitles
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.stated_row import StatedRow
from fieldapp.work.rounds import look_again

__all__ = ["Header", "Key", "KeyRow", "PagedList", "ShiftBoardScreen", "StatedRow"]


class ShiftBoardScreen(PairedScreen):
    """Headings as rows of two cards: the first leads to its entry, the second to its round."""

    board: Board | None = ObjectProperty(None, allownone=True)
    lines = ListProperty()
    subtitle = StringProperty()
    nothing = StringProperty(BEING_WORKED_OUT)
    awaits = BooleanProperty(False)
    """Whether somebody came here since what is shown was looked at."""
    not_whole = StringProperty()
    beyond = StringProperty()
    """That somebody went beyond a last row, and where; nothing where it was looked into."""
    old_trust = StringProperty()
    """What to do where something is missing or was altered; nothing while all is there."""
    main_title = StringProperty(_("Start a round"))
    main_second = StringProperty()
    head: Any = ObjectProperty(None, allownone=True)
    make_row: Any = ObjectProperty(None, allownone=True)
    fill_row: Any = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._looking = Looking(self.shell, self._look, self._show)
        self.head = HeadingTitles()
        self.fill_row = self._fill
        self.make_row = self._make_row

    def opened(self) -> None:
        """Look at every heading anew."""
        self.awaited()
        self.refreshed()

    def awaited(self) -> None:
        """Say that what is shown may not hold any more."""
        self._looking.expect()
        self.awaits = True

    def refreshed(self) -> None:
        """Look at every heading anew: a permission may have ended meanwhile."""
        self._looking.again()

    # --- where a touch leads --------------------------------------------------------------------

    def go_on(self) -> None:
        """Go to the round that most likely comes next, or ask for a heading."""
        line = self.board.next_line if self.board else None
        if line is not None:
            self.to_round(line)
        else:
            HeadingPanel(_("Start a round: where?"), self.lines, self.to_round).open()

    def to_entry(self, line: BoardLine) -> None:
        """Show where people may go in a heading, and why."""
        self.shell.open("entry", heading_id=line.heading_id)

    def to_round(self, line: BoardLine) -> None:
        """Go on with a heading's round, begin it, or look at it again."""
        if line.waits.what == "nothing":
            self._ask_what_to_do(line)
        elif line.waits.what == "look again" and line.in_dispute:
            self._ask_about_dispute(line)
        elif line.waits.what == "look again":
            self._look_again(line)
        else:
            self._to_round(line)

    def report(self) -> None:
        """Report an event or damage: first where."""
        HeadingPanel(_("Report: in which heading?"), self.lines, self._report_in).open()

    def old_support(self) -> None:
        """Ask what is to be done about support that stands already."""
        ask_old_support(self.shell, self.lines)

    def tell_not_whole(self) -> None:
        """Tell what is missing or was altered, and offer to put back what can be."""
        if self.board is None or not self.board.not_whole:
            return
        first, *others = self.board.not_whole
        for trouble in others:
            self.shell.say(trouble)
        again = self._put_back if self.board.can_be_put_back else None
        self.shell.say(first, again, _("Put back"))

    def look_into_beyond(self) -> None:
        """Show why people had to go beyond a last row, and take what was found."""
        LookingInto(self.shell, self.lines, self.refreshed).ask()

    # --- inside ---------------------------------------------------------------------------------

    def _look(self) -> Callable[[], Board]:
        return partial(board_now, self.shell.site, self.shell.now())

    def _put_back(self) -> None:
        job = self.shell.site.store.wholeness.put_back
        self.shell.do(job, then=lambda _lacking: self.refreshed(), lane="long")

    def _show(self, board: Board) -> None:
        self.board, self.awaits = board, not self._looking.is_last
        self.not_whole = _("Ask in the heading itself: touch here") if board.not_whole else ""
        self.old_trust = _("What to do: touch here") if board.trust_is_old else ""
        self.lines = board.lines
        self.subtitle = board.shift
        self.beyond = beyond_words(board.lines)
        metric = self.shell.site.settings.units == "metres"
        self.head.face = _("Face, m") if metric else _("Face")
        self.nothing = _("No heading is entered yet: the records keeper adds them.")
        line = board.next_line
        self.main_title = line.act if line else _("Start a round")
        self.main_second = line.name if line else ""

    def _make_row(self, line: BoardLine) -> HeadingRow:
        row = HeadingRow()
        row.bind(on_to_entry=lambda row: self.to_entry(row.item))
        row.bind(on_to_round=lambda row: self.to_round(row.item))
        self._fill(row, line)
        return row

    def _fill(self, row: HeadingRow, line: BoardLine) -> None:
        row.heading, row.entry, row.beyond = line.name, line.entry, line.beyond
        row.verdict, row.last_round, row.reason = line.verdict, line.last_round, line.reason
        row.face, row.act = line.face, line.act

    def _ask_what_to_do(self, line: BoardLine) -> None:
        sheet = KeySheet(
            _("Nothing waits in {heading}").format(heading=line.name),
            _("Its last round is accepted. Report the firing first, when there was one."),
        )
        sheet.offer(_("Report"), partial(self._report_in, line), _("fired, damage"))
        number = _("round {number}").format(number=line.waits.number)
        sheet.offer(_("Begin the next round"), partial(self._to_round, line), number)
        sheet.offer(_("Entry"), partial(self.to_entry, line))
        sheet.open()

    def _ask_about_dispute(self, line: BoardLine) -> None:
        """Lead to both sides of what two people stated, before anybody states a third."""
        title = _("{heading}: stated differently by two people").format(heading=line.name)
        sheet = KeySheet(title, _("The stricter entry stands until a person settles it."))
        both = partial(self.shell.open, "share_folder")
        sheet.offer(_("Both sides"), both, _("on Share folder, Settle"), role="main")
        sheet.offer(_("Look again"), partial(self._look_again, line))
        sheet.offer(_("Entry"), partial(self.to_entry, line))
        sheet.open()

    def _look_again(self, line: BoardLine) -> None:
        shell, round_id = self.shell, line.waits.round_id
        job = partial(look_again, shell.site, round_id, shell.session)
        shell.do(job, then=lambda _work: self._to_round(line))

    def _to_round(self, line: BoardLine) -> None:
        self.shell.open("round", heading_id=line.heading_id)

    def _report_in(self, line: BoardLine) -> None:
        Reporting(self.shell, line.heading_id).ask()
