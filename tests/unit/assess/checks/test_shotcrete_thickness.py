from decimal import Decimal

from schemas.bodies.round import ShotcreteSeen
from schemas.findings import Finding, Verdict
from tests.unit.assess.conforming import conforming, finding, with_round


def probed(*thickness: int) -> Finding:
    bundle = conforming("W3")
    probes = tuple(Decimal(one) for one in thickness)
    shotcrete = bundle.round.shotcrete.model_copy(update={"thickness_mm": probes})
    return finding(with_round(bundle, shotcrete=shotcrete), "shotcrete_thickness")


def test_the_thinnest_probe_governs() -> None:
    found = probed(90, 74, 80)

    assert (found.verdict, found.measured) == (Verdict.REWORK, "74")
    assert found.fix == ("spray again where probe 2 is thin",)


def test_exactly_as_thick_as_demanded_is_accepted() -> None:
    assert probed(75, 80, 90).verdict is Verdict.ACCEPT


def test_fewer_probes_than_three_say_nothing_of_a_round() -> None:
    assert [probed(90).verdict, probed(90, 90).verdict] == [Verdict.NOT_LOOKED_AT] * 2


def test_nobody_probed() -> None:
    assert probed().verdict is Verdict.NOT_LOOKED_AT
    assert ShotcreteSeen().thickness_mm == ()
