"""What is drawn over a photo is seen where it was drawn, on any picture, the photo untouched."""

from PIL import Image

from fieldapp.report.colours import DARK, rgb
from fieldapp.report.paint.photo import painted
from fieldapp.report.photo_shapes import shapes_of_marks, shapes_of_measurement
from fieldapp.work.photo.marks import spot
from schemas.bodies.photo_marks import Arrow, Ring, Words
from schemas.taps import MeasuredOnPhoto, Taps
from tests.photos.files import mesh, wanted

SIZE = (1920, 1080)
ASPECT = SIZE[1] / SIZE[0]
INK = tuple(round(part * 255) for part in rgb(DARK.rework))
RING = Ring(kind="ring", centre=spot((0.5, 0.5)), rim=spot((0.6, 0.5)))


def near(picture: Image.Image, at: tuple[float, float], reach: int = 4) -> set[object]:
    """Give the colours around a place."""
    x, y = round(at[0] * SIZE[0]), round(at[1] * SIZE[1])
    part = picture.crop((x - reach, y - reach, x + reach + 1, y + reach + 1))
    return {colour for _, colour in part.getcolors(9_999) or ()}


def test_a_ring_is_round_on_a_photo_that_is_wider_than_high() -> None:
    photo = Image.new("RGB", SIZE, "#808080")
    picture = painted(photo, shapes_of_marks((RING,), ASPECT))

    assert INK in near(picture, (0.6, 0.5))
    assert INK in near(picture, (0.5, 0.5 + 0.1 / ASPECT))
    assert near(picture, (0.5, 0.5)) == {(128, 128, 128)}
    assert photo.getcolors() == [(SIZE[0] * SIZE[1], (128, 128, 128))], "the photo is untouched"


def test_a_mark_is_seen_on_white_and_on_its_own_colour_by_its_dark_edge() -> None:
    ground = tuple(round(part * 255) for part in rgb(DARK.ground))
    arrow = Arrow(kind="arrow", from_spot=spot((0.2, 0.5)), to_spot=spot((0.7, 0.5)))
    for colour in ("white", DARK.rework):
        picture = painted(Image.new("RGB", SIZE, colour), shapes_of_marks((arrow,), ASPECT))

        assert ground in near(picture, (0.4, 0.5), 12)


def test_words_stand_on_a_ground_of_their_own_and_inside_the_photo() -> None:
    words = Words(kind="words", at=spot((0.999, 0.5)), text="plate gone")
    white = Image.new("RGB", SIZE, "white")
    picture = painted(white, shapes_of_marks((words,), ASPECT))
    counted = picture.getcolors(99_999) or ()
    ground = tuple(round(part * 255) for part in rgb(DARK.ground))
    dark = sum(count for count, colour in counted if colour == ground)

    assert dark > 2_000
    assert picture.size == SIZE


def test_a_result_is_written_beside_what_was_measured() -> None:
    taps = Taps.model_validate({"frame": mesh(), "measure": (wanted(),)})
    result = MeasuredOnPhoto(what="length", name="", value="400", plus_minus="27", unit="mm")
    shapes = shapes_of_measurement(taps, (result,), SIZE)

    assert [shape.text for shape in shapes if hasattr(shape, "text")] == ["400 ± 27 mm"]
