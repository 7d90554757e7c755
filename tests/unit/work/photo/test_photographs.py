"""A photo is kept whole, upright for everybody, and without what it tells of its owner."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from PIL import Image

from fieldapp.work.photo.exif import told_in
from fieldapp.work.photo.file import NoPhoto, photo_facts, photo_seen, upright
from fieldapp.work.photo.photographs import keep_photo, keep_taken, photo_path, photos_of
from fieldapp.work.photo.sources import own_camera
from fieldapp.work.photo.thumbnails import THUMBNAILS, thumbnail
from fieldapp.work.withdrawals import withdraw
from tests.photos.files import photo
from tests.photos.taken import FORMATS, SECRETS, bomb_exif, laid_down, quarters, taken
from tests.unit.work.conftest import Shift

DAMAGE = "01c2a8d6-4d20-7b11-9c35-0a4e6f2d8b19"
every_kind = pytest.mark.parametrize("ending", FORMATS)


def kept_file(shift: Shift, file: Path) -> Path:
    kept = keep_photo(shift.site, file, shift.who(), DAMAGE)
    return photo_path(shift.site, kept.body)


def test_a_photo_that_was_kept_is_found_by_what_it_shows(shift: Shift, tmp_path: Path) -> None:
    kept = keep_photo(shift.site, taken(tmp_path / "a.jpg"), shift.who(), DAMAGE)
    shift.reopened()

    assert [it.id for it in photos_of(shift.site, DAMAGE)] == [kept.id]
    assert photos_of(shift.site, "another") == ()
    assert kept.body.taken_at == datetime(2031, 5, 3, 9, 47, tzinfo=UTC)
    assert kept.body.month == "203105"
    assert photo_path(shift.site, kept.body).stat().st_size == kept.body.size_bytes


@every_kind
def test_nothing_of_its_owner_is_kept_and_every_pixel_is(
    ending: str, shift: Shift, tmp_path: Path
) -> None:
    given = taken(tmp_path / f"a.{ending}", orientation=6)
    was = given.read_bytes()
    kept = kept_file(shift, given)

    assert [it for it in SECRETS if it in was], "the camera told nothing: this would say nothing"
    assert [it for it in SECRETS if it in kept.read_bytes()] == []
    assert given.read_bytes() == was, "the file that was given is never touched"
    with Image.open(given) as before, Image.open(kept) as after:
        assert after.size == before.size
        assert after.tobytes() == before.tobytes()


@every_kind
@pytest.mark.parametrize("orientation", range(1, 9))
def test_however_the_camera_was_held_it_is_seen_upright(
    orientation: int, ending: str, shift: Shift, tmp_path: Path
) -> None:
    """Exif 2.32, tag 274 Orientation, 1 to 8."""
    kept = kept_file(shift, taken(tmp_path / f"a.{ending}", orientation))
    facts = photo_facts(kept)

    for seen in (upright(kept), photo_seen(kept, 200).picture):
        wide, high = seen.size
        corners = [
            seen.getpixel((x, y)) for y in (high // 8, high * 7 // 8)
            for x in (wide // 8, wide * 7 // 8)
        ]  # fmt: skip
        assert [_near(it) for it in corners] == ["red", "green", "blue", "white"]
    assert (facts.width_px, facts.height_px) == (400, 300)
    assert facts.focal_equivalent_mm == 26


def _near(colour: object) -> str:
    assert isinstance(colour, tuple)
    bright = tuple(value > 100 for value in colour)
    names = {
        (True, False, False): "red",
        (False, True, False): "green",
        (False, False, True): "blue",
        (True, True, True): "white",
    }
    return names[bright]


def test_what_lies_on_its_side_differs_from_what_stands() -> None:
    """The statement above would hold of a picture that looks alike from all sides."""
    pictures = {laid_down(quarters((400, 400)), way).tobytes() for way in range(1, 9)}

    assert len(pictures) == 8


def test_a_photo_kept_twice_is_kept_once(shift: Shift, tmp_path: Path) -> None:
    given = taken(tmp_path / "a.jpg")
    first = keep_photo(shift.site, given, shift.who(), DAMAGE)
    shift.wait(days=40)
    again = keep_photo(shift.site, given, shift.who(), DAMAGE)
    elsewhere = keep_photo(shift.site, given, shift.who(), "another")

    assert again.id == first.id
    assert elsewhere.id != first.id
    assert elsewhere.body.month == first.body.month, "its file lies under one name"


def test_a_photo_without_an_entry_is_kept_again_as_if_new(shift: Shift, tmp_path: Path) -> None:
    """Cut off between the file and its entry, or withdrawn."""
    given = taken(tmp_path / "a.jpg")
    first = keep_photo(shift.site, given, shift.who(), DAMAGE)
    withdraw(shift.site, first.entry.revision, shift.who(), reason="the wrong place")
    again = keep_photo(shift.site, given, shift.who(), DAMAGE)

    assert [it.id for it in photos_of(shift.site, DAMAGE)] == [again.id]


def test_a_camera_that_knows_no_zone_is_believed_in_the_mine_s(
    shift: Shift, tmp_path: Path
) -> None:
    kept = keep_photo(shift.site, taken(tmp_path / "a.jpg", offset=""), None, DAMAGE)
    assert kept.body.taken_at is not None

    assert f"{kept.body.taken_at:%d %H:%M}" == "03 09:47"


def test_a_camera_whose_clock_runs_years_ahead_is_not_believed(
    shift: Shift, tmp_path: Path
) -> None:
    shift.clock.at = shift.clock.at.replace(year=2029)
    kept = keep_photo(shift.site, taken(tmp_path / "a.jpg"), shift.who(), DAMAGE)

    assert kept.body.taken_at is None
    assert kept.body.month == "202905"


def test_what_a_camera_tells_may_be_nonsense(shift: Shift, tmp_path: Path) -> None:
    """Directories that lead to themselves, and lengths of gigabytes."""
    kept = keep_photo(shift.site, bomb_exif(tmp_path / "bomb.jpg"), shift.who(), DAMAGE)

    assert kept.body.taken_at is None
    assert told_in(b"II*\0\xff\xff\xff\xff").orientation == 1


def test_a_telephone_s_second_picture_is_left_behind(shift: Shift, tmp_path: Path) -> None:
    """CIPA DC-007: a JPEG with further pictures behind the first."""
    given = tmp_path / "several.jpg"
    second = Image.new("RGB", (50, 50))
    quarters().save(given, "MPO", save_all=True, append_images=[second], exif=b"")
    kept = kept_file(shift, given)

    assert kept.stat().st_size < given.stat().st_size
    with Image.open(kept) as picture:
        assert (picture.format, picture.size) == ("JPEG", (400, 300))


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"", "it is empty"),
        (b"\xff\xd8\xff\xd9", "cut off or damaged"),
        (b"\0\0\0\x18ftypmp42" + bytes(99), "it is a film"),
        (b"\0\0\0\x18ftypheic" + bytes(99), "set the camera to JPEG"),
        (b"notes of a shift", "no JPEG, PNG or WebP"),
    ],
    ids=["0 bytes", "nothing between its ends", "a film", "HEIC", "a text"],
)
def test_what_is_no_photo_is_refused_and_left_as_it_was(
    content: bytes, reason: str, shift: Shift, tmp_path: Path
) -> None:
    given = tmp_path / "given.jpg"
    given.write_bytes(content)
    with pytest.raises(NoPhoto) as refused:
        keep_photo(shift.site, given, shift.who(), DAMAGE)

    assert reason in refused.value.reason
    assert given.read_bytes() == content
    assert photos_of(shift.site, DAMAGE) == ()
    assert shift.site.store.photos.held() == frozenset()


@every_kind
def test_a_photo_that_is_cut_off_is_refused(ending: str, shift: Shift, tmp_path: Path) -> None:
    given = taken(tmp_path / f"a.{ending}")
    given.write_bytes(given.read_bytes()[: given.stat().st_size // 2])

    with pytest.raises(NoPhoto):
        keep_photo(shift.site, given, shift.who(), DAMAGE)


def test_two_hundred_megapixels_are_refused(shift: Shift, tmp_path: Path) -> None:
    with pytest.raises(NoPhoto) as refused:
        keep_photo(shift.site, photo(tmp_path / "large.png", (20_000, 10_000)), None, DAMAGE)

    assert "pixels" in refused.value.reason


def test_ink_of_four_colours_is_kept(shift: Shift, tmp_path: Path) -> None:
    given = tmp_path / "printed.jpg"
    Image.new("CMYK", (400, 300)).save(given)

    assert photo_seen(kept_file(shift, given), 200).picture.mode == "RGB"


def test_a_thumbnail_is_made_anew_when_it_is_torn_or_gone(shift: Shift, tmp_path: Path) -> None:
    kept = keep_photo(shift.site, taken(tmp_path / "a.jpg", 6), shift.who(), DAMAGE).body
    first = thumbnail(shift.site, kept)
    assert first is not None
    (small,) = (shift.site.folder / THUMBNAILS).rglob("*.jpg")
    was = small.read_bytes()
    small.write_bytes(was[:100])
    again = thumbnail(shift.site, kept)

    assert again is not None
    assert again.size == first.size == (320, 240)
    assert small.read_bytes() == was


def test_a_photo_that_has_not_arrived_has_no_thumbnail(shift: Shift, tmp_path: Path) -> None:
    kept = keep_photo(shift.site, taken(tmp_path / "a.jpg"), shift.who(), DAMAGE).body
    photo_path(shift.site, kept).unlink()

    assert thumbnail(shift.site, kept) is None


@pytest.mark.parametrize("content", [b"", b"no picture"])
def test_what_the_own_camera_gave_goes_once_it_is_kept_or_can_not_be_used(
    shift: Shift, content: bytes
) -> None:
    folder = own_camera(shift.site.folder).folder
    folder.mkdir()
    good, bad = taken(folder / "taken-1.jpg"), folder / "taken-2.jpg"
    bad.write_bytes(content)
    keep_taken(shift.site, good, None, DAMAGE)
    with pytest.raises(NoPhoto):
        keep_taken(shift.site, bad, None, DAMAGE)

    assert list(folder.iterdir()) == []
    assert len(photos_of(shift.site, DAMAGE)) == 1


def test_what_lies_elsewhere_is_never_touched(shift: Shift, tmp_path: Path) -> None:
    given = taken(tmp_path / "a.jpg")
    keep_taken(shift.site, given, None, DAMAGE)

    assert given.exists()
