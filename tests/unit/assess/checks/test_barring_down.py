from schemas.bodies.round import Barring
from schemas.findings import Finding, Verdict
from tests.unit.assess.conforming import conforming, finding, with_round


def barred(**answers: object) -> Finding:
    barring = Barring.model_validate(answers)
    return finding(with_round(conforming(), barring=barring), "barring_down")


def test_barred_before_and_after_is_accepted() -> None:
    found = barred(before_by="bolter crew", before_when="this shift", after_bolting=True)

    assert found.verdict is Verdict.ACCEPT


def test_nobody_barred_down_is_no_entry() -> None:
    found = barred(before_by="nobody", before_when="not barred down", after_bolting=True)

    assert found.verdict is Verdict.NO_ENTRY


def test_not_barred_again_after_bolting_is_a_breach() -> None:
    found = barred(before_by="bolter crew", before_when="this shift", after_bolting=False)

    assert found.verdict is Verdict.NO_ENTRY
    assert found.fix == ("bar down again after bolting",)


def test_by_whom_without_when_is_not_looked_at() -> None:
    assert barred(before_by="bolter crew", after_bolting=True).verdict is Verdict.NOT_LOOKED_AT


def test_by_somebody_without_a_name_is_not_looked_at() -> None:
    found = barred(before_by="", before_when="this shift", after_bolting=True)

    assert found.verdict is Verdict.NOT_LOOKED_AT
