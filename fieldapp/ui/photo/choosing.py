"""Choosing a photo that lies somewhere already."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, Final

from fieldapp.ui.panels.folder_panel import IMPORTS, FolderPanel
from fieldapp.ui.translate import _, counted
from fieldapp.work.photo.sources import ENDINGS

HEIC: Final = (".heic", ".heif", ".avif")
FILMS: Final = (".mp4", ".mov", ".avi", ".mkv", ".webm", ".3gp", ".m4v")


def choose_photo(shell: Any, then: Callable[[Path], None]) -> None:
    """Ask which file it is, beginning where the last one was."""

    def chosen(photo: Path) -> None:
        shell.photos_from = photo.parent
        then(photo)

    start = shell.photos_from or shell.site.settings.camera_folder or shell.site.folder / IMPORTS
    title = _("Which photo?")
    FolderPanel(title, start, chosen, ENDINGS, newest_first=True, why=why_left_out).open()


def why_left_out(files: Sequence[Path]) -> str:
    """Say which pictures of a folder can't be chosen, and what to do; nothing of other files."""
    endings = [it.suffix.lower() for it in files]
    heic, films = (sum(it in kinds for it in endings) for kinds in (HEIC, FILMS))
    told: list[str] = []
    if heic:
        told.append(
            counted(
                "{} HEIC photo is not listed: set the camera to JPEG",
                "{} HEIC photos are not listed: set the camera to JPEG",
                heic,
            )
        )
    if films:
        told.append(counted("{} film is not listed", "{} films are not listed", films))
    return "; ".join(told)
