"""What a camera tells beside a picture: the few things that are read, and the two that are kept.

A stranger wrote it, so it is read by offsets that are checked, and whatever is torn, loops or
lies counts as not told. Source: Exif 2.32 (CIPA DC-008-2019) on TIFF 6.0.
"""

import struct
from dataclasses import dataclass
from datetime import datetime
from typing import Final

MARK: Final = b"Exif\0\0"
"""Stands before it in a JPEG."""
UPRIGHT: Final = 1
_ORIENTATION, _DETAILS = 0x0112, 0x8769
_TAKEN, _OFFSET, _FOCAL_ON_FILM = 0x9003, 0x9011, 0xA405
_TEXT, _SHORT, _LONG = 2, 3, 4
_MOST_TAGS: Final = 500
_BELIEVED_MM: Final = range(8, 201)
_TIME_LENGTH: Final = 19


@dataclass(frozen=True)
class Told:
    """What is read of it."""

    orientation: int = UPRIGHT
    """Tag 274: how the picture lies, 1 to 8."""
    focal_equivalent_mm: int | None = None
    """As on film 36 mm wide."""
    taken: datetime | None = None
    """By the camera's clock; without a zone where it told none."""


def told_in(exif: bytes) -> Told:
    """Read what a camera told. Never refuses: what can't be read was not told."""
    tiff = exif.removeprefix(MARK)
    order = {b"II*\0": "<", b"MM\0*": ">"}.get(tiff[:4])
    if order is None:
        return Told()
    first = _tags(tiff, order, _number_at(tiff, order, 4))
    details = _tags(tiff, order, _number(tiff, order, first.get(_DETAILS)))
    orientation = _number(tiff, order, first.get(_ORIENTATION))
    focal = _number(tiff, order, details.get(_FOCAL_ON_FILM))
    return Told(
        orientation=orientation if orientation and orientation in range(1, 9) else UPRIGHT,
        focal_equivalent_mm=focal if focal in _BELIEVED_MM else None,
        taken=_taken(_words(tiff, order, details, _TAKEN), _words(tiff, order, details, _OFFSET)),
    )


def kept_of(told: Told) -> bytes:
    """Write what stays with a picture: how it lies, and its lens. Empty where neither is told.

    Without the first it would be seen on its side by everybody else, without the second nothing
    could be measured on it. Who took it, where, when and with which camera is left out.
    """
    if told.orientation == UPRIGHT and told.focal_equivalent_mm is None:
        return b""
    details_at = 8 + 2 + 2 * 12 + 4
    first = [(_ORIENTATION, _SHORT, told.orientation), (_DETAILS, _LONG, details_at)]
    details = []
    if told.focal_equivalent_mm is not None:
        details.append((_FOCAL_ON_FILM, _SHORT, told.focal_equivalent_mm))
    return b"II*\0" + struct.pack("<I", 8) + _written(first) + _written(details)


def _written(tags: list[tuple[int, int, int]]) -> bytes:
    lines = (struct.pack("<HHII", tag, kind, 1, value) for tag, kind, value in tags)
    return struct.pack("<H", len(tags)) + b"".join(lines) + bytes(4)


Line = tuple[int, int, int]
"""Kind of the value, how many, and the place of the value itself or of where it lies."""


def _tags(tiff: bytes, order: str, at: int | None) -> dict[int, Line]:
    """Give the tags of one directory; it never leads to another one by itself."""
    if not at or at + 2 > len(tiff):
        return {}
    (count,) = struct.unpack_from(order + "H", tiff, at)
    found: dict[int, Line] = {}
    for place in range(at + 2, at + 2 + 12 * min(count, _MOST_TAGS), 12):
        if place + 12 > len(tiff):
            break
        tag, kind, number = struct.unpack_from(order + "HHI", tiff, place)
        found.setdefault(tag, (kind, number, place + 8))
    return found


def _number(tiff: bytes, order: str, line: Line | None) -> int | None:
    if line is None or line[0] not in (_SHORT, _LONG) or line[1] != 1:
        return None
    if line[0] == _LONG:
        return _number_at(tiff, order, line[2])
    (value,) = struct.unpack_from(order + "H", tiff, line[2])
    return int(value)


def _number_at(tiff: bytes, order: str, at: int) -> int | None:
    if at + 4 > len(tiff):
        return None
    (value,) = struct.unpack_from(order + "I", tiff, at)
    return int(value)


def _words(tiff: bytes, order: str, tags: dict[int, Line], tag: int) -> str:
    kind, number, at = tags.get(tag, (0, 0, 0))
    start = _number_at(tiff, order, at)
    if kind != _TEXT or start is None or number > 100:  # noqa: PLR2004 - a time has 19
        return ""
    return tiff[start : start + number].rstrip(b"\0 ").decode("ascii", "replace")


def _taken(time: str, offset: str) -> datetime | None:
    """Read `2031:05:03 09:47:00` and `+02:00`."""
    day = time[:10].replace(":", "-")
    for zone in (offset, ""):
        try:
            return datetime.fromisoformat(f"{day}T{time[11:_TIME_LENGTH]}{zone}")
        except ValueError:
            continue
    return None
