"""`lastrow measure`: what taps on a photo come to, and one plain sentence for what can't be."""

from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from schemas.taps import Measurement
from tests.photos.files import (
    EQUIVALENT_MM,
    FOUR_HUNDRED_PX,
    METRE_PX,
    mesh,
    photo,
    taps,
    wanted,
)
from tests.unit.cli.conftest import Terminal

HOLE = (("760", "447"), ("1023", "417"), ("1000", "600"), ("780", "620"))


@pytest.fixture
def seen(tmp_path: Path) -> Path:
    return photo(tmp_path / "torn.jpg", equivalent_mm=EQUIVALENT_MM)


def test_a_length_is_told_with_how_sure_it_is(
    lastrow: Terminal, seen: Path, tmp_path: Path
) -> None:
    told = lastrow("measure", seen, taps(tmp_path / "taps.json", wanted(name="slit")))

    assert told.code == 0
    assert "slit" in told.out
    assert "400 ± " in told.out
    assert "33° aside" in told.out


def test_as_json_it_is_what_the_schema_says(lastrow: Terminal, seen: Path, tmp_path: Path) -> None:
    several = (wanted(), wanted("area", HOLE), wanted("lap", (*METRE_PX[:2], METRE_PX[2])))
    told = lastrow("measure", seen, taps(tmp_path / "taps.json", *several), "--json")
    found = Measurement.model_validate(told.json)

    assert [it.unit for it in found.results] == ["mm", "m2", "mm"]
    assert [it.value for it in found.results][::2] == ["400", "1000"]
    assert found.focal_length == "told by the camera"


def test_what_is_measured_is_drawn_on_a_copy(
    lastrow: Terminal, seen: Path, tmp_path: Path
) -> None:
    was, drawn = seen.read_bytes(), tmp_path / "drawn.png"
    told = lastrow("measure", seen, taps(tmp_path / "taps.json"), "--drawn", drawn)

    assert told.code == 0
    assert seen.read_bytes() == was
    with Image.open(drawn) as picture:
        assert picture.size == (1920, 1080)
        assert len(picture.getcolors(99_999) or ()) > 2, "nothing is drawn on it"


def test_a_copy_is_a_picture(lastrow: Terminal, seen: Path, tmp_path: Path) -> None:
    file = taps(tmp_path / "taps.json")
    told = lastrow("measure", seen, file, "--drawn", tmp_path / "drawn.doc")

    assert told.code == 2
    assert told.sentence == "No picture can be written to drawn.doc."


def test_a_camera_that_tells_no_focal_length_is_said_so(lastrow: Terminal, tmp_path: Path) -> None:
    silent = photo(tmp_path / "silent.jpg")
    told = lastrow("measure", silent, taps(tmp_path / "taps.json"))

    assert "does not tell its focal length" in told.out


def test_a_photo_that_lies_on_its_side_is_measured_upright(
    lastrow: Terminal, tmp_path: Path
) -> None:
    """Exif 2.32, tag 274: 6 is turned a quarter; its taps are those of 1920 × 1080."""
    turned = photo(tmp_path / "turned.jpg", (1080, 1920), orientation=6, equivalent_mm=26)
    told = lastrow("measure", turned, taps(tmp_path / "taps.json"), "--json").json

    assert (told["photo_width_px"], told["photo_height_px"]) == (1920, 1080)
    assert told["results"][0]["value"] == "400"


@pytest.mark.parametrize(
    ("corners", "apart", "caution"),
    [
        ((("100", "100"), ("900", "400"), ("900", "520"), ("100", "800")), "0", "aside: step in"),
        ((("900", "500"), ("960", "500"), ("960", "560"), ("900", "560")), "0", "frame is small"),
        (METRE_PX, "60", "60 mm apart: measure the lap with a tape"),
    ],
    ids=["oblique", "too small", "two sheets apart"],
)
def test_a_doubtful_frame_is_warned_about(
    corners: Any, apart: str, caution: str, lastrow: Terminal, seen: Path, tmp_path: Path
) -> None:
    file = taps(tmp_path / "taps.json", wanted(points=corners[:2]), frame=mesh(corners))
    text = file.read_text().replace('"measure"', f'"sheets_apart_mm": "{apart}", "measure"')
    file.write_text(text)

    assert caution in lastrow("measure", seen, file).out


def test_what_lies_far_outside_the_frame_is_warned_about(
    lastrow: Terminal, seen: Path, tmp_path: Path
) -> None:
    small = mesh(
        (("760", "447"), ("830", "440"), ("832", "510"), ("765", "516")),
        openings_across=1,
        openings_along=1,
    )
    told = lastrow("measure", seen, taps(tmp_path / "taps.json", frame=small), "--json").json

    assert told["results"][0]["warnings"] == [
        "more than half a frame outside it: put the frame nearer"
    ]


@pytest.mark.parametrize(
    ("measure", "frame", "sentence"),
    [
        (wanted(points=(("5000", "1"), ("2", "2"))), None, "at length: a point lies outside"),
        (wanted("area", FOUR_HUNDRED_PX), None, "at area: it has 2 points, 3 or more are needed"),
        (wanted("lap", FOUR_HUNDRED_PX), None, "at lap: it has 2 points, 3 are needed"),
        (wanted(), mesh(METRE_PX[::2] + METRE_PX[1::2]), "at the frame: the corners do not go"),
        (wanted("area", METRE_PX[::2] + METRE_PX[1::2]), None, "at area: the outline crosses"),
        (wanted(), mesh((METRE_PX[0],) * 4), "at the frame: the corners do not go round"),
    ],
    ids=[
        "outside the photo",
        "an area of two",
        "a lap of two",
        "crossing",
        "an eight",
        "one point",
    ],
)
def test_taps_that_measure_nothing_are_named(
    measure: Any, frame: Any, sentence: str, lastrow: Terminal, seen: Path, tmp_path: Path
) -> None:
    told = lastrow("measure", seen, taps(tmp_path / "taps.json", measure, frame=frame))

    assert told.code == 2
    assert told.sentence.startswith("Nothing can be measured")
    assert sentence in told.sentence


def test_three_taps_make_no_frame(lastrow: Terminal, seen: Path, tmp_path: Path) -> None:
    told = lastrow("measure", seen, taps(tmp_path / "taps.json", frame=mesh(METRE_PX[:3])))

    assert told.code == 2
    assert "corners_px" in told.sentence


def truncated(path: Path) -> Path:
    whole = photo(path).read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    return path


def of_bytes(path: Path, content: bytes) -> Path:
    path.write_bytes(content)
    return path


def moving(path: Path) -> Path:
    pictures = [Image.new("RGB", (64, 64), colour) for colour in ("black", "white")]
    pictures[0].save(path, save_all=True, append_images=pictures[1:])
    return path


@pytest.mark.parametrize(
    ("make", "reason"),
    [
        (lambda at: of_bytes(at / "empty.jpg", b""), "it is empty"),
        (lambda at: truncated(at / "torn.jpg"), "cut off or damaged"),
        (lambda at: moving(at / "moving.webp"), "it moves"),
        (lambda at: of_bytes(at / "film.jpg", b"\0\0\0\x18ftypmp42" + bytes(999)), "a film"),
        (lambda at: of_bytes(at / "new.heic", b"\0\0\0\x18ftypheic" + bytes(999)), "it is HEIC"),
        (lambda at: photo(at / "large.png", (20_000, 10_000)), "pixels"),
        (lambda at: at / "nowhere.jpg", "no such file"),
        (lambda at: at, "is a directory"),
    ],
    ids=["0 bytes", "cut off", "animated", "a film", "HEIC", "200 MP", "missing", "a folder"],
)
def test_what_is_no_photo_is_refused_in_one_sentence(
    make: Any, reason: str, lastrow: Terminal, tmp_path: Path
) -> None:
    told = lastrow("measure", make(tmp_path), taps(tmp_path / "taps.json"))

    assert told.code == 2
    assert told.sentence.startswith("The photo ")
    assert reason in told.sentence


def test_ink_of_four_colours_is_a_photo_too(lastrow: Terminal, tmp_path: Path) -> None:
    path = tmp_path / "printed.jpg"
    Image.new("CMYK", (1920, 1080)).save(path)

    assert lastrow("measure", path, taps(tmp_path / "taps.json")).code == 0
