"""What is drawn over a photo is data: kept with each mark, undone, and the same for everybody."""

import random

from fieldapp.work.photo.marks import add_mark, marks_on, outline, spot, undo_mark
from fieldapp.work.writing import state
from schemas.bodies.photo_marks import MOST_POINTS, Arrow, PhotoMarks, Ring, Words
from tests.unit.work.conftest import Shift

PHOTO = "01c2a8d6-4d22-7b11-9c35-0a4e6f2d8b1a"
ARROW = Arrow(kind="arrow", from_spot=spot((0.1, 0.2)), to_spot=spot((0.3, 0.4)))
RING = Ring(kind="ring", centre=spot((0.5, 0.5)), rim=spot((0.6, 0.5)))
TORN = Words(kind="words", at=spot((0.2, 0.9)), text="torn")


def test_each_mark_is_on_the_disk_once_it_is_drawn(shift: Shift) -> None:
    add_mark(shift.site, PHOTO, ARROW, shift.who())
    add_mark(shift.site, PHOTO, TORN, shift.who())
    shift.reopened()

    assert marks_on(shift.site, PHOTO) == (ARROW, TORN)
    assert marks_on(shift.site, "another") == ()


def test_the_last_mark_is_taken_away_and_stays_in_the_record(shift: Shift) -> None:
    for mark in (ARROW, RING):
        add_mark(shift.site, PHOTO, mark, shift.who())
    undo_mark(shift.site, PHOTO, shift.who())
    said = [it.body["marks"] for it in shift.site.store.ledger.of_kind("photo_marks")]

    assert marks_on(shift.site, PHOTO) == (ARROW,)
    assert [len(marks) for marks in said] == [1, 2, 1]  # type: ignore[arg-type]


def test_with_nothing_drawn_there_is_nothing_to_undo(shift: Shift) -> None:
    add_mark(shift.site, PHOTO, ARROW, shift.who())
    undo_mark(shift.site, PHOTO, shift.who())

    assert undo_mark(shift.site, PHOTO, shift.who()) == ()


def test_what_two_tablets_drew_at_once_stands_together(shift: Shift) -> None:
    add_mark(shift.site, PHOTO, ARROW, shift.who())
    theirs = PhotoMarks(photo=PHOTO, marks=(TORN,))
    state(shift.site, "photo_marks", theirs, author=shift.who("Geotechnical engineer").person_id)

    assert marks_on(shift.site, PHOTO) == (ARROW, TORN)
    assert add_mark(shift.site, PHOTO, RING, shift.who()) == (ARROW, TORN, RING)
    assert undo_mark(shift.site, PHOTO, shift.who()) == (ARROW, TORN)


def test_a_finger_that_went_nowhere_drew_no_outline() -> None:
    assert outline([(0.5, 0.5)] * 9) is None
    assert outline([(0.1, 0.1), (0.9, 0.9)]) is None


def test_a_scribble_has_no_more_points_than_are_kept() -> None:
    chance = random.Random(5)  # noqa: S311 - a scribble, no secret
    drawn = outline([(chance.random(), chance.random()) for _ in range(4_000)])

    assert drawn is not None
    assert len(drawn.spots) <= MOST_POINTS
