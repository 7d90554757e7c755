"""What every screen does on which one thing is recorded touch by touch, before it is kept."""

from collections.abc import Callable
from typing import Any

from fieldapp.ui.translate import _
from fieldapp.ui.typing_answers import ask_other
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.asked import Asked
from fieldapp.work.said_touches import SaidTouch


class TouchByTouch:
    """Mixed into the screen of a draft: a touch is on the disk before the next is taken.

    `page` is what stands on the screen, and `page.work` the draft. What a touch does to it is
    said by the screen: `_touched`, `_undone`, `_let_go`, and `_page_of` and `_take` to show it.
    """

    shell: Any
    page: Any
    heading_id: Any
    busy: Any

    def other_value(self, question: Asked) -> None:
        """Ask for a value that stands on no chip."""
        ask_other(self.shell, question, self._say)

    def undo(self) -> None:
        """Take the last touch back."""
        self._send(lambda page: self._undone(page.work))

    def discard(self) -> None:
        """Ask whether what was begun is to go."""
        sheet = KeySheet(_("Discard what was entered here?"), _("Nothing of it counted yet."))
        sheet.offer(_("Discard it"), self._discard, role="grave")
        sheet.open()

    def no_entry(self) -> None:
        """State no entry at once; the next touch confirms."""
        self.shell.no_entry(heading_id=self.heading_id)

    # --- what the screen says of its draft ----------------------------------------------------

    def _touched(self, work: Any, touch: SaidTouch) -> Any:
        raise NotImplementedError

    def _undone(self, work: Any) -> Any:
        raise NotImplementedError

    def _let_go(self, work: Any) -> None:
        raise NotImplementedError

    def _page_of(self, work: Any) -> Any:
        raise NotImplementedError

    def _take(self, page: Any) -> None:
        raise NotImplementedError

    # --- inside -------------------------------------------------------------------------------

    @property
    def _by(self) -> str | None:
        session = self.shell.session
        return session.person_id if session else None

    def _say(self, says: dict[str, Any]) -> None:
        touch = SaidTouch(at=self.shell.now(), by=self._by, says=says)
        self._send(lambda page: self._touched(page.work, touch))

    def _send(self, step: Callable[[Any], Any]) -> None:
        page = self.page
        if self.busy or page is None:
            return
        self.busy = True

        def job() -> Any:
            return self._page_of(step(page))

        self.shell.do(job, then=self._take, otherwise=self._not_kept)

    def _not_kept(self) -> None:
        self.busy = False

    def _discard(self) -> None:
        page, shell = self.page, self.shell
        if page is not None:
            shell.do(lambda: self._let_go(page.work), then=lambda _done: shell.go_back())
