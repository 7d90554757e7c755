"""A new photo is held against the newest of the place from an earlier visit."""

from datetime import UTC, datetime
from pathlib import Path

from fieldapp.work.photo.before import photo_before, photo_with
from fieldapp.work.photo.photographs import keep_photo, photo_path
from tests.photos.files import photo
from tests.photos.taken import TAKEN, taken
from tests.unit.work.conftest import Shift

PLACE, OTHER = "0" * 36, "1" * 36
THREE_DAYS_AGO = datetime.strptime(TAKEN, "%Y:%m:%d %H:%M:%S").replace(tzinfo=UTC)


def test_what_was_taken_on_this_visit_is_no_photo_from_before(
    shift: Shift, tmp_path: Path
) -> None:
    keep_photo(shift.site, photo(tmp_path / "now.jpg"), shift.who(), PLACE)
    assert photo_before(shift.site, PLACE) is None

    keep_photo(shift.site, taken(tmp_path / "old.jpg"), shift.who(), OTHER)
    found = photo_before(shift.site, PLACE, OTHER)
    assert found is not None
    assert found.taken_at == THREE_DAYS_AGO


def test_one_that_did_not_arrive_here_leaves_it_to_the_one_before(
    shift: Shift, tmp_path: Path
) -> None:
    old = keep_photo(shift.site, taken(tmp_path / "old.jpg"), shift.who(), PLACE)
    newer = keep_photo(shift.site, photo(tmp_path / "now.jpg"), shift.who(), PLACE)
    photo_path(shift.site, newer.body).unlink()

    found = photo_with(shift.site, (newer.id, old.id))
    assert found is not None
    assert found.taken_at == THREE_DAYS_AGO
    assert photo_with(shift.site, (newer.id,)) is None
