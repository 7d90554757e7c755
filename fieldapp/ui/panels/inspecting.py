"""The inspection after an event: somebody looked, and says so by holding the key."""

from functools import partial
from typing import Any

from kivy.properties import ObjectProperty, StringProperty

from fieldapp.report.words.findings import when_from
from fieldapp.ui.entry_words import EntryPage
from fieldapp.ui.figures import metres
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.hold_key import HoldKey
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.work.notices import inspect

__all__ = ["CautionLine", "HoldKey", "InspectedPanel", "Key"]


class InspectedPanel(Sheet):
    """Names every event that the inspection ends, and how far somebody looked."""

    shell: Any = ObjectProperty()
    page: EntryPage = ObjectProperty()
    not_before = StringProperty()
    """When the exclusion time ends, while it runs."""

    def __init__(self, shell: Any, heading_id: str, page: EntryPage) -> None:
        super().__init__(
            shell=shell,
            page=page,
            title=_("Inspected {heading}, up to the face at {face}").format(
                heading=page.name,
                face=metres(page.state.face_m, shell.site.settings.units),
            ),
            note="\n".join(f"{it.title}: {it.detail}" for it in page.events[:3]),
        )
        self._heading_id = heading_id
        ends = max(it.event.body.excluded_until for it in page.events if it.event is not None)
        now = shell.local(shell.now())
        if now < ends:
            self.not_before = _("not before {time}").format(time=when_from(ends, now))

    def say_inspected(self) -> None:
        """State it for every event that stands here."""
        self.close()
        shell, face_m = self.shell, self.page.state.face_m
        job = partial(inspect, shell.site, self._heading_id, shell.session, up_to_m=face_m)
        shell.do(job, then=lambda _known: shell.refresh())
