"""After the sign-off: what was decided, where entry stands, the sheet, the handover."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from fieldapp.report.handover import handover
from fieldapp.report.printed import sheet_of, write_sheet
from fieldapp.ui import theme
from fieldapp.ui.round_work import spaced
from fieldapp.ui.shell import Shell
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.words import Words
from fieldapp.work.entry import entry
from fieldapp.work.sign import Signed

TITLES = {
    "accepted": _("Accepted and signed"),
    "sent back": _("Sent back and signed"),
    "barricaded": _("Barricaded and signed"),
}


@dataclass(frozen=True)
class Afterwards:
    """What the worker finds out after a sign-off."""

    line: str
    path: Path
    radio: tuple[str, ...]


class SignedSheet(Sheet):
    """A full screen that stays until somebody has read it."""

    def __init__(self, shell: Shell, heading_id: str, signed: Signed, at: datetime) -> None:
        decision = signed.sign_off.body.decision
        super().__init__(place="full", title=TITLES[decision], note=signed.sign_off.body.says)
        self._shell, self._heading_id, self._signed, self._at = shell, heading_id, signed, at
        self._line = Words(bold=True, asked=theme.TITLE_TEXT, tallest=theme.mm(9))
        self._radio = Words(asked=theme.BODY_TEXT, lines=14, valign="top")
        self._path = Words(quiet=True, asked=theme.SMALL_TEXT, lines=2, tallest=theme.mm(12))
        for words in (self._line, self._radio, self._path):
            words.padding = (theme.mm(4), 0, theme.mm(4), 0)
            self.add_widget(words)
        self.add_key(Key(title=_("No entry"), role="grave", tall=True, on_release=self._no_entry))
        self.add_key(Key(title=_("Shift board"), role="main", tall=True, on_release=self._leave))

    def open(self) -> None:
        """Lay it over the screen, and find out what follows from the sign-off."""
        super().open()
        site, round_id = self._shell.site, self._signed.sign_off.body.round

        def job() -> Afterwards:
            state = entry(site, self._heading_id, site.now())
            line = _("Entry to {line} m: {state}").format(
                line=spaced(state.line_m), state=state.state
            )
            path = write_sheet(site, round_id)
            site.store.sealing.seal()
            return Afterwards(line, path, handover(sheet_of(site, round_id)).lines)

        self._shell.do(job, then=self._take, lane="long")

    def _take(self, afterwards: Afterwards) -> None:
        self._line.text = afterwards.line
        self._radio.text = "\n".join(afterwards.radio)
        self._path.text = _("Round sheet: {path}").format(path=afterwards.path)

    def _no_entry(self, *_args: object) -> None:
        self.close()
        self._shell.no_entry(heading_id=self._heading_id)

    def _leave(self, *_args: object) -> None:
        self.close()
        self._shell.open("shift_board")
