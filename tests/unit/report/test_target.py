"""The printed target has the size that photos are measured by, and says how to hold it."""

from io import BytesIO

import cv2
import numpy as np
import pytest
from PIL import Image

from fieldapp.report.colours import PAPER
from fieldapp.report.pens.pdf import A4, LETTER, Paper
from fieldapp.report.pens.png import PngPen
from fieldapp.report.target import MARK_MM, _mark, target_corners, target_pdf
from fieldapp.work.photo.frames_known import TARGET
from tests.demo_mine import PRESENT
from tests.unit.report.pages import runs_of

papers = pytest.mark.parametrize("paper", [A4, LETTER], ids=lambda paper: paper.name)


@papers
def test_its_marks_stand_as_far_apart_as_photos_are_measured_by(paper: Paper) -> None:
    (left, top), (right, _), (_, low), _ = target_corners(paper)

    assert right - left == float(TARGET.across_mm)
    assert low - top == float(TARGET.along_mm)


@papers
def test_a_printer_s_edge_cuts_no_mark_and_no_word_runs_into_one(paper: Paper) -> None:
    """Common practice, no source: a printer leaves 5 mm free."""
    corners = target_corners(paper)
    words = runs_of(target_pdf(PRESENT, paper))

    assert min(min(x, y) for x, y in corners) - MARK_MM >= 5
    assert words
    for run in words:
        for x, y in corners:
            up = paper.high_mm - y
            nearest = (min(max(x, run.x), run.right), min(max(up, run.y), run.top))
            assert np.hypot(nearest[0] - x, nearest[1] - up) > MARK_MM


def test_the_middle_of_a_mark_is_a_corner_that_a_program_finds_too() -> None:
    pen = PngPen((40, 40), 10, PAPER)
    _mark(pen, (20.0, 20.0))
    with Image.open(BytesIO(pen.png())) as picture:
        grey = np.asarray(picture.convert("L"))
    near = np.array([[[204.0, 197.0]]], dtype=np.float32)
    found = cv2.cornerSubPix(grey, near, (12, 12), (-1, -1), (3, 50, 0.001))

    assert found[0, 0] == pytest.approx((200, 200), abs=1)
