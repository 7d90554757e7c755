"""The tablet's own camera: what it sees, last time's photo over it, and one picture of it.

`CameraSheet(shell, then, before).open()` is all that a screen does; `then` is told the file.
"""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any, Final
from zoneinfo import ZoneInfo

from kivy.clock import Clock
from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty

from fieldapp.report.words.findings import day
from fieldapp.ui.photo.choosing import choose_photo
from fieldapp.ui.photo.live_view import LiveView
from fieldapp.ui.photo.textures import let_go, texture_of
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.message_panel import MessagePanel
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.words import Words
from fieldapp.work.photo.before import PhotoBefore
from fieldapp.work.photo.photographs import clear_taken
from fieldapp.work.photo.sources import CAMERAS, Camera, Frame, own_camera
from schemas.trouble import Trouble

__all__ = ["CameraSheet", "Key", "LiveView", "MessagePanel", "Words"]

EDGE_PX: Final = 1_280
"""The longer edge of what is shown; the photo itself has all that the camera gives."""
BETWEEN_FRAMES_S: Final = 0.03
Before = Callable[[], PhotoBefore | None]


class CameraSheet(Sheet):
    """Shows what the camera sees until a photo is taken. It is off whenever this is not in sight.

    Parameters
    ----------
    shell : Shell
        Gives the site and the worker.
    then : callable
        Told the file of the photo that was taken or chosen; this has gone before.
    before : callable, optional
        Opens the photo of the same place from an earlier visit, if there is one.
    """

    ready = BooleanProperty(False)
    """Whether there is something to take."""
    fails = BooleanProperty(False)
    ghost: Any = ObjectProperty(None, allownone=True)
    ghost_pct = NumericProperty(50)

    def __init__(
        self, shell: Any, then: Callable[[Path], None], before: Before | None = None
    ) -> None:
        super().__init__(place="full", title=_("Camera of this tablet"))
        self._shell, self._then, self._before = shell, then, before
        self._camera: Camera | None = None

    def open(self) -> None:
        """Turn the camera on, and look for the old photo."""
        super().open()
        self._turn_on()
        if self._before is not None:
            self._shell.do(self._before, then=self._show_before, lane="long")

    def take(self) -> None:
        """Take the photo."""
        if self.ready and self._camera is not None:
            self.ready = False
            job, failed = self._camera.photos, partial(self._not_taken, self._camera)
            self._shell.do(job, then=self._taken, on_trouble=failed, lane="camera")

    def other_camera(self) -> None:
        """Look through the tablet's other camera, now and the next time."""
        self._turn_off()
        self._shell.camera_number = (self._shell.camera_number + 1) % CAMERAS
        self._turn_on()

    def choose(self) -> None:
        """Ask for a photo that is there already; the camera is off meanwhile."""
        self.close()
        choose_photo(self._shell, self._then)

    def laid_aside(self) -> None:
        """Go with the app: no camera is on unseen."""
        self.close()

    def on_closed(self) -> None:
        self._turn_off()
        self.ghost = None
        let_go()

    # --- inside -----------------------------------------------------------------------------

    def _turn_on(self) -> None:
        self.fails = False
        self._camera = own_camera(self._shell.site.folder, self._shell.camera_number)
        self._look(self._camera)

    def _turn_off(self) -> None:
        """Let the camera go, after whatever it is busy with."""
        if self._camera is not None:
            self._shell.do(self._camera.release, lane="camera")
        self._camera, self.ready, self.ids.view.texture = None, False, None

    def _look(self, camera: Camera) -> None:
        """Ask for a frame, beside the screen; the next one once it is shown."""
        if camera is self._camera:
            job, seen = partial(camera.look, EDGE_PX), partial(self._seen, camera)
            failed = partial(self._gives_nothing, camera)
            self._shell.do(job, then=seen, on_trouble=failed, lane="camera")

    def _seen(self, camera: Camera, frame: Frame) -> None:
        if camera is self._camera:
            if self.ids.view.texture is None:
                self.ready = True
            self.ids.view.show(frame)
            Clock.schedule_once(lambda _elapsed: self._look(camera), BETWEEN_FRAMES_S)

    def _gives_nothing(self, camera: Camera, trouble: Trouble) -> None:
        if camera is self._camera:
            self.fails, self.ready, self.ids.view.texture = True, False, None
            self.ids.trouble.tell(trouble)

    def _taken(self, files: tuple[Path, ...]) -> None:
        if self.parent is None:
            for file in files:  # whoever left did not see it taken
                clear_taken(self._shell.site, file)
            return
        self.close()
        self._then(files[0])

    def _not_taken(self, camera: Camera, trouble: Trouble) -> None:
        if camera is self._camera:
            self.ready = True
            self._shell.say(trouble)

    def _show_before(self, old: PhotoBefore | None) -> None:
        if self.parent is None:
            return
        if old is None:
            self.note = _("There is no earlier photo of this place on this tablet.")
            return
        self.ghost = texture_of(old.picture)
        at = day(old.taken_at, ZoneInfo(self._shell.site.settings.zone))
        told = _("Last time's photo, {day}, lies over the picture: move until both agree.")
        self.note = told.format(day=at)
