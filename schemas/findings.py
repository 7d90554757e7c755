"""What a check says about a round, and what all of them say together."""

from datetime import datetime
from enum import StrEnum
from typing import Literal

from pydantic import AwareDatetime, Field

from schemas.numbers import Chainage, Metres, Offset
from schemas.part import Own


class Verdict(StrEnum):
    """The answer of a check. The order of definition is the order of gravity."""

    ACCEPT = "accept"
    FIX_THIS_SHIFT = "fix this shift"
    MEASURE_AGAIN = "measure again"
    NOT_LOOKED_AT = "not looked at"
    REWORK = "rework"
    NO_ENTRY = "no entry"

    @property
    def gravity(self) -> int:
        """0 for accept, rising."""
        return _GRAVITY[self]


_GRAVITY = {verdict: gravity for gravity, verdict in enumerate(Verdict)}


Breach = Literal[Verdict.FIX_THIS_SHIFT, Verdict.REWORK, Verdict.NO_ENTRY]
"""What the standard may say that a breach means."""


def worst(verdicts: "list[Verdict]") -> Verdict:
    """Give the gravest of several; accept when there are none."""
    return max(verdicts, key=lambda verdict: verdict.gravity, default=Verdict.ACCEPT)


class Place(Own):
    """Where in the round: chainage, distance from the crown (left negative), row, position.

    `diameter_m` is set where the place is a gap; `zone` is one of the standard's zones.
    """

    chainage_m: Chainage | None = None
    s_m: Offset | None = None
    row: int | None = None
    position: int | None = None
    zone: str | None = None
    diameter_m: Metres | None = None
    words: str


class Finding(Own):
    """One answer of a check: the governing value beside the limit, and the reason for it."""

    check: str
    title: str
    verdict: Verdict
    holds: Verdict
    """What entry is held at meanwhile: the verdict itself, or what a breach would mean while it
    is not looked at or to be measured again."""
    measured: str | None
    uncertainty: str | None
    limit: str | None
    unit: str
    places: tuple[Place, ...] = ()
    because: str
    how: str
    basis: str
    fix: tuple[str, ...] = ()
    """Jobs, each naming its place: "add a bolt, row 2, 2.8 m right of the crown"."""
    deviation: str | None = None
    """Id of the granted deviation under which this finding stands, if any."""

    @property
    def is_for_engineers(self) -> bool:
        """Whether its figures mislead who doesn't reckon: others see the verdict and the place."""
        return self.check == "load"

    @property
    def lets_sign(self) -> bool:
        """Whether a sign-off may say *accepted* over this finding."""
        return self.deviation is not None or self.verdict in (
            Verdict.ACCEPT,
            Verdict.FIX_THIS_SHIFT,
        )


class Assessment(Own):
    """Everything the standard says about one round as it was seen, at one time.

    Two assessments of one bundle by one method version are byte-identical.
    """

    method_version: int = Field(ge=1)
    as_at: AwareDatetime
    heading: str
    round: str
    standard: str
    """Hash of the standard judged by."""
    support_class: str
    findings: tuple[Finding, ...]
    """The worst first; within a verdict in the order of the checks."""
    headline: str
    rows_complete_to_m: Chainage | None
    """Chainage of the last row in the unbroken run, from the joint, of complete rows whose
    findings let them be accepted; None when the first row already breaks it."""
    cured_at: datetime | None
    """When the last bolt and shotcrete that count only once cured will be; None if all are."""
    fix_list: tuple[str, ...]
    not_seen: tuple[str, ...]
    """What no look can show: bond, hidden length, grout, ground behind mesh."""

    @property
    def verdict(self) -> Verdict:
        """The worst finding's verdict."""
        return worst([finding.verdict for finding in self.findings])

    @property
    def held_at(self) -> Verdict:
        """What the whole holds entry at."""
        return worst([finding.holds for finding in self.findings])

    @property
    def may_be_accepted(self) -> bool:
        """Whether a sign-off may say *accepted*."""
        return all(finding.lets_sign for finding in self.findings)
