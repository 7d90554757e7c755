"""Deviations: granted by the engineer, for one place, with an end."""

from datetime import timedelta
from decimal import Decimal

import pytest

from fieldapp.work.demo.walking import Look
from fieldapp.work.deviations import NoDeviationHere, grant
from fieldapp.work.roles import NotYours
from fieldapp.work.round import RoundWork
from fieldapp.work.sign import NotToBeAccepted
from schemas.bodies.deviation import Deviation
from tests.unit.work.conftest import Shift


def test_only_the_engineer_grants_a_deviation(shift: Shift) -> None:
    with pytest.raises(NotYours):
        grant(shift.site, wide_spacing(shift)[1], shift.who())


@pytest.mark.parametrize("check", ["last_row_to_face", "neighbouring_bolts"])
def test_some_checks_allow_no_deviation(shift: Shift, check: str) -> None:
    wanted = wide_spacing(shift)[1].model_copy(update={"check": check})
    with pytest.raises(NoDeviationHere):
        grant(shift.site, wanted, shift.who("Geotechnical engineer"))


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
        grant(shift.site, wanted.model_copy(update=change), shift.who("Geotechnical engineer"))


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
        grant(shift.site, late, shift.who("Geotechnical engineer"))


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
    grant(shift.site, granted, shift.who("Geotechnical engineer"))
    body = shift.sign(work).sign_off.body

    assert [body.decision, len(body.deviations)] == ["accepted", 1]


def test_a_heading_accepted_under_a_deviation_is_barricaded_when_it_ends(shift: Shift) -> None:
    work, granted = wide_spacing(shift)
    grant(shift.site, granted, shift.who("Geotechnical engineer"))
    shift.sign(work)
    before = shift.entry().state
    shift.wait(hours=21)
    after = shift.entry()

    assert [before, after.state] == ["entry allowed", "barricaded"]
    assert after.line_m == work.seen.joint_m


def test_a_deviation_of_another_place_covers_nothing(shift: Shift) -> None:
    work, granted = wide_spacing(shift)
    elsewhere = granted.model_copy(update={"row": 2})
    grant(shift.site, elsewhere, shift.who("Geotechnical engineer"))
    with pytest.raises(NotToBeAccepted):
        shift.sign(work)


def test_a_deviation_that_has_ended_covers_nothing(shift: Shift) -> None:
    work, granted = wide_spacing(shift)
    grant(shift.site, granted, shift.who("Geotechnical engineer"))
    shift.wait(hours=21)
    with pytest.raises(NotToBeAccepted):
        shift.sign(work)
