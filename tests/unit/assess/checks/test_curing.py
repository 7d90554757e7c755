from datetime import timedelta
from decimal import Decimal

from fieldapp.assess import assess
from schemas.bodies.round import BolterCheck
from schemas.bundle import Bundle
from schemas.findings import Verdict
from tests.unit.assess.conforming import FINISHED, conforming, finding, with_round


def at(hours: float, **shotcrete: object) -> Bundle:
    """Cement grout: 24 h. Shotcrete: 4 h and 1.0 MPa."""
    bundle = conforming("W3")
    sprayed = bundle.round.shotcrete.model_copy(update=shotcrete)
    later = bundle.model_copy(update={"as_at": FINISHED + timedelta(hours=hours)})
    return with_round(later, shotcrete=sprayed)


def test_before_its_time_nobody_goes_under_it() -> None:
    found = finding(at(23), "curing")

    assert found.verdict is Verdict.NO_ENTRY
    assert any("2031-05-05 02:00 UTC" in job for job in found.fix)
    assert assess(at(23)).cured_at == FINISHED + timedelta(hours=24)
    assert assess(at(23)).rows_complete_to_m is None


def test_at_its_time_it_counts() -> None:
    assert finding(at(24), "curing").verdict is Verdict.ACCEPT
    assert assess(at(24)).cured_at is None


def test_a_strength_that_was_not_reached_is_a_breach_whatever_the_time() -> None:
    found = finding(at(30, strength_mpa=Decimal("0.9")), "curing")

    assert found.verdict is Verdict.NO_ENTRY
    assert "tested again" in found.fix[0]


def test_a_strength_that_nobody_tested_is_not_looked_at() -> None:
    found = finding(at(30, strength_mpa=None), "curing")

    assert (found.verdict, found.holds) == (Verdict.NOT_LOOKED_AT, Verdict.NO_ENTRY)


def test_nobody_said_when_the_bolting_was_finished() -> None:
    bolter: BolterCheck = conforming("W3").round.bolter
    unsaid = bolter.model_copy(update={"bolting_finished_at": None})

    assert finding(with_round(at(30), bolter=unsaid), "curing").verdict is Verdict.NOT_LOOKED_AT
