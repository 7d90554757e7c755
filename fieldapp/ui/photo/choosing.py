"""Choosing a photo that lies somewhere already."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from fieldapp.ui.panels.folder_panel import FolderPanel
from fieldapp.ui.translate import _
from fieldapp.work.photo_sources import ENDINGS


def choose_photo(shell: Any, then: Callable[[Path], None]) -> None:
    """Ask which file it is."""
    start = shell.site.settings.camera_folder or Path.home()
    FolderPanel(_("Which photo?"), start, then, ENDINGS, newest_first=True).open()
