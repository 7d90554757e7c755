"""Reading a photo file: what it is, how large, and what its camera tells of the lens."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from pathlib import Path
from typing import Final

from PIL import Image, UnidentifiedImageError

from fieldapp.work.photo.exif import Told, told_in
from fieldapp.work.photo.picture_parts import JPEG_START, PNG_START, is_webp, moves, told_beside
from fieldapp.work.photo.stripped import stripped
from schemas.bodies.photo import LARGEST_BYTES, MediaType
from schemas.trouble import BadInput

MOST_PIXELS: Final = 120_000_000
KINDS: Final[dict[str, MediaType]] = {
    "JPEG": "image/jpeg",
    "PNG": "image/png",
    "WEBP": "image/webp",
}
_TURNED: Final = (5, 6, 7, 8)
"""Exif 2.32, tag 274 Orientation: these lie on their side."""
_UPRIGHT_BY: Final = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
_OTHERS: Final = {
    b"heic": "it is HEIC, which can't be read here: set the camera to JPEG",
    b"heix": "it is HEIC, which can't be read here: set the camera to JPEG",
    b"mif1": "it is HEIC, which can't be read here: set the camera to JPEG",
    b"avif": "it is AVIF, which can't be read here: set the camera to JPEG",
}
"""Kinds of file that begin as films do (ISO/IEC 14496-12, 4.3)."""


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


@dataclass(frozen=True)
class PhotoRead:
    """A photo's file that was looked at, every byte of it, and found to be one."""

    content: bytes
    """The picture, how it lies, and its lens; nothing of its owner."""
    media_type: MediaType
    facts: PhotoFacts
    taken: datetime | None
    """By the camera's clock; without a zone where it told none."""


def photo_facts(path: Path) -> PhotoFacts:
    """Look at a photo file, every byte of it.

    Raises
    ------
    NoPhoto
        It is empty, cut off, too large, moves, or is none of the kinds that are read.
    """
    return photo_read(path).facts


def photo_read(path: Path) -> PhotoRead:
    """Look at a photo file, every byte of it, and give it with what its camera told.

    Raises
    ------
    NoPhoto
        As `photo_facts` says.
    """
    file = _file(path)
    with _loaded(file) as picture:
        kind, facts = KINDS[picture.format or ""], _facts(picture.size, file.told)
    return PhotoRead(file.content, kind, facts, file.told.taken)


def upright(path: Path) -> Image.Image:
    """Give a photo as it is seen upright, in three colours.

    Raises
    ------
    NoPhoto
        As `photo_facts` says.
    """
    file = _file(path)
    with _loaded(file) as picture:
        return _turned(picture, file.told).convert("RGB")


@dataclass(frozen=True)
class PhotoSeen:
    """A photo to be looked at: the whole of it, in no more pixels than the glass has use for."""

    facts: PhotoFacts
    picture: Image.Image
    """Upright, in three colours."""


def photo_seen(path: Path, edge_px: int) -> PhotoSeen:
    """Give a photo as it is seen upright, its longer edge no longer than this.

    A JPEG is decoded no larger than it has to be, which is several times quicker.

    Raises
    ------
    NoPhoto
        As `photo_facts` says.
    """
    file = _file(path)
    with _opened(file) as picture:
        facts = _facts(picture.size, file.told)
        share = min(1, edge_px / max(picture.size))
        picture.draft("RGB", (int(picture.width * share), int(picture.height * share)))
        picture.thumbnail((edge_px, edge_px), Image.Resampling.BILINEAR, reducing_gap=2.0)
        return PhotoSeen(facts, _turned(picture, file.told).convert("RGB"))


def _facts(size: tuple[int, int], told: Told) -> PhotoFacts:
    width, height = size[::-1] if told.orientation in _TURNED else size
    focal = told.focal_equivalent_mm
    return PhotoFacts(width, height, None if focal is None else float(focal))


@dataclass(frozen=True)
class _File:
    """A file that may be a photo. No stranger's word goes on from here to the decoder."""

    name: str
    content: bytes
    told: Told


def _file(path: Path) -> _File:
    content = _content(path)
    if moves(content):
        raise NoPhoto(path.name, "it moves")
    told = told_in(told_beside(content))
    return _File(path.name, stripped(content, told), told)


def _turned(picture: Image.Image, told: Told) -> Image.Image:
    way = _UPRIGHT_BY.get(told.orientation)
    return picture if way is None else picture.transpose(way)


@contextmanager
def _opened(file: _File) -> Iterator[Image.Image]:
    """Open a picture, and say in plain words what of it can't be used."""
    try:
        with Image.open(BytesIO(file.content), formats=tuple(KINDS)) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                raise NoPhoto(file.name, f"more than {MOST_PIXELS // 1_000_000} megapixels")
            yield picture
    except UnidentifiedImageError:
        raise NoPhoto(file.name, _other_kind(file.content)) from None
    except Image.DecompressionBombError:
        raise NoPhoto(file.name, "it has too many pixels") from None
    except (OSError, ValueError, SyntaxError) as error:
        raise NoPhoto(file.name, "the picture is cut off or damaged") from error


@contextmanager
def _loaded(file: _File) -> Iterator[Image.Image]:
    """Open a picture, and look at every byte of it."""
    with _opened(file) as picture:
        picture.load()
        yield picture


def _other_kind(content: bytes) -> str:
    if content[4:8] == b"ftyp":
        return _OTHERS.get(content[8:12], "it is a film, no photo")
    if content.startswith((JPEG_START, PNG_START)) or is_webp(content):
        return "the picture is cut off or damaged"
    return "it is no JPEG, PNG or WebP picture"


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
