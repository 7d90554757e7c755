"""A recorded film, taken for a camera: no machine of the tests has one."""

from pathlib import Path

import cv2
import numpy as np
from PIL import Image


def film_of(picture: Image.Image, path: Path, frames: int = 90) -> Path:
    """Record a film of a picture that does not move, of some seconds."""
    writer = cv2.VideoWriter(str(path), cv2.VideoWriter.fourcc(*"MJPG"), 10, picture.size)
    pixels = np.asarray(picture)[:, :, ::-1]
    for _ in range(frames):
        writer.write(pixels)
    writer.release()
    return path
