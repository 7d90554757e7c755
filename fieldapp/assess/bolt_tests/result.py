"""What a test of support comes to: passed, failed, or not to be judged, and the reason."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Final, Literal

from schemas.bolt_test_rules import AfterFailure
from schemas.findings import Verdict

Outcome = Literal["passed", "failed", "can't be judged"]

MARKS: Final[dict[Outcome, Verdict]] = {
    "passed": Verdict.ACCEPT,
    "failed": Verdict.REWORK,
    "can't be judged": Verdict.MEASURE_AGAIN,
}


@dataclass(frozen=True)
class Result:
    """What the standard says of one test."""

    outcome: Outcome
    because: str
    """What was measured: "85.0 kN held for 1 min, the head came 4 mm"."""
    limit: str = ""
    """"85 kN held for 1 min, slip at most 10 mm"."""
    clause: str = ""
    then: AfterFailure | None = None
    """What the standard has done when it failed; None: nothing, or it did not fail."""
    value: Decimal | None = None
    """The load, torque or mean strength that counts among others of its kind. [kN, N·m, MPa]"""

    @property
    def judged(self) -> bool:
        """Whether it says something of the bolt."""
        return self.outcome != "can't be judged"

    @property
    def failed(self) -> bool:
        """Whether the bolt counts as not there."""
        return self.outcome == "failed"

    @property
    def verdict(self) -> Verdict:
        """The mark under which it is shown."""
        return MARKS[self.outcome]

    @property
    def words(self) -> str:
        """Say outcome, reason, limit and clause in one line."""
        limit = f"; demanded: {self.limit}" if self.limit else ""
        clause = f" ({self.clause})" if self.clause else ""
        return f"{self.outcome}: {self.because}{limit}{clause}"
