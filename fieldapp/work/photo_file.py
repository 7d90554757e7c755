"""Reading a photo file: what it is, how large, and what its camera tells of the lens."""

from collections.abc import Callable
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Final, TypeVar

from PIL import ExifTags, Image, ImageOps, UnidentifiedImageError

from schemas.bodies.photo import LARGEST_BYTES
from schemas.trouble import BadInput

Given = TypeVar("Given")
MOST_PIXELS: Final = 120_000_000
FORMATS: Final = ("JPEG", "PNG", "WEBP")
_BELIEVED_MM: Final = range(8, 201)
_TURNED: Final = (5, 6, 7, 8)
"""Exif 2.32, tag 274 Orientation: these lie on their side."""


@dataclass(eq=False)
class NoPhoto(BadInput):
    """A file that is no photo that can be used."""

    name: str
    reason: str

    happened = "The photo {name} can't be used: {reason}."
    kept = "The file was left as it is, and nothing was changed."
    do_next = "Take the photo again, or choose another one."


@dataclass(frozen=True)
class PhotoFacts:
    """A photo as it is seen upright."""

    width_px: int
    height_px: int
    focal_equivalent_mm: float | None
    """As on film 36 mm wide; None: the camera does not tell."""


def photo_facts(path: Path) -> PhotoFacts:
    """Look at a photo file, every byte of it.

    Raises
    ------
    NoPhoto
        It is empty, cut off, too large, moves, or is none of the kinds that are read.
    """
    return _looked_at(path, _facts)


def upright(path: Path) -> Image.Image:
    """Give a photo as it is seen upright, in three colours.

    Raises
    ------
    NoPhoto
        As `photo_facts` says.
    """
    return _looked_at(path, lambda photo: ImageOps.exif_transpose(photo).convert("RGB"))


def _looked_at(path: Path, give: Callable[[Image.Image], Given]) -> Given:
    content = _content(path)
    try:
        with Image.open(BytesIO(content), formats=FORMATS) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                raise NoPhoto(path.name, f"more than {MOST_PIXELS // 1_000_000} megapixels")
            if getattr(picture, "is_animated", False):
                raise NoPhoto(path.name, "it moves")
            picture.load()
            return give(picture)
    except UnidentifiedImageError:
        raise NoPhoto(path.name, "it is no JPEG, PNG or WebP picture") from None
    except Image.DecompressionBombError:
        raise NoPhoto(path.name, "it has too many pixels") from None
    except (OSError, ValueError, SyntaxError) as error:
        raise NoPhoto(path.name, "the picture is cut off or damaged") from error


def _content(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST_BYTES + 1)
    except OSError as error:
        reason = (error.strerror or "it can't be read").lower()
        raise NoPhoto(path.name, reason) from error
    if not content:
        raise NoPhoto(path.name, "it is empty")
    if len(content) > LARGEST_BYTES:
        raise NoPhoto(path.name, f"more than {LARGEST_BYTES // 1_000_000} MB")
    return content


def _facts(picture: Image.Image) -> PhotoFacts:
    exif = picture.getexif()
    width, height = picture.size
    if exif.get(ExifTags.Base.Orientation) in _TURNED:
        width, height = height, width
    told = exif.get_ifd(ExifTags.IFD.Exif).get(ExifTags.Base.FocalLengthIn35mmFilm)
    if not (isinstance(told, int) and told in _BELIEVED_MM):
        return PhotoFacts(width, height, None)
    return PhotoFacts(width, height, float(told))
