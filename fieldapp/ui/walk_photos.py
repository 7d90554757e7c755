"""The photo of a section from the same place: the old one to stand by, and the new one."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from fieldapp.report.words import day
from fieldapp.ui.photo.textures import let_go, texture_of
from fieldapp.ui.photo_waiting import PhotoWaiting
from fieldapp.ui.translate import _
from fieldapp.work.known import one
from fieldapp.work.photo_file import NoPhoto, photo_seen
from fieldapp.work.photo_sources import PhotoSource, own_camera
from fieldapp.work.photographs import keep_photo, photo_path
from fieldapp.work.site import Site
from fieldapp.work.walk_now import WalkNow, last_photo
from schemas.bodies.photo import Photo

EDGE_PX = 1_200


class WalkPhotos:
    """Waits for the camera app's photo, or takes one with the tablet's own camera.

    `then` is told the id of the photo that was kept.
    """

    def __init__(self, shell: Any, then: Callable[[str], None]) -> None:
        self._shell, self._then = shell, then
        self._waiting = PhotoWaiting(shell, self._keep)
        self._of = ""
        self._cell: Any = None

    def wait(self, now: WalkNow, cell: Any) -> None:
        """Show the old photo on a cell, and wait for a new one."""
        if self._of:
            return
        self._of, self._cell = now.work.walk_id, cell
        cell.texture, cell.text = None, _("no photo from before")
        job = partial(_old_photo, self._shell.site, now)
        self._shell.do(job, then=self._show, lane="long")
        folder = self._shell.site.settings.camera_folder
        if folder is not None:
            self._waiting.begin(folder)

    def stop(self) -> None:
        """Wait no longer, and let the old photo go."""
        self._waiting.stop()
        if self._of:
            self._of, self._cell.texture = "", None
            let_go()

    def take_here(self) -> None:
        """Take one with the camera of the tablet."""
        self.take_from(own_camera(self._shell.site.folder))

    def take_from(self, source: PhotoSource) -> None:
        """Take what a source gives first."""
        self._shell.do(source.photos, then=self._first, lane="long")

    def _first(self, files: tuple[Path, ...]) -> None:
        if files:
            self._keep(files[0])

    def _keep(self, file: Path) -> None:
        if self._of:
            shell = self._shell
            job = partial(keep_photo, shell.site, file, shell.session, self._of)
            shell.do(job, then=lambda photo: self._then(photo.id))

    def _show(self, old: Any) -> None:
        if old is not None and self._of:
            picture, when = old
            self._cell.texture = texture_of(picture)
            self._cell.text = _("Last time, {day}").format(day=when)


def _old_photo(site: Site, now: WalkNow) -> Any:
    """Open the newest photo from the same place, upright; None where none is on this tablet."""
    assert now.at is not None  # noqa: S101 - a photo is asked for at a section
    photo_id = last_photo(site, now.work.about.heading_id, now.at.section)
    known = one(site, "photo", Photo, photo_id) if photo_id else ()
    if not known:
        return None
    taken = known[-1]
    try:
        seen = photo_seen(photo_path(site, taken.body), EDGE_PX)
    except NoPhoto:
        return None  # it was taken on another tablet and did not arrive
    at = taken.body.taken_at or taken.entry.made_at
    return seen.picture, day(at, ZoneInfo(site.settings.zone))
