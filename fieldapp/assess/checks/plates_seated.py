"""Whether every plate is seated."""

from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.readings import BOLTS_DRAWN
from fieldapp.assess.rows_judged import not_looked_at
from fieldapp.assess.seen import Row, Seen
from fieldapp.assess.words import row_place
from schemas.bodies.round import SpotCheck
from schemas.findings import Finding, Place
from schemas.limits import PlateLimit


def plates_seated(seen: Seen, demanded: PlateLimit) -> tuple[Finding, ...]:
    """Judge them: as counted, as marked, and as the drawn bolts showed.

    Parameters
    ----------
    seen : Seen
        Plates. [mm]
    demanded : PlateLimit
        How far a plate may stand off, and what a breach means. [mm]

    Returns
    -------
    tuple of Finding
        One finding; a place for each plate that is not seated. [mm]

    Source
    ------
    Common practice, no source.
    """
    breaches = [
        Breach(bolt.place, f"seat the plate, {bolt.place.words}")
        for row in seen.rows
        for bolt in row.all_bolts
        if bolt.is_there and bolt.seated is False
    ]
    unseen = [place for row in seen.rows for place in _unseen(row)]
    unseen += _undrawn(seen)
    how = f"tight, or no more than {demanded.at_most_gap_mm} mm off the rock"
    check = Check("plates_seated", how, "counted; drawn bolts looked at one by one")
    plates = sum(bolt.is_there for row in seen.rows for bolt in row.all_bolts)
    return answered(check, demanded, breaches, unseen, plates)


def _unseen(row: Row) -> list[Place]:
    marked = [
        bolt.place
        for bolt in row.all_bolts
        if bolt.looked_at and bolt.is_there and bolt.seated is None
    ]
    return [*not_looked_at(row), *marked]


def _undrawn(seen: Seen) -> list[Place]:
    """Find the drawn bolts that nobody looked at; one that is not there is drawn anew."""
    drawn = [(row, spot) for row in seen.rows for spot in row.spots]
    there = [(row, spot) for row, spot in drawn if _is_there(row, spot)]
    bolts = sum(bolt.is_there for row in seen.rows for bolt in row.bolts.positions)
    looked = sum(spot.plate_gap is not None for _, spot in there)
    due = min(BOLTS_DRAWN, len(drawn), bolts) - looked
    if due <= 0:
        return []
    left = [
        row_place(row.number, words=f"{row.name}, the plate of bolt {spot.position}")
        for row, spot in there
        if spot.plate_gap is None
    ]
    return [*left, *[Place(words="the plate of one more drawn bolt")] * (due - len(left))]


def _is_there(row: Row, spot: SpotCheck) -> bool:
    bolts = row.bolts.positions
    return spot.position <= len(bolts) and bolts[spot.position - 1].is_there
