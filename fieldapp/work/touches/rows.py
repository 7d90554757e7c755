"""Touches on the rows of bolts: the two old ones, then 1, 2, 3 … up to the face."""

from typing import Literal

from pydantic import Field

from fieldapp.work.touches.touch import (
    Touch,
    row_of,
    with_bolt,
    with_fields,
    with_old_row,
    with_row,
    without_bolt,
    without_last_row,
    without_whole_mesh,
)
from schemas.bodies.round import (
    BoltSeen,
    CountedRow,
    LengthReading,
    PlateGap,
    ProfileSeen,
    Round,
    RowSeen,
    SpacingSeen,
    SpotCheck,
)


class OldRowConfirmed(Touch):
    """One of the two old rows: so many plates counted, seated and in place."""

    what: Literal["old row"] = "old row"
    index: int = Field(ge=0, le=1)
    plates: int = Field(ge=0, le=60)

    def onto(self, seen: Round) -> Round:
        counted = CountedRow(plates=self.plates, at=self.at)
        return with_old_row(seen, self.index, confirmed=counted)


class OldBoltMarked(Touch):
    """One bolt of an old row that is not as it should be."""

    what: Literal["old bolt"] = "old bolt"
    index: int = Field(ge=0, le=1)
    bolt: BoltSeen

    def onto(self, seen: Round) -> Round:
        bolts = with_bolt(seen.old_rows[self.index].bolts, self.bolt)
        return with_old_row(seen, self.index, bolts=bolts)


class RowsPlanned(Touch):
    """How many rows there are in this round.

    With another number another row is the last one: what belongs to the last row is asked
    again, and what is not there any more leaves nothing behind.
    """

    what: Literal["rows planned"] = "rows planned"
    rows: int = Field(ge=1, le=60)
    laps: int = Field(default=0, ge=0, le=60)
    """Laps that a round of so many rows shows; none of those read stands where nobody said."""
    bolts: int = Field(default=0, ge=0, le=3_600)
    """Bolts that it demands, which torques are numbered by."""
    drawn: tuple[tuple[int, int], ...] = ()
    """Row and position of the bolts that the app draws in a round of so many rows."""

    def onto(self, seen: Round) -> Round:
        if self.rows == seen.rows_planned:
            return seen
        kept = with_fields(
            seen,
            rows_planned=self.rows,
            rows=tuple(self._drawn(row) for row in seen.rows if row.number <= self.rows),
            laps=tuple(lap for lap in seen.laps if lap.number <= self.laps),
            torques=tuple(read for read in seen.torques if read.bolt <= self.bolts),
        )
        longer = self.rows > seen.rows_planned
        return without_last_row(without_whole_mesh(kept) if longer else kept)

    def _drawn(self, row: RowSeen) -> RowSeen:
        """Draw bolts of a row that was counted in a round of other rows."""
        places = [place for number, place in self.drawn if number == row.number]
        known = {spot.position for spot in row.spot_checks}
        more = tuple(SpotCheck(position=place) for place in places if place not in known)
        drawn = (*row.spot_checks, *more) if row.counted else row.spot_checks
        return with_fields(row, spot_checks=drawn)


class RowAhead(Touch):
    """How far a row stands ahead of the row before."""

    what: Literal["row ahead"] = "row ahead"
    row: int = Field(ge=1, le=60)
    reading: LengthReading

    def onto(self, seen: Round) -> Round:
        return with_row(seen, self.row, ahead_of_row_before=self.reading)


class RowAsBroken(Touch):
    """The drive at one row is not as in the rest of the round.

    It demands other places there: what was answered by them is asked again, and so are the
    torques of the round, which are numbered through. Bolts that were marked stand.
    """

    what: Literal["row as broken"] = "row as broken"
    row: int = Field(ge=1, le=60)
    profile: ProfileSeen

    def onto(self, seen: Round) -> Round:
        again = {"counted": None, "spot_checks": (), "spacings": ()}
        changed = with_row(seen, self.row, profile=self.profile, **again)
        return with_fields(changed, torques=())


class RowCounted(Touch):
    """A row "as standard": plates counted, and the bolts that the app drew to be looked at."""

    what: Literal["row"] = "row"
    row: int = Field(ge=1, le=60)
    plates: int = Field(ge=0, le=60)
    drawn: tuple[int, ...] = ()
    """Positions drawn; they are not drawn again when the row is counted again."""

    def onto(self, seen: Round) -> Round:
        known = {spot.position: spot for spot in row_of(seen, self.row).spot_checks}
        spots = tuple(known.get(place, SpotCheck(position=place)) for place in self.drawn)
        counted = CountedRow(plates=self.plates, at=self.at)
        return with_row(seen, self.row, counted=counted, spot_checks=spots)


class BoltMarked(Touch):
    """One bolt that was looked at by itself. Of one that is gone, earlier answers don't count."""

    what: Literal["bolt"] = "bolt"
    row: int = Field(ge=1, le=60)
    bolt: BoltSeen

    def onto(self, seen: Round) -> Round:
        bolts = with_bolt(row_of(seen, self.row).bolts, self.bolt)
        marked = with_row(seen, self.row, bolts=bolts)
        if self.bolt.state == "present" or self.bolt.position is None:
            return marked
        return without_bolt(marked, self.row, self.bolt.position)


class SpacingRead(Touch):
    """The distance between two neighbouring bolts of a row."""

    what: Literal["spacing"] = "spacing"
    row: int = Field(ge=1, le=60)
    spacing: SpacingSeen

    def onto(self, seen: Round) -> Round:
        before = row_of(seen, self.row).spacings
        return with_row(seen, self.row, spacings=(*before, self.spacing))


class SpotAnswered(Touch):
    """What the plate of a drawn bolt showed."""

    what: Literal["spot"] = "spot"
    row: int = Field(ge=1, le=60)
    position: int = Field(ge=1, le=60)
    plate_gap: PlateGap

    def onto(self, seen: Round) -> Round:
        spots = {spot.position: spot for spot in row_of(seen, self.row).spot_checks}
        spots[self.position] = SpotCheck(position=self.position, plate_gap=self.plate_gap)
        return with_row(seen, self.row, spot_checks=tuple(spots.values()))
