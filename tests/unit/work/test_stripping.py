"""Stripping in a heading: what it withdraws, who may state it, and what doesn't end it."""

from decimal import Decimal

import pytest

from fieldapp.work.demo.story import MAIN
from fieldapp.work.events import events
from fieldapp.work.notices import inspect
from fieldapp.work.stripping import StretchRefused, report_stripped
from schemas.bodies.event import Stripped
from tests.unit.work.conftest import Shift

LEFT = Stripped(to_m=Decimal(590), zones=("left wall",), depth_m=Decimal("1.5"))


def strip(shift: Shift, from_m: str = "580.0", stripped: Stripped = LEFT) -> None:
    report_stripped(shift.site, shift.place(MAIN).id, Decimal(from_m), stripped, None)


def test_anybody_states_it_signed_in_or_not_and_entry_ends_before_it(shift: Shift) -> None:
    before = shift.entry(MAIN)
    strip(shift)
    now = shift.entry(MAIN)

    assert now.line_m == Decimal("580.0") - Decimal("1.8")
    assert now.because[0].startswith("left wall stripped from 580.0 to 590.0 m")
    assert now.coverage.signed_m <= before.coverage.signed_m


def test_no_inspection_ends_it(shift: Shift) -> None:
    strip(shift)
    shift.wait(hours=1)
    said = inspect(shift.site, shift.place(MAIN).id, shift.who(), up_to_m=Decimal(612))

    assert said.body.lifts == ()
    assert shift.entry(MAIN).line_m == Decimal("578.2")


def test_it_is_kept_as_it_was_stated(shift: Shift) -> None:
    strip(shift)
    (kept,) = (it.body for it in events(shift.site, shift.place(MAIN).id) if it.body.stripped)

    assert (kept.chainage_m, kept.stripped) == (Decimal("580.0"), LEFT)


@pytest.mark.parametrize("from_m", ["590", "600", "9000"])
def test_a_stretch_that_the_heading_does_not_have_is_refused(shift: Shift, from_m: str) -> None:
    before = shift.entry(MAIN)
    with pytest.raises(StretchRefused):
        strip(shift, from_m)

    assert shift.entry(MAIN) == before


def test_what_ends_past_the_face_is_refused_since_nobody_could_ever_support_it_anew(
    shift: Shift,
) -> None:
    """5,900 for 590.0: a digit too many would hold the heading for good."""
    place = shift.place(MAIN).id
    too_far = LEFT.model_copy(update={"to_m": Decimal(5900)})
    with pytest.raises(StretchRefused, match=r"as far as the face at 612\.0 m"):
        report_stripped(shift.site, place, Decimal(580), too_far, shift.who())
    to_the_face = LEFT.model_copy(update={"to_m": Decimal("612.0")})
    stated = report_stripped(shift.site, place, Decimal(580), to_the_face, shift.who())

    assert stated.body.stripped == to_the_face
