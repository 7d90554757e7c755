"""Joining a site: the tablet shows who it is, takes the office's answer, and somebody compares."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from kivy.properties import BooleanProperty, StringProperty

from fieldapp.ui.panels.folder_panel import FolderPanel
from fieldapp.ui.photo_waiting import PhotoWaiting
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.hold_key import HoldKey
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.square_code import SquareCode
from fieldapp.ui.widgets.words import Words
from fieldapp.work.enrol.joining import join, refuse_unfit, request
from fieldapp.work.enrol.pairing_papers import ANSWER_ENDINGS, answer_at, write_request
from schemas.check_number import check_number, in_groups

if TYPE_CHECKING:
    from fieldapp.work.site import Site
    from sync.pairing import PairingAnswer, PairingRequest

__all__ = ["HoldKey", "JoinPanel", "Key", "SquareCode", "Words"]


class JoinPanel(Sheet):
    """Shows this tablet's square code and check number until the office's answer is taken."""

    code = StringProperty()
    number = StringProperty()
    tablet = StringProperty()
    kept = StringProperty()
    wide = BooleanProperty(True)

    def __init__(self, shell: Any, then: Callable[[], None]) -> None:
        super().__init__(place="full", title=_("Join a site"))
        self._shell, self._then = shell, then
        self._waiting = PhotoWaiting(shell, self._read)

    def open(self) -> None:
        """Lay it over the screen, and make out by which key this tablet goes."""
        super().open()
        self._shell.do(partial(request, self._shell.site), then=self._show)

    def save(self) -> None:
        """Ask for a folder, such as a stick's, and write the request there."""
        FolderPanel(_("Where to? A stick, for the office"), Path.home(), self._save_in).open()

    def take(self) -> None:
        """Ask for the office's answer: photographed now, or a picture or file of it."""
        folder = self._shell.site.settings.camera_folder
        if folder is None:
            self._choose()
            return
        sheet = KeySheet(_("Take the office's answer"))
        sheet.offer(_("Photograph it"), partial(self._wait_for, folder), _("by the camera app"))
        sheet.offer(_("Choose a file"), self._choose, _("a picture, or from a stick"))
        sheet.open()

    def close(self) -> None:
        """Take it away, and wait for no photo any more."""
        self._waiting.stop()
        super().close()

    # --- inside -------------------------------------------------------------------------------

    def _choose(self) -> None:
        self._waiting.stop()
        FolderPanel(_("Where is the answer?"), Path.home(), self._read, ANSWER_ENDINGS).open()

    def _wait_for(self, folder: Path) -> None:
        self.kept = _("Take the photo now")
        self._waiting.begin(folder)

    def _show(self, asked: "PairingRequest") -> None:
        self.code = asked.content().decode()
        self.number = in_groups(check_number(asked.public_key))
        self.tablet = asked.tablet

    def _save_in(self, folder: Path) -> None:
        job = partial(write_request, self._shell.site, folder)
        self._shell.do(job, then=self._saved)

    def _saved(self, path: Path) -> None:
        self.kept = _("Written: {file}").format(file=path.name)

    def _read(self, path: Path) -> None:
        self.kept = ""
        self._shell.do(partial(_fit_answer, self._shell.site, path), then=self._compare)

    def _compare(self, answer: "PairingAnswer") -> None:
        ComparePanel(answer, partial(self._join, answer)).open()

    def _join(self, answer: "PairingAnswer") -> None:
        job = partial(join, self._shell.site, answer, check=check_number(answer.root_key))
        self._shell.do(job, then=self._joined)

    def _joined(self, site: "Site") -> None:
        self.close()
        self._shell.site = site
        self._then()


class ComparePanel(Sheet):
    """Has somebody compare the check number with the office's before anything is believed."""

    number = StringProperty()

    def __init__(self, answer: "PairingAnswer", then: Callable[[], None]) -> None:
        super().__init__(
            title=_("Does the office show this number?"),
            note=_(
                "The answer is from {mine}. If the number is another, it is not from there."
            ).format(mine=answer.mine),
        )
        self.number = in_groups(check_number(answer.root_key))
        self._then = then

    def same(self) -> None:
        """Believe this site from now on."""
        self.close()
        self._then()


def _fit_answer(site: "Site", path: Path) -> "PairingAnswer":
    answer = answer_at(path)
    refuse_unfit(site, answer)
    return answer
