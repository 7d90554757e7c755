import pytest

from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, finding, with_round


@pytest.mark.parametrize(
    ("marked", "verdict"),
    [(True, Verdict.ACCEPT), (False, Verdict.FIX_THIS_SHIFT), (None, Verdict.NOT_LOOKED_AT)],
)
def test_it_is_judged_as_it_was_answered(marked: object, verdict: Verdict) -> None:
    assert finding(
        with_round(conforming(), last_row_marked=marked), "last_row_marked"
    ).verdict is (verdict)
