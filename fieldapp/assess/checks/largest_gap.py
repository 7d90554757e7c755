"""The widest circle on the rock that holds no bolt."""

from decimal import Decimal

from fieldapp.assess.gaps.ground import GapGround, GapSeen, gap_ground
from fieldapp.assess.gaps.in_space import GapsInSpace
from fieldapp.assess.gaps.stepped import stepped_rock
from fieldapp.assess.judge import Check, Reading, measured
from fieldapp.assess.pattern import zone_of
from fieldapp.assess.rows_judged import ground_not_known, mended
from fieldapp.assess.seen import Seen
from fieldapp.assess.words import beside_crown, gap_place
from schemas.findings import Finding, Place, Verdict, worst
from schemas.limits import AtMostMetres, GapLimit
from schemas.numbers import STEP_M, rounded, text

HOW = "widest circle without a bolt, along the rock, behind the face"


def largest_gap(seen: Seen, demanded: GapLimit) -> tuple[Finding, ...]:
    """Judge it twice: plated bolts by the first limit, anchored bolts by *no entry*.

    Parameters
    ----------
    seen : Seen
        Rows, bolts and the face. [m]
    demanded : GapLimit
        Both limits. [m]

    Returns
    -------
    tuple of Finding
        The graver of the two tests, and beside a breach what nobody looked at; measured in
        space where rows have different profiles. [m]

    Source
    ------
    Largest empty circle, see `fieldapp.assess.gaps.largest`; the two tests are common practice, no
    source.
    """
    ground = gap_ground(seen)
    first, grave = _limits(demanded)
    if ground is None:
        nowhere = Place(words="the rows leave no ground between them")
        return measured(Check("largest_gap", HOW, ""), grave, [], [nowhere], STEP_M)
    find = GapsInSpace(stepped_rock(ground)).between if ground.is_stepped else None
    plated = ground.widest(lambda bolt: bolt.plated, find)
    of_anchored = _tested(ground, plated, grave, "anchored bolts")
    if not (_all_alike(seen) or _lets_in(of_anchored)):
        anchored = ground.widest(lambda bolt: bolt.anchored, find)
        of_anchored = _tested(ground, anchored, grave, "anchored bolts")
    tested = (_tested(ground, plated, first, "plated bolts"), of_anchored)
    graver = max(tested, key=lambda found: (found[0].verdict.gravity, found[0].holds.gravity))
    held = worst([one.holds for found in tested for one in found])
    return tuple(one.model_copy(update={"holds": held}) for one in graver)


def _limits(demanded: GapLimit) -> tuple[AtMostMetres, AtMostMetres]:
    because, guard = demanded.because, demanded.guard_factor
    return (
        AtMostMetres(
            because=because,
            guard_factor=guard,
            breach=demanded.breach,
            at_most_m=demanded.at_most_m,
        ),
        AtMostMetres(
            because=because,
            guard_factor=guard,
            breach=Verdict.NO_ENTRY,
            at_most_m=demanded.no_entry_above_m,
        ),
    )


def _all_alike(seen: Seen) -> bool:
    return all(bolt.plated == bolt.anchored for row in seen.all_rows for bolt in row.all_bolts)


def _lets_in(of_plated: tuple[Finding, ...]) -> bool:
    """Whether plated bolts leave no gap that is *no entry*; those anchored are more of them."""
    looked_at = (Verdict.ACCEPT, Verdict.NOT_LOOKED_AT)
    return all(one.verdict in looked_at for one in of_plated)


def _tested(
    ground: GapGround, found: GapSeen, limit: AtMostMetres, between: str
) -> tuple[Finding, ...]:
    seen = ground.seen
    width = rounded(found.gap.diameter_m, STEP_M)
    s_m = found.gap.centre_m[1]
    zone = str(zone_of(s_m, seen.borders))
    unseen = ground_not_known(seen)
    reading = Reading(
        value=width,
        u=Decimal(repr(found.u_m)),
        place=lambda: gap_place(found.rows, (found.chainage_m, s_m), zone, width),
        again=bool(found.touching) and all(bolt.method != "assumed" for bolt in found.touching),
        fix=lambda: _fix(ground, found),
        zone=zone,
        supposed=bool(unseen),
    )
    assumed = any(bolt.method == "assumed" for bolt in found.touching)
    basis = f"{between}, positions {'assumed' if assumed else 'measured'}"
    return measured(Check("largest_gap", HOW, basis), limit, [reading], unseen, STEP_M)


def _fix(ground: GapGround, found: GapSeen) -> str:
    """Mend the position inside the gap; where none is to blame, bolt its middle."""
    radius = found.gap.diameter_m / 2
    inside = [
        (abs(x - found.gap.centre_m[0]) + abs(bolt.s_m - found.gap.centre_m[1]), bolt)
        for row, x in ground.rows
        for bolt in row.bolts.positions
        if not bolt.plated
    ]
    nearest = min(inside, key=lambda one: one[0], default=None)
    if nearest is not None and nearest[0] < radius:
        return mended(nearest[1])
    at = text(rounded(found.chainage_m, Decimal("0.1")))
    where = f"{beside_crown(found.gap.centre_m[1])}, {found.rows.words}"
    return f"add a bolt in the middle of the gap, at {at} m, {where}"
