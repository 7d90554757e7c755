"""The photos of one thing: those that are kept, and the ways of taking another.

`PhotoSheet(shell, of).open()` is all that a screen does; it is told what was measured.
"""

from collections import deque
from collections.abc import Callable
from datetime import timedelta
from decimal import Decimal
from functools import partial
from pathlib import Path
from typing import Any, Final

from kivy.clock import Clock
from kivy.properties import ListProperty, ObjectProperty, StringProperty

from fieldapp.ui.names import short
from fieldapp.ui.photo.camera_sheet import CameraSheet
from fieldapp.ui.photo.choosing import choose_photo
from fieldapp.ui.photo.photo_cell import PhotoCell, taken_words
from fieldapp.ui.photo.textures import let_go, texture_of
from fieldapp.ui.photo.view_sheet import ViewSheet
from fieldapp.ui.translate import _, counted
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.paged_grid import PagedGrid
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.work.known import Known
from fieldapp.work.photo.before import photo_before
from fieldapp.work.photo.photographs import keep_taken, photo_name, photo_path, photos_of
from fieldapp.work.photo.sources import CameraFolder
from fieldapp.work.photo.thumbnails import thumbnail
from fieldapp.work.share.photos_wanted import photos_wanted
from fieldapp.work.site import Site
from schemas.bodies.photo import Photo
from schemas.taps import What
from sync.names import PhotoName

__all__ = ["Key", "PagedGrid", "PhotoSheet"]

LOOKS_S: Final = 1.0
"""How often the camera's folder is looked at while this lies open."""
JUST_TAKEN: Final = timedelta(minutes=15)
"""A photo of so long ago is offered too: it was taken before somebody came here."""
SHOWN_AT_ONCE: Final = 60
NOT_HERE: Final = object()
"""A photo that others took: tablets bring those of open damage and repairs, the office all."""

OnMeasured = Callable[[str, Decimal, Decimal], None]
"""What was measured, its value [mm or m²], and half of the interval that holds it, 95 of 100."""


class PhotoSheet(Sheet):
    """Lists the photos of a thing and takes new ones; a touch on one opens it.

    Parameters
    ----------
    shell : Shell
        Gives the site and the worker.
    *of : str
        Ids of the things that the photos show; new ones are of the first.
    title : str
        What is written above them.
    on_measured : callable, optional
        Told the quantity, the value and ± of what a person chose to use; the sheet goes first.
    quantity : What, optional
        The one thing that is wanted, such as a lap.
    then : callable, optional
        Told once a person returns from here.
    shown_before : tuple of str
        Ids of further things: their photos show the same place from before.
    """

    photos = ListProperty()
    new_file: Any = ObjectProperty(None, allownone=True)
    new_title = StringProperty(_("No new photo"))
    new_second = StringProperty()
    nothing = StringProperty(_("No photo is kept yet."))
    make_cell: Any = ObjectProperty(None, allownone=True)
    fill_cell: Any = ObjectProperty(None, allownone=True)

    def __init__(
        self,
        shell: Any,
        *of: str,
        title: str = "",
        on_measured: OnMeasured | None = None,
        quantity: What | None = None,
        then: Callable[[], None] | None = None,
        shown_before: tuple[str, ...] = (),
    ) -> None:
        super().__init__(place="full", title=title or _("Photos"))
        self._then, self._shown_before = then, shown_before
        self.make_cell, self.fill_cell = self._cell, self._fill
        self._shell, self._of = shell, of
        self._on_measured, self._quantity = on_measured, quantity
        self._textures: dict[str, Any] = {}
        self._to_come: frozenset[PhotoName] = frozenset()
        self._wanted: deque[str] = deque(maxlen=SHOWN_AT_ONCE)
        self._offered: set[Path] = set()
        folder = shell.site.settings.camera_folder
        self._folder = CameraFolder(folder, shell.now() - JUST_TAKEN) if folder else None
        self._looking = Clock.schedule_interval(self._look, LOOKS_S) if folder else None
        self.new_second = (
            _("in the camera's folder") if folder else _("no camera folder in Settings")
        )
        self._show()

    def go_back(self) -> None:
        """Return to what asked for the photos."""
        self.close()
        if self._then is not None:
            self._then()

    def take_new(self) -> None:
        """Keep the newest photo of the camera's folder."""
        if self.new_file is not None:
            self.keep(self.new_file)

    def choose(self) -> None:
        """Ask which file it is."""
        choose_photo(self._shell, self.keep)

    def take_here(self) -> None:
        """Take one with the camera of the tablet, last time's over it."""
        before = partial(photo_before, self._shell.site, *self._of, *self._shown_before)
        CameraSheet(self._shell, self.keep, before).open()

    def keep(self, file: Path) -> None:
        """Keep a photo, and open it."""
        self._offered.add(file)
        shell = self._shell
        job = partial(keep_taken, shell.site, file, shell.session, self._of[0])
        shell.do(job, then=self._kept)

    def view(self, photo: Known[Photo]) -> None:
        """Open a photo."""
        use = self._use if self._on_measured is not None else None
        ViewSheet(self._shell, photo, use, self._quantity).open()

    def on_closed(self) -> None:
        if self._looking is not None:
            self._looking.cancel()
        self._textures.clear()
        self._wanted.clear()
        self.photos = []
        let_go()

    # --- inside -----------------------------------------------------------------------------

    def _use(self, *measured: Any) -> None:
        self.close()
        if self._on_measured is not None:
            self._on_measured(*measured)

    def _show(self) -> None:
        self._shell.do(partial(_known, self._shell.site, self._of), then=self._take_photos)

    def _take_photos(self, known: tuple[tuple[Known[Photo], ...], frozenset[PhotoName]]) -> None:
        photos, self._to_come = known
        self.photos = list(reversed(photos))
        count = len(photos)
        self.note = counted("{} photo is kept", "{} photos are kept", count) if count else ""

    def _kept(self, photo: Known[Photo]) -> None:
        if self.parent is None:
            return
        self._offer(())
        self._show()
        self.view(photo)

    def _look(self, _elapsed: float) -> None:
        if self._folder is not None:
            self._shell.do(self._folder.photos, then=self._offer, lane="long")

    def _offer(self, files: tuple[Path, ...]) -> None:
        self.new_file = next((file for file in files if file not in self._offered), None)
        if self.new_file is not None:
            self.new_title, self.new_second = (
                _("Keep the new photo"),
                short(self.new_file.name, 28),
            )
        elif self._folder is not None:
            self.new_title, self.new_second = _("No new photo"), _("in the camera's folder")

    def _cell(self, photo: Known[Photo]) -> PhotoCell:
        cell = PhotoCell()
        cell.bind(on_release=lambda cell: self.view(cell.photo))
        self._fill(cell, photo)
        return cell

    def _fill(self, cell: PhotoCell, photo: Known[Photo]) -> None:
        cell.photo = photo
        cell.text, cell.disabled = taken_words(self._shell, photo), False
        cell.texture = self._textures.get(photo.body.sha256)
        if cell.texture is None:
            self._wanted.append(photo.body.sha256)
            job = partial(self._small, photo.body)
            self._shell.do(job, then=partial(self._shown, cell, photo), lane="long")

    def _small(self, photo: Photo) -> Any:
        """Give a small picture; of a page that was turned already, none is made."""
        wanted = photo.sha256 in self._wanted
        return thumbnail(self._shell.site, photo) or NOT_HERE if wanted else None

    def _shown(self, cell: PhotoCell, photo: Known[Photo], picture: Any) -> None:
        if picture is None or self.parent is None or cell.photo is not photo:
            return
        if picture is NOT_HERE:
            comes = photo_name(photo.body) in self._to_come
            cell.text = _("comes by the share") if comes else _("in the office only")
            cell.disabled = True
            return
        while len(self._textures) >= SHOWN_AT_ONCE:
            del self._textures[next(iter(self._textures))]
        cell.texture = self._textures[photo.body.sha256] = texture_of(picture)


def _known(
    site: Site, of: tuple[str, ...]
) -> tuple[tuple[Known[Photo], ...], frozenset[PhotoName]]:
    """Give the photos of some things, and which photos are to come here where one is not."""
    photos = photos_of(site, *of)
    are_here = all(photo_path(site, it.body).exists() for it in photos)
    return photos, frozenset() if are_here else photos_wanted(site)
