import pytest

from schemas.bodies.round import FaceSeen
from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, finding, with_round


@pytest.mark.parametrize(
    ("answer", "verdict"),
    [
        ("none found", Verdict.ACCEPT),
        ("found", Verdict.NO_ENTRY),
        (None, Verdict.NOT_LOOKED_AT),
    ],
)
def test_it_is_judged_as_it_was_answered(answer: object, verdict: Verdict) -> None:
    face = FaceSeen.model_validate({"misfires_and_butts": answer})
    found = finding(with_round(conforming(), face=face), "misfires_and_butts")

    assert found.verdict is verdict
    assert found.holds is (Verdict.ACCEPT if verdict is Verdict.ACCEPT else Verdict.NO_ENTRY)
