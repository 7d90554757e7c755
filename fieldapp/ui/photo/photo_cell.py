"""One photo in a list: its small picture, and when it was taken."""

from typing import Any
from zoneinfo import ZoneInfo

from kivy.properties import ListProperty, ObjectProperty, StringProperty

from fieldapp.report.words.findings import day
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.touchable import Touchable
from fieldapp.ui.widgets.words import Words
from fieldapp.work.known import Known
from fieldapp.work.photo.before import taken_at
from schemas.bodies.photo import Photo

__all__ = ["PhotoCell", "Words"]


def taken_words(shell: Any, photo: Known[Photo]) -> str:
    """Say when a photo was taken: "6 May 2031 09:35"; when it was kept, if nobody knows."""
    at = taken_at(photo)
    time = f"{day(at, ZoneInfo(shell.site.settings.zone))} {shell.clock_words(at)}"
    return time if photo.body.taken_at else _("kept {time}").format(time=time)


class PhotoCell(Touchable):
    """A key as large as a thumb; `texture` comes once the worker has it."""

    texture: Any = ObjectProperty(None, allownone=True)
    text = StringProperty()
    photo: Any = ObjectProperty(None, allownone=True)
    """What it shows."""

    place = ListProperty([0, 0, 0, 0])
    """Where the picture lies: whole, as large as there is room for."""

    def on_kv_post(self, _base: object) -> None:
        # Inside another look the ids are not there before this.
        self.ids.picture.bind(pos=self._lay, size=self._lay)
        self.fbind("texture", self._lay)
        self._lay()

    def _lay(self, *_: object) -> None:
        field = self.ids.picture
        if self.texture is None:
            self.place = [0, 0, 0, 0]
            return
        wide, high = self.texture.size
        scale = min(field.width / wide, field.height / high)
        wide, high = wide * scale, high * scale
        self.place = [field.center_x - wide / 2, field.center_y - high / 2, wide, high]
