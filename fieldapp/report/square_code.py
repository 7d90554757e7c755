"""The square code (QR) on sheets, as black squares for any pen and as a picture of its own."""

from io import BytesIO

from fieldapp.report.pens.pen import Pen, Point, box

VERSION = 2
SIDE = 17 + 4 * VERSION
"""Modules on a side (ISO/IEC 18004, 6.1)."""
QUIET = 4
"""Modules of white on every side (ISO/IEC 18004, 6.3.8)."""


def modules(payload: str) -> list[list[bool]]:
    """Give the rows of a symbol, level Q, without its quiet zone; True is dark.

    Version 1 has no alignment pattern and is read far worse askew, so it is never used.
    """
    from qrcode import QRCode
    from qrcode.constants import ERROR_CORRECT_Q

    code = QRCode(version=VERSION, error_correction=ERROR_CORRECT_Q, border=0)
    code.add_data(payload, optimize=0)
    code.make(fit=True)
    return [[bool(dark) for dark in row] for row in code.modules]


def quiet_zone_mm(side_mm: float) -> float:
    """Say how wide the quiet zone is in a square of that side."""
    return side_mm * QUIET / (SIDE + 2 * QUIET)


def paint_square_code(pen: Pen, payload: str, corner: Point, side_mm: float) -> None:
    """Paint a symbol into a square, its quiet zone inside it."""
    rows = modules(payload)
    module = side_mm / (len(rows) + 2 * QUIET)
    left, top = corner[0] + QUIET * module, corner[1] + QUIET * module
    for down, row in enumerate(rows):
        for start, length in _dark_runs(row):
            place = (left + start * module, top + down * module)
            pen.fill(box(place, (length * module, module)), "text")


def square_code_png(payload: str, px_per_module: int = 8) -> bytes:
    """Give the symbol as a black-and-white picture with its quiet zone."""
    from PIL import Image

    rows = modules(payload)
    side = len(rows) + 2 * QUIET
    picture = Image.new("1", (side, side), 1)
    for down, row in enumerate(rows):
        for along, dark in enumerate(row):
            picture.putpixel((QUIET + along, QUIET + down), int(not dark))
    kept = BytesIO()
    large = (side * px_per_module, side * px_per_module)
    picture.resize(large, Image.Resampling.NEAREST).save(kept, "PNG", optimize=True)
    return kept.getvalue()


def _dark_runs(row: list[bool]) -> list[tuple[int, int]]:
    runs: list[tuple[int, int]] = []
    for along, dark in enumerate(row):
        if dark and runs and sum(runs[-1]) == along:
            runs[-1] = (runs[-1][0], runs[-1][1] + 1)
        elif dark:
            runs.append((along, 1))
    return runs
