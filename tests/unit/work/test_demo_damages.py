"""What a newcomer to the demo finds: damage with a photograph, that holds nobody back."""

from fieldapp.work.board import board
from fieldapp.work.damage.stating import damages
from fieldapp.work.demo import record_damages
from fieldapp.work.photo.photographs import photo_path, photos_of
from tests.photos.underground import SHOWN
from tests.unit.work.conftest import Shift


def test_each_damage_of_the_demo_has_its_photograph_and_holds_no_entry(shift: Shift) -> None:
    before = board(shift.site, shift.clock())
    record_damages(shift.site)
    found = damages(shift.site, shift.clock())

    assert len(found) == len(SHOWN)
    assert {it.ranked.code for it in found} == {"P3", "P4"}
    assert {it.ranked.holds for it in found} == {"open"}
    for damage in found:
        (photo,) = photos_of(shift.site, damage.id)
        assert photo_path(shift.site, photo.body).stat().st_size == photo.body.size_bytes
    assert board(shift.site, shift.clock()) == before
