"""What several checks say of a row: positions that don't count, and what nobody looked at."""

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.counting import Fault
from fieldapp.assess.judge import Breach
from fieldapp.assess.readings import face_readings
from fieldapp.assess.seen import Row, Seen
from fieldapp.assess.words import counted, row_place
from schemas.findings import Place

_JOBS: dict[Fault, str] = {
    "missing": "add a bolt",
    "broken": "replace the broken bolt",
    "hole given up": "add a bolt beside the hole given up",
    "not a bolt of this class": "add a bolt of this class",
    "not a bolt for this zone": "add a bolt of the type for this zone",
    "too short": "add a bolt of the full length",
    "angle over the limit": "add a bolt square to the rock",
    "rusted": "replace the rusted bolt",
}


def job(bolt: Bolt) -> str | None:
    """Name the job that makes a position count.

    Parameters
    ----------
    bolt : Bolt
        One position. [-]

    Returns
    -------
    str or None
        "add a bolt, row 2, 2.8 m right of the crown"; None for a bolt that counts. [-]

    Source
    ------
    Common practice, no source.
    """
    if bolt.counts:
        return None
    return f"{_JOBS[bolt.faults[0]]}, {bolt.place.words}"


def mended(bolt: Bolt) -> str:
    """Name the job that makes a position hold its ground.

    Parameters
    ----------
    bolt : Bolt
        One that does not. [-]

    Returns
    -------
    str
        As `job`; of one that counts, "seat the plate, row 2, 2.8 m right of the crown", and
        where that is seated, another bolt. [-]

    Source
    ------
    Common practice, no source.
    """
    other = "add a bolt" if bolt.plated else "seat the plate"
    return job(bolt) or f"{other}, {bolt.place.words}"


def not_counting(row: Row) -> list[Breach]:
    """Find the positions of a row without a bolt that counts.

    Parameters
    ----------
    row : Row
        One row. [-]

    Returns
    -------
    list of Breach
        One a position, from the left. [-]

    Source
    ------
    Common practice, no source.
    """
    found = []
    for bolt in row.bolts.positions:
        if not bolt.counts:
            why = ", ".join(bolt.faults)
            place = bolt.place.model_copy(update={"words": f"{bolt.place.words}: {why}"})
            found.append(Breach(place, job(bolt)))
    return found


def missing_without_place(row: Row) -> list[Breach]:
    """Find out whether fewer plates were counted than are accounted for.

    Parameters
    ----------
    row : Row
        One row. [-]

    Returns
    -------
    list of Breach
        One for the row, if any bolt is missing that nobody marked. [-]

    Source
    ------
    Common practice, no source.
    """
    if not row.bolts.unplaced:
        return []
    fewer = counted(row.bolts.unplaced, "bolt")
    words = f"{row.name}: {fewer} fewer than demanded, nobody marked where"
    find = f"{row.name}: find and mark where {fewer} fewer than demanded, add what is missing"
    return [Breach(row_place(row.number, float(row.chainage_m), words), find)]


def not_looked_at(row: Row) -> list[Place]:
    """Find what nobody looked at in a row.

    Parameters
    ----------
    row : Row
        One row. [-]

    Returns
    -------
    list of Place
        The row, or the positions that are left of it. [-]

    Source
    ------
    Common practice, no source.
    """
    unseen = [bolt.place for bolt in row.bolts.positions if not bolt.looked_at]
    if len(unseen) == len(row.bolts.positions):
        return [row_place(row.number, float(row.chainage_m))] if unseen else []
    return unseen


def not_known(row: Row) -> list[Place]:
    """Find what nobody looked at, or where a bolt is missing without a place.

    Parameters
    ----------
    row : Row
        One row. [-]

    Returns
    -------
    list of Place
        Empty where every position is known to be held or not. [-]

    Source
    ------
    Common practice, no source.
    """
    return [*not_looked_at(row), *(breach.place for breach in missing_without_place(row))]


def ground_not_known(seen: Seen) -> list[Place]:
    """Find what keeps the ground between the bolts from being known.

    Parameters
    ----------
    seen : Seen
        The round. [-]

    Returns
    -------
    list of Place
        Bolts, rows and readings of the face that nobody looked at. [-]

    Source
    ------
    Common practice, no source.
    """
    unseen = [place for row in seen.all_rows for place in not_known(row)]
    unseen += [
        row_place(row.number, words=f"how far ahead {row.name} is")
        for row in seen.rows
        if row.ahead is None
    ]
    if not seen.has_face:
        return unseen
    read = face_readings(seen.round)
    unseen += [
        row_place(seen.rows[-1].number, words=f"{seen.round.ends_at}, {where}")
        for where in ("left", "middle", "right")
        if where not in read
    ]
    return unseen
