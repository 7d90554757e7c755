"""Small pictures of the photos, for lists: made when they are first looked at, never the truth.

They lie beside the shelf, are not shared and in no backup. One that is torn or gone is made anew.
"""

from io import BytesIO
from pathlib import Path
from typing import Final

from PIL import Image, UnidentifiedImageError

from fieldapp.work.photo.file import NoPhoto, photo_seen
from fieldapp.work.photo.photographs import photo_path
from fieldapp.work.site import Site
from schemas.bodies.photo import Photo
from sync.durable import disk_trouble, replace_file

THUMBNAILS: Final = "thumbnails"
EDGE_PX: Final = 320
_QUALITY: Final = 80


def thumbnail(site: Site, photo: Photo) -> Image.Image | None:
    """Give a small picture of a photo, upright; None where the photo is not here, or is torn.

    Raises
    ------
    DiskTrouble
        The disk is full, read-only or gone.
    """
    path = _path(site, photo)
    return _read(path) or _made(site, photo, path)


def _read(path: Path) -> Image.Image | None:
    try:
        with Image.open(path, formats=("JPEG",)) as picture:
            return picture.convert("RGB")
    except (OSError, UnidentifiedImageError, ValueError, SyntaxError):
        return None  # it is made anew


def _made(site: Site, photo: Photo, path: Path) -> Image.Image | None:
    try:
        small = photo_seen(photo_path(site, photo), EDGE_PX).picture
    except NoPhoto:
        return None
    written = BytesIO()
    small.save(written, "JPEG", quality=_QUALITY)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        replace_file(path, written.getvalue())
    except OSError as error:
        raise disk_trouble(error, path) from error
    return small


def _path(site: Site, photo: Photo) -> Path:
    return site.folder / THUMBNAILS / photo.sha256[:2] / f"{photo.sha256}.jpg"
