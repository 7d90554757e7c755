"""What can be said of a notice that stands: who is inbye, the barrier, why; and lifting it."""

from collections.abc import Callable
from functools import partial
from typing import Any

from kivy.properties import BooleanProperty, ObjectProperty, StringProperty

from fieldapp.ui.entry_words import Stated
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.hold_key import HoldKey
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.work.known import Known
from fieldapp.work.notices import answer, lift
from schemas.bodies.entry_notice import EntryNotice

__all__ = ["CautionLine", "HoldKey", "Key", "KeyRow", "NoticePanel"]

WHY = (
    _("loose rock"),
    _("noise in the ground"),
    _("support damaged"),
    _("water"),
    _("misfire"),
    _("fall of ground"),
    _("bad air"),
    _("work in progress"),
)


class NoticePanel(Sheet):
    """One notice: answers are kept at once; lifting it is held, and says the barrier is down."""

    shell: Any = ObjectProperty()
    stated: Stated = ObjectProperty()
    closes = BooleanProperty(True)
    """A restriction keeps nobody out of everything: there is no barrier to ask for."""
    inbye = StringProperty()
    barrier_up = BooleanProperty(False)

    def __init__(self, shell: Any, stated: Stated) -> None:
        assert stated.notice is not None  # noqa: S101 - only notices come here
        super().__init__(shell=shell, stated=stated, title=stated.title, note=stated.detail)
        self._notice = stated.notice
        self._tell(stated.notice.body)

    def say_inbye(self, *, anyone: bool) -> None:
        """State whether anyone is inbye."""
        self._state(partial(answer, anyone_inbye=anyone))

    def say_barrier_up(self) -> None:
        """State that the barrier is up."""
        self._state(partial(answer, barrier_up=True))

    def ask_why(self) -> None:
        """Ask for the reason, in phrases."""
        self.close()
        sheet = KeySheet(_("Why?"), self.stated.title)
        for why in WHY:
            sheet.offer(why, partial(self._state, partial(answer, reason=why)))
        sheet.open()

    def lift(self) -> None:
        """Lift it: the barrier is down."""
        self._state(partial(lift, barrier_down=True))

    def _state(self, said: Callable[..., Known[EntryNotice]]) -> None:
        self.close()
        shell, notice_id = self.shell, self._notice.id
        job = partial(said, shell.site, notice_id, shell.session)
        shell.do(job, then=lambda _known: shell.refresh())

    def _tell(self, body: EntryNotice) -> None:
        self.inbye = {None: "", True: "yes", False: "no"}[body.anyone_inbye]
        self.barrier_up = body.what == "barrier up"
        self.closes = body.what != "restricted"
