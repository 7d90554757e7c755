from decimal import Decimal

from schemas.bodies.round import BoltSeen
from schemas.findings import Finding, Verdict
from tests.unit.assess.conforming import conforming, finding, with_bolts, with_row


def marked(**answers: object) -> Finding:
    bolt = BoltSeen.model_validate({"position": 3, "state": "present", **answers})
    return finding(with_bolts(conforming(), 1, bolt), "bolt_angle")


def test_rows_counted_as_standard_were_looked_at_for_angles() -> None:
    assert finding(conforming(), "bolt_angle").verdict is Verdict.ACCEPT


def test_a_row_not_counted_is_not_looked_at() -> None:
    bundle = with_row(conforming(), 1, counted=None)

    assert finding(bundle, "bolt_angle").verdict is Verdict.NOT_LOOKED_AT


def test_an_angle_over_the_limit_by_eye() -> None:
    found = marked(angle_over_limit=True)

    assert found.verdict is Verdict.REWORK
    assert found.fix == ("add a bolt square to the rock, row 1, 2.5 m left of the crown",)


def test_an_angle_by_the_gauge_decides_with_its_doubt() -> None:
    """Limit 15°, k·u = 1.64 × 2°: within up to 11°."""
    assert marked(angle_deg=Decimal(11)).verdict is Verdict.ACCEPT
    assert marked(angle_deg=Decimal(12)).verdict is Verdict.REWORK
    assert marked(angle_deg=Decimal(20)).measured == "20"


def test_the_gauge_stands_over_the_eye() -> None:
    assert marked(angle_deg=Decimal(5), angle_over_limit=True).verdict is Verdict.ACCEPT
