"""The parts that a picture's file is made of, none of them decoded: JPEG, PNG and WebP.

So a file that is still being written is known by its missing end, and what does not belong to
the picture can be left out without touching a pixel.
"""

import struct
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

JPEG_START: Final = b"\xff\xd8"
PNG_START: Final = b"\x89PNG\r\n\x1a\n"
_SCAN, JPEG_END = 0xDA, 0xD9
_ALONE: Final = frozenset((0x01, *range(0xD0, 0xD8)))
"""JPEG markers that no length follows (ITU-T T.81, table B.1)."""
_JPEG_TELLS: Final = b"\xe1"
PNG_END: Final = b"IEND"


@dataclass(frozen=True)
class Piece:
    """One part of a file, as it stands there: its name, what it holds, and all of its bytes."""

    name: bytes
    holds: bytes
    whole: bytes


def ends(content: bytes) -> bool:
    """Whether a picture's own end is there; of other kinds of file nothing is known."""
    if content.startswith(JPEG_START):
        return any(piece.name == bytes((JPEG_END,)) for piece in jpeg_pieces(content))
    if content.startswith(PNG_START):
        return any(piece.name == PNG_END for piece in png_pieces(content))
    if is_webp(content):
        (size,) = struct.unpack_from("<I", content, 4)
        return bool(len(content) >= size + 8)
    return bool(content)


def told_beside(content: bytes) -> bytes:
    """Give what a camera tells beside its picture (Exif), as it stands there; empty if nothing."""
    if content.startswith(PNG_START):
        told = (it.holds for it in png_pieces(content) if it.name == b"eXIf")
    elif is_webp(content):
        told = (it.holds for it in webp_pieces(content) if it.name == b"EXIF")
    else:
        told = (it.holds for it in jpeg_pieces(content) if it.name == _JPEG_TELLS)
        told = (it for it in told if it.startswith(b"Exif\0\0"))
    return next(told, b"")


def moves(content: bytes) -> bool:
    """Whether a picture says of itself that it moves."""
    if content.startswith(PNG_START):
        return any(piece.name == b"acTL" for piece in png_pieces(content))
    return is_webp(content) and any(piece.name == b"ANIM" for piece in webp_pieces(content))


def jpeg_pieces(content: bytes) -> Iterator[Piece]:
    """Yield a JPEG's segments after its start, each scan with its coded picture.

    It stops at the picture's end: what cameras put behind it (a film, a second picture) is no
    part of it. A file that is cut off has no end.
    """
    at = len(JPEG_START)
    while True:
        at = content.find(b"\xff", at)
        while at >= 0 and content[at + 1 : at + 2] == b"\xff":
            at += 1
        if at < 0 or at + 2 > len(content):
            return
        marker = content[at + 1]
        end = _jpeg_end(content, at, marker)
        if end is None:
            return
        yield Piece(bytes((marker,)), content[at + 4 : end], content[at:end])
        if marker == JPEG_END:
            return
        at = end


def _jpeg_end(content: bytes, at: int, marker: int) -> int | None:
    if marker == JPEG_END or marker in _ALONE or marker == 0:
        return at + 2
    if at + 4 > len(content):
        return None
    end = at + 2 + int.from_bytes(content[at + 2 : at + 4], "big")
    if end > len(content):
        return None
    return _scan_end(content, end) if marker == _SCAN else end


def _scan_end(content: bytes, at: int) -> int | None:
    """Find where a coded picture ends: at the first marker that is no part of it."""
    while True:
        at = content.find(b"\xff", at)
        if at < 0 or at + 2 > len(content):
            return None
        follows = content[at + 1]
        if follows not in (0x00, 0xFF) and follows not in _ALONE:
            return at
        at += 1 if follows == 0xFF else 2  # noqa: PLR2004


def png_pieces(content: bytes) -> Iterator[Piece]:
    """Yield a PNG's chunks up to its end (ISO/IEC 15948, clause 5)."""
    at = len(PNG_START)
    while at + 12 <= len(content):
        end = at + 12 + int.from_bytes(content[at : at + 4], "big")
        if end > len(content):
            return
        name = content[at + 4 : at + 8]
        yield Piece(name, content[at + 8 : end - 4], content[at:end])
        if name == PNG_END:
            return
        at = end


def is_webp(content: bytes) -> bool:
    """Whether a file begins as WebP does (RFC 9649)."""
    return content[:4] == b"RIFF" and content[8:12] == b"WEBP"


def webp_pieces(content: bytes) -> Iterator[Piece]:
    """Yield a WebP's chunks (RFC 9649, section 2.3)."""
    at = 12
    while at + 8 <= len(content):
        size = int.from_bytes(content[at + 4 : at + 8], "little")
        end = min(at + 8 + size + size % 2, len(content))
        yield Piece(content[at : at + 4], content[at + 8 : at + 8 + size], content[at:end])
        at = end
