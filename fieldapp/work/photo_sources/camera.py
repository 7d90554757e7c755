"""A camera at the tablet, asked for one picture on demand. OpenCV is loaded for it alone."""

from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Final

from schemas.trouble import BadInput
from sync.durable import disk_trouble, write_once

WARMING_FRAMES: Final = 10
"""A camera that was just opened sets its exposure first. Common practice, no source."""
_QUALITY: Final = 95
TAKEN_HERE: Final = "taken"
"""Folder of the home for what the tablet's own camera gave until it is kept."""


@dataclass(eq=False)
class NoCamera(BadInput):
    """The camera gives no picture."""

    camera: str

    happened = "The camera {camera} gives no picture."
    kept = "Nothing was changed."
    do_next = "Close any other app that uses it, or take the photo with the camera's own app."


@dataclass(frozen=True)
class Camera:
    """A camera of the system, by its number, or a recorded film in its place.

    `folder` gets the picture as a file; it holds nothing about who took it or where.
    """

    device: int | str
    folder: Path

    def photos(self) -> tuple[Path, ...]:
        """Take one picture, and give its file.

        Raises
        ------
        NoCamera
            There is none, another program has it, or it gives nothing.
        DiskTrouble
            The picture can't be written.
        """
        content = self._taken()
        path = self.folder / f"taken-{sha256(content).hexdigest()[:16]}.jpg"
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            write_once(path, content)
        except OSError as error:
            raise disk_trouble(error, path) from error
        return (path,)

    def _taken(self) -> bytes:
        import cv2

        camera = cv2.VideoCapture(self.device)
        try:
            frame = None
            for _ in range(WARMING_FRAMES):
                came, newer = camera.read()
                frame = newer if came else frame
        finally:
            camera.release()
        if frame is None:
            raise NoCamera(str(self.device))
        _, written = cv2.imencode(".jpg", frame, [cv2.IMWRITE_JPEG_QUALITY, _QUALITY])
        return written.tobytes()


def own_camera(home: Path) -> Camera:
    """Give the tablet's own camera; what it gives lies in the home until it is kept."""
    return Camera(0, home / TAKEN_HERE)
