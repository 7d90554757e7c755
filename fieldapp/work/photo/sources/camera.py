"""The tablet's own camera: what it sees now, and a picture of it. OpenCV is loaded for it."""

from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any, Final

from schemas.trouble import BadInput
from sync.durable import disk_trouble, write_once

WARMING_FRAMES: Final = 10
"""A camera that was just opened sets its exposure first. Common practice, no source."""
CAMERAS: Final = 2
"""A tablet has one on its back and one on its front; which is the first differs."""
WANTED_PX: Final = (1920, 1080)
"""Asked of a camera, which gives the nearest that it has; without, many give 640 × 480."""
_MISSES: Final = 5
"""A frame is lost now and then. Common practice, no source."""
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
class Frame:
    """What a camera sees at one moment, made small for the glass."""

    size: tuple[int, int]
    """Pixels, across and down."""
    rgb: bytes
    """Rows from the top; red, green and blue of each pixel."""


class Camera:
    """A camera of the system, by its number, or a recorded film in its place.

    The first look opens it; it is on until `release`. Only one thread at a time may ask it.

    Parameters
    ----------
    device : int or str
        Number of the camera, from 0, or where the film lies.
    folder : Path
        Gets the picture as a file; it holds nothing about who took it or where.
    """

    def __init__(self, device: int | str, folder: Path) -> None:
        self.device, self.folder = device, folder
        self._on: Any = None
        self._came = 0

    @property
    def is_on(self) -> bool:
        """Whether nobody else can have it."""
        return self._on is not None

    def look(self, edge_px: int) -> Frame:
        """Give what it sees now, the longer edge no longer than this.

        Raises
        ------
        NoCamera
            There is none, another program has it, or it gives nothing.
        """
        import cv2

        frame = self._next()
        high, wide = frame.shape[:2]
        share = min(1, edge_px / max(high, wide))
        size = (round(wide * share), round(high * share))
        small = cv2.resize(frame, size, interpolation=cv2.INTER_AREA) if share < 1 else frame
        return Frame(size, cv2.cvtColor(small, cv2.COLOR_BGR2RGB).tobytes())

    def photos(self) -> tuple[Path, ...]:
        """Take one picture, in all its pixels, and give its file.

        Raises
        ------
        NoCamera
            As `look` says.
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

    def release(self) -> None:
        """Turn it off, so that others may have it."""
        if self._on is not None:
            self._on.release()
        self._on, self._came = None, 0

    def _taken(self) -> bytes:
        import cv2

        frame = self._next()
        while self._came < WARMING_FRAMES:
            frame = self._next()
        _, written = cv2.imencode(".jpg", frame, [cv2.IMWRITE_JPEG_QUALITY, _QUALITY])
        return written.tobytes()

    def _next(self) -> Any:
        if self._on is None:
            self._on = _opened(self.device)
        for _ in range(_MISSES):
            came, frame = self._on.read()
            if came:
                self._came += 1
                return frame
        self.release()
        raise NoCamera(str(self.device))


def _opened(device: int | str) -> Any:
    """Open a camera with as little behind the moment as it allows."""
    import cv2

    camera = cv2.VideoCapture(device)
    for wanted, value in (
        (cv2.CAP_PROP_FOURCC, cv2.VideoWriter.fourcc(*"MJPG")),
        (cv2.CAP_PROP_FRAME_WIDTH, WANTED_PX[0]),
        (cv2.CAP_PROP_FRAME_HEIGHT, WANTED_PX[1]),
        (cv2.CAP_PROP_BUFFERSIZE, 1),
    ):
        camera.set(wanted, value)  # a camera that can't says no, and gives what it has
    return camera


def own_camera(home: Path, number: int = 0) -> Camera:
    """Give one of the tablet's own cameras; what it gives lies in the home until it is kept."""
    return Camera(number, home / TAKEN_HERE)
