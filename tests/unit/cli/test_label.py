"""Pegs and labels from a terminal."""

from io import BytesIO
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image

from tests.unit.cli.conftest import Terminal, Told
from tests.unit.report.pages import words_of

MAIN = "4180 Main"


def peg_add(lastrow: Terminal, home: Path, name: str = "P41") -> Told:
    return lastrow(
        "peg", "add", MAIN, name, "--at", "38.25", "--as", "Records keeper", "--home", home
    )


def test_a_peg_is_entered_listed_and_labelled(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    told = peg_add(lastrow, home)
    listed = lastrow("peg", "list", "--home", home).out
    code = told.out.split()[-1].rstrip(".")
    out = tmp_path / "labels.png"
    printed = lastrow("label", "p41", "--form", "roll", "--out", out, "--home", home)

    assert told.code == 0
    assert f"P41  {MAIN}  38.25 m   {code}" in listed
    assert printed.code == 0
    assert f"{code}  P41" in printed.out
    assert "Read from 2.0 m" in printed.out
    read = zxingcpp.read_barcodes(Image.open(BytesIO(out.read_bytes())).convert("L"))
    assert {it.text.replace("LR1:P/", "").replace("/", "") for it in read} == {
        code.replace("-", "")
    }


def test_a_demo_s_label_says_so(lastrow: Terminal, home: Path, tmp_path: Path) -> None:
    out = tmp_path / "labels.pdf"
    lastrow("label", MAIN, "--out", out, "--home", home)

    assert f"DEMO · Heading {MAIN}" in words_of(out.read_bytes())


def test_of_several_pictures_each_is_a_file(lastrow: Terminal, home: Path, tmp_path: Path) -> None:
    peg_add(lastrow, home)
    words = ("label", MAIN, "P41", "--form", "roll", "--out", tmp_path / "l.png", "--home", home)

    assert lastrow(*words).code == 0
    assert sorted(it.name for it in tmp_path.glob("*.png")) == ["l-2.png", "l.png"]


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("P99", "--out", "l.pdf"), "Nothing that bears a label is called P99."),
        ((MAIN, "--out", "l.docx"), "Labels can't be written to l.docx."),
        ((MAIN, "--out", "l.pdf", "--form", "a5"), "“a5” is no form."),
        (
            (MAIN, "--out", "l.pdf", "--columns", "4"),
            "A label of 50 × 70 mm is too small for two square codes and its short id.",
        ),
        (
            (MAIN, "--out", "l.pdf", "--start", "5"),
            "The sheet has 4 labels, so none can begin at 5.",
        ),
    ],
)
def test_a_label_that_can_t_be_printed_is_refused(
    words: tuple[str, ...], sentence: str, lastrow: Terminal, home: Path
) -> None:
    told = lastrow("label", *words, "--home", home)

    assert [told.code, told.sentence] == [2, sentence]


def test_a_label_s_photo_and_its_short_id_lead_to_the_same(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    out = tmp_path / "label.png"
    code = peg_add(lastrow, home).out.split()[-1].rstrip(".")
    lastrow("label", "P41", "--form", "roll", "--out", out, "--home", home)
    by_photo = lastrow("find", out, "--home", home)

    assert by_photo.code == 0
    assert by_photo.out == lastrow("find", code.lower(), "--home", home).out
    assert by_photo.out.startswith(
        f"{code}  Survey peg P41\n  {MAIN} · 38.2 m, entered 6 May 2031"
    )


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        (
            "7K3Q-9XTR-M",
            "The label 7K3Q-9XTR-M can be read, but what it names is not known on this tablet.",
        ),
        (
            "7K3Q-9XTR",
            "“7K3Q-9XTR” is no short id: it has 8 characters in place of 9.",
        ),
        (
            "https://example.invalid",
            "The square code is not ours: it says “HTTPS://EXAMPLE.INVALID”.",
        ),
    ],
)
def test_a_label_that_leads_nowhere_says_so(
    given: str, sentence: str, lastrow: Terminal, home: Path
) -> None:
    told = lastrow("find", given, "--home", home)

    assert [told.code, told.sentence] == [2, sentence]
