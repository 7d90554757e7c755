"""A photo that was acknowledged is there, whole; one that was not can be taken again."""

import shutil

import pytest

from fieldapp.start import open_site
from fieldapp.work.photo.marks import marks_on
from fieldapp.work.photo.photographs import photo_path, photos_of
from tests.faults import jobs
from tests.faults.killed import MakeTrial
from tests.made import STARTED_AT
from tests.not_tried import not_tried

pytestmark = pytest.mark.slow
LASTING = ("fsync", "fdatasync", "rename")
"""The steps by which something lasts: what is written between two of them is not there yet."""


def test_a_photo_is_kept_whole_or_can_be_taken_again(a_trial: MakeTrial) -> None:
    if not shutil.which("strace"):
        not_tried("killing a photo at every step on the disk", "strace is not installed")
    trial = a_trial("take_photo", lambda _store: None, calls=LASTING)
    for died in trial.killed_at_steps(1):
        said = trial.acknowledged()
        with (site := open_site(trial.folder, now=lambda: STARTED_AT)).store:
            photos = photos_of(site, jobs.DAMAGE)
            held = {name.sha256 for name in site.store.photos.held()}
            marked = [mark for it in photos for mark in marks_on(site, it.id)]

            assert len(photos) <= 1, died
            assert photos or "photo" not in said, died
            assert marked == [jobs.MARK] or "mark" not in said, died
            for it in photos:
                assert it.body.sha256 in held, died
                assert photo_path(site, it.body).stat().st_size == it.body.size_bytes, died
        trial.again()
        with (site := open_site(trial.folder, now=lambda: STARTED_AT)).store:
            (photo,) = photos_of(site, jobs.DAMAGE)

            assert marks_on(site, photo.id) == (jobs.MARK,), died
