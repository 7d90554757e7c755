"""Whether the last two old rows were confirmed after the firing."""

from decimal import Decimal

from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.rows_judged import missing_without_place, not_counting, not_looked_at
from fieldapp.assess.seen import Seen
from fieldapp.assess.words import row_place
from schemas.bodies.round import OverOld
from schemas.findings import Finding, Place
from schemas.limits import Demanded


def old_rows(seen: Seen, demanded: Demanded) -> tuple[Finding, ...]:
    """Judge them: a firing beside them may have loosened what was signed.

    Parameters
    ----------
    seen : Seen
        The old rows. [-]
    demanded : Demanded
        What a breach means. [-]

    Returns
    -------
    tuple of Finding
        One finding; a place for each position that does not count. [-]

    Source
    ------
    Common practice, no source.
    """
    breaches: list[Breach] = []
    unseen: list[Place] = []
    for row in seen.old_rows:
        breaches += [*not_counting(row), *missing_without_place(row)]
        unseen += not_looked_at(row)
    if not seen.old_rows and seen.round.joint_m > 0:
        unseen.append(Place(words="the last two old rows"))
    elif len(seen.old_rows) == 1 and seen.round.joint_m > _row_spacing_m(seen):
        unseen.append(row_place(-1))
    if seen.round.over is not None:
        _row_inbye(seen.round.over, breaches, unseen)
    check = Check("old_rows", "plates counted in the last two old rows", "counted")
    return answered(check, demanded, breaches, unseen)


def _row_spacing_m(seen: Seen) -> Decimal:
    """Give how far inbye a heading has its second row."""
    return seen.support_class.pattern.row_spacing_m


def _row_inbye(over: OverOld, breaches: list[Breach], unseen: list[Place]) -> None:
    """Add the old row that stays where new support over old ends."""
    place = Place(words=f"the row inbye, at {over.to_m} m")
    if over.row_inbye_sound is None:
        unseen.append(place)
    elif not over.row_inbye_sound:
        job = f"put the old row at {over.to_m} m right, or bolt on past it"
        breaches.append(Breach(place, job))
