"""Bolts per square metre of supported rock."""

from decimal import Decimal

from fieldapp.assess.density import density_per_m2
from fieldapp.assess.judge import Check, Reading, measured
from fieldapp.assess.rows_judged import not_known
from fieldapp.assess.seen import Seen
from fieldapp.assess.uncertainty import combined_uncertainty
from fieldapp.assess.words import row_place
from schemas.findings import Finding, Place
from schemas.limits import AtLeastPerSquareMetre
from schemas.numbers import STEP_PER_M2


def density(seen: Seen, demanded: AtLeastPerSquareMetre) -> tuple[Finding, ...]:
    """Judge it over the round: each row has the rock back to the row before.

    Parameters
    ----------
    seen : Seen
        Bolts that count, and how far ahead each row is. [m]
    demanded : AtLeastPerSquareMetre
        The bound. [1/m2]

    Returns
    -------
    tuple of Finding
        One value for the round. [1/m2]

    Source
    ------
    Common practice, no source.
    """
    unseen = [place for row in seen.rows for place in not_known(row)]
    unseen += [
        row_place(row.number, words=f"how far ahead {row.name} is")
        for row in seen.rows
        if row.ahead is None
    ]
    check = Check("density", "bolts that count, over the rock back to the joint", "counted")
    readings = _readings(seen, supposed=bool(unseen))
    return measured(check, demanded, readings, unseen, STEP_PER_M2)


def _readings(seen: Seen, *, supposed: bool) -> list[Reading]:
    bolts = sum(bolt.counts for row in seen.rows for bolt in row.all_bolts)
    ahead_m = float(seen.rows[-1].chainage_m - seen.round.joint_m)
    if ahead_m <= 0:
        return []
    density = density_per_m2(bolts, seen.rows[-1].line.length_m * ahead_m)
    methods = [row.ahead.method if row.ahead else "assumed" for row in seen.rows]
    doubt_m = combined_uncertainty([(1.0, float(seen.doubts_m[method])) for method in methods])
    again = all(row.ahead is not None and row.ahead.again for row in seen.rows)
    return [
        Reading(
            value=Decimal(repr(density)),
            u=Decimal(repr(density * doubt_m / ahead_m)),
            place=lambda: Place(words="the whole round"),
            again=again,
            fix=lambda: "add bolts where the pattern is widest",
            supposed=supposed,
        )
    ]
