"""Which folder, or which file: a page of large keys that go down and up through folders."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from kivy.properties import ListProperty, ObjectProperty, StringProperty

from fieldapp.ui.long_paths import path_words
from fieldapp.ui.names import short
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.paged_grid import PagedGrid
from fieldapp.ui.widgets.sheet import Sheet

__all__ = ["FolderPanel", "Key", "PagedGrid"]

MEDIA = (Path("/media"), Path("/run/media"), Path("/mnt"))
"""Where Linux shows sticks and mounted shares."""
IMPORTS = "import"
"""Where files to be taken in are looked for first, in the tablet's home."""


@dataclass(frozen=True)
class Step:
    """One key: a folder to go to, or a file to take."""

    name: str
    second: str
    path: Path


class FolderPanel(Sheet):
    """Asks for a folder, or with `endings` for a file; it goes away before `then` is told.

    Hidden folders, and what may not be looked into, are left out. So are other files; how many
    is told, and `why` it is.
    """

    steps = ListProperty()
    nothing = StringProperty(_("There is nothing here to go on to."))
    make_key: Any = ObjectProperty(None, allownone=True)

    def __init__(
        self,
        title: str,
        start: Path,
        then: Callable[[Path], None],
        endings: tuple[str, ...] = (),
        *,
        newest_first: bool = False,
        why: Callable[[Sequence[Path]], str] | None = None,
    ) -> None:
        super().__init__(place="full", title=title, make_key=self._key)
        self._then, self._endings, self._newest_first = then, endings, newest_first
        self._why = why
        if endings:
            self.ids.take.parent.remove_widget(self.ids.take)
        self._go(start if start.is_dir() else Path.home())

    def take_here(self) -> None:
        """Take the folder in sight."""
        self.close()
        self._then(self._at)

    def touch(self, step: Step) -> None:
        """Go to a folder, or take a file."""
        if step.path.is_dir():
            self._go(step.path)
        else:
            self.close()
            self._then(step.path)

    def _go(self, folder: Path) -> None:
        self._at = folder
        inside = sorted(_inside(folder), key=self._order)
        left_out = [it for it in inside if it.is_file() and not self._takes(it)]
        where = path_words(str(folder)).replace("\n", "")
        self.note = "\n".join(filter(None, (self._why(left_out) if self._why else "", where)))
        self.steps = list(self._steps(folder, inside))

    def _takes(self, file: Path) -> bool:
        return file.suffix.lower() in self._endings

    def _steps(self, folder: Path, inside: Sequence[Path]) -> Iterator[Step]:
        if folder.parent != folder:
            yield Step(_("Up"), short(folder.parent.name or "/"), folder.parent)
        for media in MEDIA:
            if media.is_dir() and media not in (folder, *folder.parents):
                yield Step(str(media), _("sticks and shares"), media)
        for path in inside:
            if path.is_dir():
                yield Step(short(path.name), _("folder"), path)
            elif self._takes(path):
                yield Step(short(path.name), _("take this file"), path)

    def _order(self, path: Path) -> tuple[bool, float, str]:
        changed_s = _changed_s(path) if self._newest_first and path.is_file() else 0.0
        return path.is_file(), -changed_s, path.name.casefold()

    def _key(self, step: Step) -> Key:
        key = Key(title=step.name, second=step.second, tall=True)
        key.bind(on_release=lambda _key: self.touch(step))
        return key


def _changed_s(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except OSError:  # pulled out meanwhile: it is the oldest
        return 0.0


def _inside(folder: Path) -> Iterator[Path]:
    try:
        for path in folder.iterdir():
            if not path.name.startswith("."):
                yield path
    except OSError:  # it may not be looked into, or was pulled out: it has nothing for us
        return
