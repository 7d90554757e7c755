"""Pictures of square codes as they come from cameras, sticks and strangers."""

import struct
import zlib
from io import BytesIO

import pytest
from PIL import Image

from fieldapp.report.square_code import square_code_png
from fieldapp.work.square_codes import MOST_PIXELS, texts_in_picture

SAID = "7TMA-8RHN"


def chunk(kind: bytes, content: bytes) -> bytes:
    body = kind + content
    return struct.pack(">I", len(content)) + body + struct.pack(">I", zlib.crc32(body))


def huge(side: int) -> bytes:
    """Write a picture of so many pixels in a few bytes."""
    row = bytes(1 + (side + 7) // 8)
    packing = zlib.compressobj(9)
    packed = b"".join([*(packing.compress(row) for _ in range(side)), packing.flush()])
    size = struct.pack(">IIBBBBB", side, side, 1, 0, 0, 0, 0)
    parts = (chunk(b"IHDR", size), chunk(b"IDAT", packed), chunk(b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


def test_a_square_code_is_read_from_a_photograph_of_it() -> None:
    photograph = BytesIO()
    with Image.open(BytesIO(square_code_png(SAID))) as shown:
        shown.convert("L").save(photograph, "JPEG", quality=60)

    assert texts_in_picture(square_code_png(SAID)) == texts_in_picture(photograph.getvalue())
    assert texts_in_picture(square_code_png(SAID)) == (SAID,)


def test_a_picture_too_large_for_a_tablet_is_not_unpacked() -> None:
    side = 8000
    assert side * side > MOST_PIXELS
    assert len(content := huge(side)) < 20_000

    assert texts_in_picture(content) == ()


@pytest.mark.parametrize(
    "torn",
    [
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", b"\x00\x00\x00\x01"),
        square_code_png(SAID)[:60],
        b"P5 2x0 255 ",
        b"",
    ],
    ids=["a short header", "cut off", "of another kind", "empty"],
)
def test_a_torn_picture_says_nothing(torn: bytes) -> None:
    assert texts_in_picture(torn) == ()
