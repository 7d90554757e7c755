"""Waiting for the tablet's own camera app: the photo that is taken now is handed on once whole."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from kivy.clock import Clock

from fieldapp.work.photo.sources import CameraFolder, PhotoSource
from schemas.trouble import Trouble

LOOK_EVERY_S = 0.5
"""How often the camera's folder is looked at while somebody takes the photo."""


class PhotoWaiting:
    """Looks into the camera's folder, beside the screen, until a new photo lies there whole."""

    def __init__(
        self,
        shell: Any,
        then: Callable[[Path], None],
        on_trouble: Callable[[Trouble], None] | None = None,
    ) -> None:
        self._shell, self._then, self._on_trouble = shell, then, on_trouble
        self._source: PhotoSource | None = None
        self._looking = Clock.schedule_interval(self._look, LOOK_EVERY_S)
        self._looking.cancel()

    def begin(self, folder: Path) -> None:
        """Wait for a photo that is taken from now on."""
        self._source = CameraFolder(folder, self._shell.now())
        self._looking()

    def stop(self) -> None:
        """Wait no longer."""
        self._looking.cancel()
        self._source = None

    def _look(self, _elapsed: float) -> None:
        if self._source is not None:
            self._shell.do(self._source.photos, then=self._came, on_trouble=self._on_trouble)

    def _came(self, photos: Sequence[Path]) -> None:
        if photos and self._source is not None:
            self.stop()
            self._then(photos[0])
