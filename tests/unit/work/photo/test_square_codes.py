"""Pictures of square codes as they come from cameras, sticks and strangers."""

import struct
import zlib
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, ImageFilter

from fieldapp.report.square_code import square_code_png
from fieldapp.work.photo.file import NoPhoto
from fieldapp.work.photo.square_codes import LOOKS, looks, texts_in_photo

SAID = "7TMA-8RHN"


def chunk(kind: bytes, content: bytes) -> bytes:
    body = kind + content
    return struct.pack(">I", len(content)) + body + struct.pack(">I", zlib.crc32(body))


def kept(content: bytes, folder: Path) -> Path:
    path = folder / "code.png"
    path.write_bytes(content)
    return path


def test_a_square_code_is_read_from_a_photograph_of_it(tmp_path: Path) -> None:
    with Image.open(BytesIO(square_code_png(SAID))) as shown:
        shown.convert("L").save(tmp_path / "code.jpg", "JPEG", quality=60)

    assert texts_in_photo(kept(square_code_png(SAID), tmp_path)) == (SAID,)
    assert texts_in_photo(tmp_path / "code.jpg") == (SAID,)


def test_a_blurred_one_is_read_with_patience(tmp_path: Path) -> None:
    with Image.open(BytesIO(square_code_png(SAID, px_per_module=8))) as shown:
        blurred = shown.convert("L").filter(ImageFilter.GaussianBlur(4.4))
    blurred.save(tmp_path / "blurred.png")

    at_once, *later = looks(tmp_path / "blurred.png")
    assert at_once == ()
    assert (SAID,) in later
    assert texts_in_photo(tmp_path / "blurred.png") == (SAID,)


def test_a_picture_without_one_says_nothing_after_every_look(tmp_path: Path) -> None:
    Image.new("L", (300, 200), 128).save(tmp_path / "grey.png")

    assert list(looks(tmp_path / "grey.png")) == [()] * LOOKS


@pytest.mark.parametrize(
    ("torn", "reason"),
    [
        (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", b"\x00\x00\x00\x01"), "cut off or damaged"),
        (square_code_png(SAID)[:60], "cut off or damaged"),
        (b"P5 2x0 255 ", "no JPEG, PNG or WebP"),
        (b"", "empty"),
    ],
    ids=["a short header", "cut off", "of another kind", "empty"],
)
def test_what_is_no_photo_is_refused_as_any_photo_is(
    torn: bytes, reason: str, tmp_path: Path
) -> None:
    with pytest.raises(NoPhoto) as caught:
        texts_in_photo(kept(torn, tmp_path))

    assert reason in caught.value.reason
