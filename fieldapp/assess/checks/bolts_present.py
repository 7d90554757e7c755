"""Whether every demanded position has a bolt that counts."""

from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.rows_judged import missing_without_place, not_counting, not_looked_at
from fieldapp.assess.seen import Seen
from schemas.findings import Finding, Place
from schemas.limits import Demanded


def bolts_present(seen: Seen, demanded: Demanded) -> tuple[Finding, ...]:
    """Judge them: each position without a counting bolt is a place.

    Parameters
    ----------
    seen : Seen
        Rows and bolts. [-]
    demanded : Demanded
        What a breach means. [-]

    Returns
    -------
    tuple of Finding
        One finding. [-]

    Source
    ------
    Common practice, no source.
    """
    breaches: list[Breach] = []
    unseen: list[Place] = []
    for row in seen.rows:
        breaches += [*not_counting(row), *missing_without_place(row)]
        unseen += not_looked_at(row)
    demanded_bolts = sum(len(row.demanded.s_m) for row in seen.rows)
    how = f"{demanded_bolts} demanded on the line as it was broken"
    check = Check("bolts_present", how, "plates counted, bolts marked")
    return answered(check, demanded, breaches, unseen, demanded_bolts)
