"""A photo without what it tells of its owner: no name, no place, no serial number, no comment.

Only named parts are let through, so that what a camera invents tomorrow is left out too. Nothing
is decoded or coded again: the picture's own bytes stay as they are, bit for bit.
"""

import struct
import zlib
from typing import Final

from fieldapp.work.photo.exif import MARK, Told, kept_of
from fieldapp.work.photo.picture_parts import (
    JPEG_START,
    PNG_START,
    Piece,
    is_webp,
    jpeg_pieces,
    png_pieces,
    webp_pieces,
)

_JFIF, _COLOURS, _ADOBE = 0xE0, 0xE2, 0xEE
_APPLICATION: Final = range(0xE0, 0xF0)
_COMMENT: Final = 0xFE
_JFIF_HOLDS: Final = 12
"""Bytes of a JFIF segment before its small picture's size (ITU-T T.871, 10.1)."""
_PNG_KEPT: Final = frozenset(
    (b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"sBIT")
)
_WEBP_KEPT: Final = frozenset((b"VP8X", b"VP8 ", b"VP8L", b"ALPH", b"ICCP"))
_WEBP_TELLS, _WEBP_TELLS_XMP = 0x08, 0x04
"""Flags of the chunk VP8X that announce what its camera told (RFC 9649, 2.7.1)."""


def stripped(content: bytes, told: Told) -> bytes:
    """Give a picture's file with nothing but the picture, how it lies, and its lens.

    What is cut off stays cut off, and what is no picture at all is given back as it is.
    """
    exif = kept_of(told)
    if content.startswith(PNG_START):
        return _png(content, exif)
    if is_webp(content):
        return _webp(content, exif)
    return _jpeg(content, exif) if content.startswith(JPEG_START) else content


def _jpeg(content: bytes, exif: bytes) -> bytes:
    pieces = [_shortened(piece) for piece in jpeg_pieces(content) if _is_of_the_jpeg(piece)]
    if exif:
        body = MARK + exif
        tells = b"\xff\xe1" + struct.pack(">H", len(body) + 2) + body
        pieces.insert(1 if pieces and pieces[0].startswith(b"\xff\xe0") else 0, tells)
    return JPEG_START + b"".join(pieces)


def _is_of_the_jpeg(piece: Piece) -> bool:
    marker = piece.name[0]
    if marker not in _APPLICATION:
        return marker != _COMMENT
    return (
        (marker == _JFIF and piece.holds.startswith(b"JFIF\0"))
        or (marker == _COLOURS and piece.holds.startswith(b"ICC_PROFILE\0"))
        or (marker == _ADOBE and piece.holds.startswith(b"Adobe"))
    )


def _shortened(piece: Piece) -> bytes:
    """Take the small picture out of a JFIF segment: it may show more than the picture does."""
    if piece.name[0] != _JFIF:
        return piece.whole
    holds = piece.holds[:_JFIF_HOLDS].ljust(_JFIF_HOLDS, b"\0")
    return b"\xff\xe0\0\x10" + holds + b"\0\0"


def _png(content: bytes, exif: bytes) -> bytes:
    kept = [piece.whole for piece in png_pieces(content) if piece.name in _PNG_KEPT]
    if exif:
        named = b"eXIf" + exif
        tells = struct.pack(">I", len(exif)) + named + struct.pack(">I", zlib.crc32(named))
        kept.insert(1, tells)
    return PNG_START + b"".join(kept)


def _webp(content: bytes, exif: bytes) -> bytes:
    pieces = [piece for piece in webp_pieces(content) if piece.name in _WEBP_KEPT]
    kept = [_announcing(piece, exif) if piece.name == b"VP8X" else piece.whole for piece in pieces]
    if exif and pieces and pieces[0].name == b"VP8X":
        kept.append(b"EXIF" + struct.pack("<I", len(exif)) + exif + b"\0" * (len(exif) % 2))
    body = b"WEBP" + b"".join(kept)
    return b"RIFF" + struct.pack("<I", len(body)) + body


def _announcing(piece: Piece, exif: bytes) -> bytes:
    flags = int.from_bytes(piece.holds[:1]) & ~(_WEBP_TELLS | _WEBP_TELLS_XMP)
    flags |= _WEBP_TELLS if exif else 0
    return piece.whole[:8] + bytes((flags,)) + piece.whole[9:]
