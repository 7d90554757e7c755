"""What this round demands, in the counts and places that its questions need."""

from fieldapp.assess.by_domain import numbered_from
from fieldapp.assess.demanded import (
    laps_demanded,
    old_row_demanded,
    profile_before,
    profile_of,
)
from fieldapp.assess.profile.overbreak import overbreak_percent
from fieldapp.assess.torque_sample import bolts_to_read
from fieldapp.work.round import RoundWork


def demanded_in_row(work: RoundWork, number: int) -> int:
    """Count the bolts that row `number` demands."""
    return len(work.demanded[number - 1].s_m)


def places_in_round(work: RoundWork) -> tuple[tuple[int, int], ...]:
    """Give row and position of every bolt that this round demands."""
    rows = work.demanded
    return tuple((row.number, at) for row in rows for at in range(1, len(row.s_m) + 1))


def demanded_in_old_row(work: RoundWork, index: int) -> int:
    """Count the bolts that an old row demands."""
    row = work.seen.old_rows[index]
    before = profile_before(work.previous, row)
    support_class = work.old_class(min(row.chainage_m, work.seen.joint_m))
    return len(old_row_demanded(support_class, row, before).s_m)


def overbreak_of(work: RoundWork) -> int | None:
    """Say how much more of the face was broken than designed, in percent; None: not measured."""
    designed, broken = work.support_class.profile, work.seen.profile
    if broken is None:
        return None
    measured = profile_of(designed, broken).area_m2
    return round(overbreak_percent(profile_of(designed, None).area_m2, measured))


def laps_in_round(work: RoundWork) -> int:
    """Count the laps that this round shows."""
    return max(laps_demanded(it, work.seen.rows_planned) for it in work.classes)


def torque_positions_in_round(work: RoundWork) -> tuple[tuple[int, tuple[int, int]], ...]:
    """Give each bolt that the torque rule names: its number, then its row and position."""
    places, wanted, before = places_in_round(work), [], 0
    for number, support_class in enumerate(work.classes):
        limit, rows = support_class.limits.torque, work.bolted
        there = [it.is_there for row in rows if row.domain == number for it in row.bolts.positions]
        if limit is not None:
            read = numbered_from(work.seen.torques, before)
            wanted += [before + bolt for bolt in bolts_to_read(there, limit, read)]
        before += len(there)
    return tuple((bolt, places[bolt - 1]) for bolt in wanted)


def positions_there(work: RoundWork, number: int) -> tuple[int, ...]:
    """Give the positions of row `number` at which there is a bolt, as far as is known."""
    bolts = work.bolted[number - 1].bolts.positions
    return tuple(at for at, bolt in enumerate(bolts, start=1) if bolt.is_there)
