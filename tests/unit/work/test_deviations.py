"""Deviations: granted by the engineer, for one place, with an end."""

from datetime import timedelta
from decimal import Decimal

import pytest

from fieldapp.work.demo.walking import Look
from fieldapp.work.deviations import NoDeviationHere, granted_for
from fieldapp.work.own_keys import NotSigned
from fieldapp.work.people import person
from fieldapp.work.roles import NotYours
from fieldapp.work.round import RoundWork
from fieldapp.work.sign import NotToBeAccepted
from fieldapp.work.signatures import signature_fits
from schemas.bodies.deviation import Deviation
from tests.demo_mine import CODES
from tests.unit.work.conftest import Shift


def test_only_the_engineer_grants_a_deviation(shift: Shift) -> None:
    with pytest.raises(NotYours):
        shift.grant(wide_spacing(shift)[1], "Day supervisor")


def test_another_code_than_the_engineer_s_grants_nothing(shift: Shift) -> None:
    work, wanted = wide_spacing(shift)
    with pytest.raises(NotSigned):
        shift.grant(wanted, code=CODES["Day supervisor"])

    assert granted_for(shift.site, work.round_id) == ()


def test_a_deviation_is_signed_with_the_engineer_s_own_key(shift: Shift) -> None:
    _, wanted = wide_spacing(shift)
    granted = shift.grant(wanted)
    engineer = person(shift.site, "Geotechnical engineer")

    assert granted.entry.author == engineer.id
    assert granted.body.public_key == engineer.body.public_key
    assert signature_fits(shift.site, granted.entry)


@pytest.mark.parametrize("check", ["last_row_to_face", "neighbouring_bolts"])
def test_some_checks_allow_no_deviation(shift: Shift, check: str) -> None:
    wanted = wide_spacing(shift)[1].model_copy(update={"check": check})
    with pytest.raises(NoDeviationHere):
        shift.grant(wanted)


@pytest.mark.parametrize(
    "change",
    [{"row": None}, {"ends_at": None}],
    ids=["for no one place", "for longer than a day"],
)
def test_a_deviation_is_for_one_place_and_a_day(shift: Shift, change: dict[str, object]) -> None:
    wanted = wide_spacing(shift)[1]
    if "ends_at" in change:
        change = {"ends_at": shift.clock() + timedelta(hours=25)}
    with pytest.raises(NoDeviationHere):
        shift.grant(wanted.model_copy(update=change))


def test_a_deviation_is_granted_before_the_sign_off(shift: Shift) -> None:
    signed = shift.sign(shift.look())
    late = Deviation(
        round=signed.round.id,
        check="mesh_lap",
        row=1,
        reason="late",
        ends_at=shift.clock() + timedelta(hours=1),
    )
    with pytest.raises(NoDeviationHere):
        shift.grant(late)


def wide_spacing(shift: Shift) -> tuple[RoundWork, Deviation]:
    work = shift.look(Look(answers={"spacing 3": Decimal("1.45")}))
    granted = Deviation(
        round=work.round_id,
        check="bolt_spacing",
        row=3,
        reason="a strap was put across",
        ends_at=shift.clock() + timedelta(hours=20),
    )
    return work, granted


def test_a_breach_under_a_granted_deviation_is_accepted(shift: Shift) -> None:
    work, granted = wide_spacing(shift)
    shift.grant(granted)
    body = shift.sign(work).sign_off.body

    assert [body.decision, len(body.deviations)] == ["accepted", 1]


def test_a_sign_off_meets_the_standard_except_under_its_deviation(shift: Shift) -> None:
    """What, and where; a deviation that nothing in the round needs is not named."""
    work, granted = wide_spacing(shift)
    shift.grant(granted)
    shift.grant(granted.model_copy(update={"check": "density", "row": 2}))

    assert shift.sign(work).sign_off.body.says == (
        "meets S-2 revision 5 in what was looked at, except under deviation: bolt spacing, "
        "row 3; not seen: bond, hidden length, grout, ground behind mesh"
    )


def test_a_heading_accepted_under_a_deviation_is_barricaded_when_it_ends(shift: Shift) -> None:
    work, granted = wide_spacing(shift)
    shift.grant(granted)
    shift.sign(work)
    before = shift.entry().state
    shift.wait(hours=21)
    after = shift.entry()

    assert [before, after.state] == ["entry allowed", "barricaded"]
    assert after.line_m == work.seen.joint_m


def test_a_deviation_of_another_place_covers_nothing(shift: Shift) -> None:
    work, granted = wide_spacing(shift)
    elsewhere = granted.model_copy(update={"row": 2})
    shift.grant(elsewhere)
    with pytest.raises(NotToBeAccepted):
        shift.sign(work)


def test_a_deviation_that_has_ended_covers_nothing(shift: Shift) -> None:
    work, granted = wide_spacing(shift)
    shift.grant(granted)
    shift.wait(hours=21)
    with pytest.raises(NotToBeAccepted):
        shift.sign(work)
