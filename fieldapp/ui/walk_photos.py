"""The photo of a section from the same place: the old one to stand by, and the new one."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from fieldapp.report.words.findings import day
from fieldapp.ui.photo.camera_sheet import CameraSheet
from fieldapp.ui.photo.textures import let_go, texture_of
from fieldapp.ui.photo_waiting import PhotoWaiting
from fieldapp.ui.translate import _
from fieldapp.work.photo.before import PhotoBefore, photo_with
from fieldapp.work.photo.photographs import keep_taken
from fieldapp.work.walk.now import WalkNow


class WalkPhotos:
    """Waits for the camera app's photo, or takes one with the tablet's own camera.

    `then` is told the id of the photo that was kept.
    """

    def __init__(self, shell: Any, then: Callable[[str], None]) -> None:
        self._shell, self._then = shell, then
        self._waiting = PhotoWaiting(shell, self._keep)
        self._of = ""
        self._before: Callable[[], PhotoBefore | None] | None = None
        self._cell: Any = None
        self._camera: CameraSheet | None = None

    def wait(self, now: WalkNow, cell: Any) -> None:
        """Show the old photo on a cell, and wait for a new one."""
        if self._of:
            return
        self._of, self._cell = now.work.walk_id, cell
        cell.texture, cell.text = None, _("no photo from before")
        before = now.here.photos_before if now.here else ()
        self._before = partial(photo_with, self._shell.site, before)
        self._shell.do(self._before, then=self._show, lane="long")
        folder = self._shell.site.settings.camera_folder
        if folder is not None:
            self._waiting.begin(folder)

    def stop(self) -> None:
        """Wait no longer, and let the old photo and the camera go."""
        self._waiting.stop()
        if self._camera is not None:
            self._camera.close()
        if self._of:
            self._of, self._camera, self._cell.texture = "", None, None
            let_go()

    def take_here(self) -> None:
        """Take one with the camera of the tablet, the old one over what it sees."""
        self._camera = CameraSheet(self._shell, self._keep, self._before)
        self._camera.open()

    def _keep(self, file: Path) -> None:
        if self._of:
            shell = self._shell
            job = partial(keep_taken, shell.site, file, shell.session, self._of)
            shell.do(job, then=lambda photo: self._then(photo.id))

    def _show(self, old: PhotoBefore | None) -> None:
        if old is not None and self._of:
            at = day(old.taken_at, ZoneInfo(self._shell.site.settings.zone))
            self._cell.texture = texture_of(old.picture)
            self._cell.text = _("Last time, {day}").format(day=at)
