"""What a record states twice, and not alike: never accepted, whatever the standard demands.

A fact that somebody stated is kept as it was stated, also an impossible one. Where two of them
can't both be true, neither is an answer. No standard asks for these rules and none can leave
them out. The order is that of the list on the screen.
"""

from collections import defaultdict
from typing import Final

from fieldapp.assess.contradictions.bolter import bolter
from fieldapp.assess.contradictions.bolts import bolts
from fieldapp.assess.contradictions.contradiction import Contradiction, Rule, Stated, finding_of
from fieldapp.assess.contradictions.counts import counts
from fieldapp.assess.contradictions.deviations import deviations, deviations_standing
from fieldapp.assess.contradictions.domains import domains
from fieldapp.assess.contradictions.heading import heading
from fieldapp.assess.contradictions.mesh import mesh
from fieldapp.assess.contradictions.profiles import profiles
from fieldapp.assess.contradictions.readings import readings
from fieldapp.assess.contradictions.round_before import round_before
from fieldapp.assess.contradictions.sheets import sheets
from fieldapp.assess.contradictions.standard import standard
from fieldapp.assess.contradictions.times import times
from fieldapp.assess.seen import Seen
from schemas.bundle import Bundle
from schemas.findings import Finding

__all__ = ["contradictions", "deviations_standing"]

RULES: Final[tuple[Rule, ...]] = (
    standard,
    heading,
    domains,
    profiles,
    round_before,
    times,
    bolter,
    readings,
    counts,
    bolts,
    mesh,
    sheets,
    deviations,
)


def contradictions(bundle: Bundle, seen: Seen) -> tuple[Finding, ...]:
    """Find what contradicts itself in everything that a round is judged by.

    Parameters
    ----------
    bundle : Bundle
        Round, heading, standard, the round before, deviations, and the time. [various]
    seen : Seen
        What was seen of the round. [various]

    Returns
    -------
    tuple of Finding
        One for each check or part of the record with a contradiction; none for a record whose
        facts agree. [-]

    Source
    ------
    Common practice, no source.
    """
    found: defaultdict[str, list[Contradiction]] = defaultdict(list)
    for rule in RULES:
        for one in rule(Stated(bundle, seen)):
            found[one.check].append(one)
    return tuple(finding_of(check, those) for check, those in found.items())
