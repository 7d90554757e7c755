"""Photos as cameras write them: with a name, a place and a serial number in them."""

import struct
from io import BytesIO
from pathlib import Path
from typing import Final

from PIL import ExifTags, Image, PngImagePlugin

SECRETS: Final = (b"OWNER-OF-IT", b"SERIAL-4711", b"COMMENT-BY-HAND", b"WAS-HERE")
OWNER, SERIAL, COMMENT, PLACE = (it.decode() for it in SECRETS)
XMP: Final = b"<x:xmpmeta>WAS-HERE OWNER-OF-IT</x:xmpmeta>"
TAKEN: Final = "2031:05:03 09:47:00"
FORMATS: Final = {"jpg": "JPEG", "png": "PNG", "webp": "WEBP"}


def quarters(size: tuple[int, int] = (400, 300)) -> Image.Image:
    """Make a picture whose four quarters differ: red and green above, blue and white below."""
    wide, high = size
    picture = Image.new("RGB", size, "white")
    for box, colour in (
        ((0, 0, wide // 2, high // 2), (200, 0, 0)),
        ((wide // 2, 0, wide, high // 2), (0, 180, 0)),
        ((0, high // 2, wide // 2, high), (0, 0, 200)),
    ):
        picture.paste(colour, box)
    return picture


LYING: Final = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_270,
}
"""How a camera that was held so lays a picture down: Exif 2.32, tag 274."""


def laid_down(picture: Image.Image, orientation: int) -> Image.Image:
    way = LYING.get(orientation)
    return picture if way is None else picture.transpose(way)


def exif(orientation: int = 1, *, offset: str = "+00:00") -> Image.Exif:
    told = Image.Exif()
    told[ExifTags.Base.Orientation] = orientation
    told[ExifTags.Base.Artist] = OWNER
    told[ExifTags.Base.ImageDescription] = COMMENT
    details = told.get_ifd(ExifTags.IFD.Exif)
    details[ExifTags.Base.DateTimeOriginal] = TAKEN
    if offset:
        details[ExifTags.Base.OffsetTimeOriginal] = offset
    details[ExifTags.Base.FocalLengthIn35mmFilm] = 26
    details[ExifTags.Base.BodySerialNumber] = SERIAL
    place = told.get_ifd(ExifTags.IFD.GPSInfo)
    place[ExifTags.GPS.GPSAreaInformation] = PLACE
    return told


def taken(path: Path, orientation: int = 1, *, offset: str = "+00:00") -> Path:
    """Write a photo of `quarters` as a camera would that was held so; the ending says its kind."""
    kind = FORMATS[path.suffix[1:]]
    notes = PngImagePlugin.PngInfo()
    notes.add_text("Author", OWNER)
    notes.add_itxt("XML:com.adobe.xmp", XMP.decode())
    written = BytesIO()
    laid_down(quarters(), orientation).save(
        written,
        kind,
        exif=exif(orientation, offset=offset),
        xmp=XMP,
        comment=SECRETS[2],
        pnginfo=notes,
        quality=90,
    )
    path.write_bytes(
        written.getvalue() + (b"a film behind it, WAS-HERE" if kind == "JPEG" else b"")
    )
    return path


def bomb_exif(path: Path) -> Path:
    """Write a photo whose directories lead back to themselves and promise gigabytes."""
    looping = b"II*\0" + struct.pack("<IH", 8, 3)
    looping += struct.pack("<HHII", 0x8769, 4, 1, 8)  # the details are this directory again
    looping += struct.pack("<HHII", 0x9003, 2, 0xFFFF_FFFF, 0xFFFF_FFF0)
    looping += struct.pack("<HHII", 0x0112, 3, 0xFFFF_FFFF, 0xFFFF_FFF0)
    looping += struct.pack("<I", 8)
    quarters().save(path, "JPEG", exif=b"Exif\0\0" + looping)
    return path
