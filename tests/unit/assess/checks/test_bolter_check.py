from schemas.bodies.round import BolterCheck
from schemas.findings import Finding, Verdict
from tests.unit.assess.conforming import conforming, finding, with_round


def checked(**answers: object) -> Finding:
    bolter = BolterCheck.model_validate(answers)
    return finding(with_round(conforming(), bolter=bolter), "bolter_check")


def test_a_round_that_the_bolter_checked_is_accepted_and_says_what_was_given_up() -> None:
    found = checked(done=True, blocked_holes=2)

    assert found.verdict is Verdict.ACCEPT
    assert "2 holes given up" in found.how


def test_a_round_that_the_bolter_did_not_check_is_to_be_fixed_this_shift() -> None:
    found = checked(done=False, blocked_holes=0)

    assert found.verdict is Verdict.FIX_THIS_SHIFT
    assert found.fix == ("have the bolter check the round",)


def test_holes_that_nobody_asked_about_are_not_looked_at() -> None:
    assert checked(done=True).verdict is Verdict.NOT_LOOKED_AT
