"""The square code on a sheet is read back by a reader that isn't ours."""

import shutil
import subprocess
from io import BytesIO
from pathlib import Path

import zxingcpp
from PIL import Image

from fieldapp.report.colours import PAPER
from fieldapp.report.pens.png import PngPen
from fieldapp.report.round_sheet.code import parse_sheet_code, sheet_code
from fieldapp.report.round_sheet.head import CODE_MM
from fieldapp.report.round_sheet.whole import round_sheet
from fieldapp.report.square_code import modules, paint_square_code, square_code_png
from tests.not_tried import not_tried
from tests.unit.report.examples import HASH, ROUND_ID, SHEET

CODE = sheet_code(ROUND_ID, HASH)


def read(picture: Image.Image) -> list[str]:
    return [found.text for found in zxingcpp.read_barcodes(picture)]


def test_the_picture_of_the_code_is_read_back() -> None:
    picture = Image.open(BytesIO(square_code_png(CODE.payload))).convert("L")

    assert read(picture) == [CODE.payload]
    assert parse_sheet_code(CODE.payload).is_of(ROUND_ID, HASH)


def test_the_code_as_it_is_painted_on_the_sheet_is_read_back() -> None:
    # 8 px/mm is about 200 dots an inch: a photograph of the sheet from half a metre.
    pen = PngPen((CODE_MM, CODE_MM), 8.0, PAPER)
    paint_square_code(pen, CODE.payload, (0.0, 0.0), CODE_MM)

    assert read(Image.open(BytesIO(pen.png()))) == [CODE.payload]


def test_the_symbol_is_version_2() -> None:
    # ISO/IEC 18004: 25 modules on a side.
    assert {len(row) for row in modules(CODE.payload)} == {25}
    assert len(modules(CODE.payload)) == 25


def test_29_characters_are_the_most_at_level_q() -> None:
    # ISO/IEC 18004:2015, table 7, version 2: 29 alphanumeric characters at level Q, 38 at M and
    # 20 at H; as published tables of QR capacities repeat it.
    assert len(modules("A" * 29)) == 25
    assert len(modules("A" * 30)) == 29  # version 3


def test_its_level_is_q_as_the_symbol_itself_says() -> None:
    # ISO/IEC 18004:2015, 7.9.1 and table 12: level Q is 11, L 01, M 00, H 10; written beside the
    # upper left finder pattern, XORed with 101010000010010 (annex C).
    rows = modules(CODE.payload)
    written = [rows[8][0], rows[8][1]]
    mask = [True, False]

    assert [bit ^ flip for bit, flip in zip(written, mask, strict=True)] == [True, True]


def test_a_printed_sheet_shows_its_code(tmp_path: Path) -> None:
    printer = shutil.which("pdftoppm")
    if printer is None:
        not_tried("reading the code on a rendered sheet", "pdftoppm is not installed")
    sheet = tmp_path / "sheet.pdf"
    sheet.write_bytes(round_sheet(SHEET))
    command = [
        printer,
        "-r",
        "150",
        "-gray",
        "-png",
        "-singlefile",
        str(sheet),
        str(tmp_path / "sheet"),
    ]
    subprocess.run(command, check=True)  # noqa: S603  the path was just looked up

    assert read(Image.open(tmp_path / "sheet.png")) == [SHEET.code.payload]
