"""Labels on paper: read back by a reader that isn't ours, and by people."""

import shutil
import subprocess
from dataclasses import replace
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image

from fieldapp.report.label.form import (
    A4_FORM,
    ROLL,
    FormTooSmall,
    LabelForm,
    NoSuchPlace,
    read_from_m,
)
from fieldapp.report.label.labels import Label, labels_pdf, labels_png, module_mm
from fieldapp.report.letters import CAPITAL, MM_PER_POINT
from schemas.short_id import ShortId
from tests.not_tried import not_tried
from tests.unit.report.pages import flat, reader_of, runs_of, words_of

AT = datetime(2031, 5, 6, 9, 30, tzinfo=UTC)
PLACE = "1385 Main\u00a0· 608.3 m\u00a0· 1.2 m left of the crown"
LONG = "4180 Sublevel hanging-wall drive east, crosscut north 12, second bypass" * 3
NARROW = replace(A4_FORM, columns=2, rows=3, margin_left_mm=10.0, margin_top_mm=12.5)
FORMS = {"A4": A4_FORM, "roll": ROLL, "two columns": NARROW}
forms = pytest.mark.parametrize("form", FORMS.values(), ids=FORMS)


def label(digits: str = "7K3Q9XTR", place: str = PLACE) -> Label:
    return Label(ShortId(digits, "damage"), "Damage: torn mesh", place, "seen 6 May 2031")


def read(png: bytes) -> list[str]:
    return [it.text for it in zxingcpp.read_barcodes(Image.open(BytesIO(png)).convert("L"))]


@forms
def test_both_codes_of_a_label_are_read_back(form: LabelForm) -> None:
    (page,) = labels_png([label()], form)

    assert read(page) == [label().code.payload] * 2


@forms
@pytest.mark.parametrize("digits", ["7K3Q9XTR", "WWWWWWWW"])
def test_people_read_the_short_id_in_letters_of_10_mm(form: LabelForm, digits: str) -> None:
    large = [
        it
        for it in runs_of(labels_pdf([label(digits)], form, AT))
        if flat(it.text) in _lines(digits)
    ]

    assert {flat(it.text) for it in large} == _lines(digits)
    assert all(it.size_pt * MM_PER_POINT * CAPITAL >= 10.0 - 1e-6 for it in large)


def _lines(digits: str) -> set[str]:
    start, _, end = ShortId(digits).readable.partition("-")
    return {start, end}


@forms
@pytest.mark.parametrize("place", [PLACE, LONG], ids=["short", "long"])
def test_no_words_meet_others_or_leave_the_label(form: LabelForm, place: str) -> None:
    runs = runs_of(labels_pdf([label("WWWWWWWW", place)], form, AT))
    left, top = form.corner(0)

    for number, run in enumerate(runs):
        assert not [other for other in runs[number + 1 :] if run.meets(other)]
        assert left <= run.x <= run.right <= left + form.wide_mm
        assert top <= form.paper.high_mm - run.top
        assert form.paper.high_mm - run.y <= top + form.high_mm


def test_a_name_that_finds_no_room_is_seen_to_be_shortened() -> None:
    words = words_of(labels_pdf([label(place=LONG)], A4_FORM, AT))

    assert "…" in words
    assert "seen 6 May 2031" in words


def test_labels_go_on_where_a_sheet_was_used_before() -> None:
    things = [label(digits) for digits in ("00000001", "00000002", "00000003")]
    file = labels_pdf(things, A4_FORM, AT, start=3)
    first = [it for it in runs_of(file) if flat(it.text) in ("0000",)]

    assert len(reader_of(file).pages) == 2
    assert len(first) == 2
    high_mm = A4_FORM.paper.high_mm
    assert sorted(int((high_mm - it.y) // A4_FORM.high_mm) for it in first) == [2, 3]


@pytest.mark.parametrize("start", [0, 5])
def test_a_place_that_the_sheet_does_not_have_is_refused(start: int) -> None:
    with pytest.raises(NoSuchPlace):
        labels_pdf([label()], A4_FORM, AT, start=start)


@pytest.mark.parametrize(("columns", "rows"), [(1, 6), (3, 3), (4, 8)])
def test_a_label_without_room_for_its_codes_is_refused(columns: int, rows: int) -> None:
    form = replace(A4_FORM, columns=columns, rows=rows)

    with pytest.raises(FormTooSmall):
        labels_png([label()], form)


def test_the_size_that_a_refusal_names_is_enough() -> None:
    form = replace(A4_FORM, paper=replace(A4_FORM.paper, wide_mm=100.0, high_mm=97.0), rows=1)

    assert (form.wide_mm, form.high_mm) == (90.0, 80.0)
    assert labels_png([label()], form)


def test_the_same_labels_give_the_same_bytes() -> None:
    assert labels_pdf([label()], ROLL, AT) == labels_pdf([label()], ROLL, AT)


def test_a_module_of_1_8_mm_is_read_from_beyond_two_metres() -> None:
    # By hand: 4000 px over 2·tan 32.5° = 1.274 m at 1 m; 3.14 px/mm; 2.5 px a module.
    assert read_from_m(1.8) == pytest.approx(2.26, abs=0.01)
    assert [round(read_from_m(module_mm(it)), 1) for it in (A4_FORM, ROLL)] == [2.3, 2.0]


def test_a_printed_page_is_read_back(tmp_path: Path) -> None:
    printer = shutil.which("pdftoppm")
    if printer is None:
        not_tried("reading the codes on a rendered label", "pdftoppm is not installed")
    (tmp_path / "labels.pdf").write_bytes(labels_pdf([label()], ROLL, AT))
    made = [str(tmp_path / name) for name in ("labels.pdf", "labels")]
    command = [printer, "-r", "150", "-gray", "-png", "-singlefile", *made]
    subprocess.run(command, check=True)  # noqa: S603  the path was just looked up

    assert read((tmp_path / "labels.png").read_bytes()) == [label().code.payload] * 2
