"""The ground in which the gaps of a round are looked for, from what was seen of it.

The last two old rows belong to it. Along the drive distances run along the rock: where the
profile changes between two rows, the step there is longer than the chainages say, and gaps are
measured in space.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.gaps.area import Area, FaceLine, Points, supported_area
from fieldapp.assess.gaps.largest import Gap, largest_gap
from fieldapp.assess.gaps.uncertainty import Doubt, Doubts, gap_uncertainty_m
from fieldapp.assess.profile.profile import across_step_m
from fieldapp.assess.readings import face_readings
from fieldapp.assess.seen import Row, Seen
from fieldapp.assess.words import GapRows

_FLAT_M = 1e-6
IN_LINE_M = 0.1
"""A gap whose middle is no farther from a row lies in line with it: rows are taped to that."""


@dataclass(frozen=True)
class GapSeen:
    """The largest gap between some of the bolts, how sure it is, and what it rests on."""

    gap: Gap
    u_m: float
    chainage_m: float
    """Of its middle."""
    touching: tuple[Bolt, ...]
    rows: GapRows
    """The rows that its middle lies between."""


@dataclass(frozen=True)
class GapGround:
    """Rows, bolts and bounds on the unrolled rock, chainages counted from the joint."""

    seen: Seen
    rows: tuple[tuple[Row, float], ...]
    """Each row and where it is along the rock."""
    area: Area
    face: FaceLine

    @property
    def is_stepped(self) -> bool:
        """Whether not every row has the same profile."""
        one = self.rows[0][0].profile
        return not all(row.profile is one or row.profile == one for row, _ in self.rows)

    def widest(
        self,
        holds: Callable[[Bolt], bool],
        find: Callable[[Sequence[Bolt]], Gap] | None = None,
    ) -> GapSeen:
        """Find the largest gap between the bolts that hold; unrolled, unless told how."""
        held = [bolt for row, _ in self.rows for bolt in row.all_bolts if holds(bolt)]
        places = self.places_m(held)
        gap = find(held) if find else largest_gap(places, self.area, self.face)
        doubts = self.doubts(held)
        return GapSeen(
            gap=gap,
            u_m=gap_uncertainty_m(gap, places, doubts, (self.area, self.face)),
            chainage_m=self.chainage_m(gap.centre_m[0]),
            touching=tuple(held[number] for number in gap.touching),
            rows=self._rows_beside(gap.centre_m[0]),
        )

    def places_m(self, bolts: Sequence[Bolt]) -> Points:
        """Give where bolts are: along the rock from the joint, and across [m]."""
        along = {row.number: x for row, x in self.rows}
        return np.array([(along[bolt.row], bolt.s_m) for bolt in bolts]).reshape(-1, 2)

    def doubts(self, bolts: Sequence[Bolt]) -> Doubts:
        """Give how sure the places of bolts are, of the rows and of the face [m]."""
        index = {row.number: place for place, (row, _) in enumerate(self.rows)}
        each = tuple(
            Doubt(
                index[bolt.row], _along_m(bolt, self.seen), float(self.seen.doubts_m[bolt.method])
            )
            for bolt in bolts
        )
        return Doubts(each, self._steps_m(), _face_doubt_m(self.seen))

    def _rows_beside(self, x_m: float) -> GapRows:
        """Say which rows a place lies between, or which one it is in line with."""
        nearest, at = min(self.rows, key=lambda one: abs(one[1] - x_m))
        if abs(at - x_m) <= IN_LINE_M:
            return GapRows(nearest.number, nearest.number)
        inbye = next((row.number for row, x in self.rows if x > x_m), None)
        outbye = next(row.number for row, x in reversed(self.rows) if x < x_m)
        return GapRows(outbye, inbye, self.seen.round.ends_at)

    def _steps_m(self) -> tuple[float, ...]:
        """Doubt of the step to each row; what was not measured is as unsure as assumed."""
        steps = []
        for row, _ in self.rows:
            method = "tape" if row.number < 1 else row.ahead.method if row.ahead else "assumed"
            steps.append(float(self.seen.doubts_m[method]))
        return tuple(steps)

    def chainage_m(self, x_m: float) -> float:
        """Give the chainage of a place along the rock [m]."""
        chainages = [float(row.chainage_m) for row, _ in self.rows]
        along = [x for _, x in self.rows]
        if x_m >= along[-1]:
            return chainages[-1] + x_m - along[-1]
        return float(np.interp(x_m, along, chainages))


def gap_ground(seen: Seen) -> GapGround | None:
    """Lay out the ground of a round for its gaps.

    Parameters
    ----------
    seen : Seen
        The round. [m]

    Returns
    -------
    GapGround or None
        None where the rows leave no ground between them. [m]

    Source
    ------
    Common practice, no source. A face that was not read is taken to stand at the last row, so
    that a gap is never made wider than it is.
    """
    rows = tuple(along_the_rock(seen))
    last, at_last = rows[-1]
    read = face_readings(seen.round) if seen.has_face else {}
    places = (
        ("left", last.line.left_s_m),
        ("middle", (last.line.left_s_m + last.line.right_s_m) / 2),
        ("right", last.line.right_s_m),
    )
    ahead = [float(read[where].value_m) if where in read else 0.0 for where, _ in places]
    face = FaceLine(tuple((at_last + a, s) for a, (_, s) in zip(ahead, places, strict=True)))
    if at_last - rows[0][1] + max(ahead) < _FLAT_M:
        return None
    left = [(x, row.line.left_s_m) for row, x in rows]
    right = [(x, row.line.right_s_m) for row, x in rows]
    return GapGround(seen, rows, supported_area(left, right, face), face)


def along_the_rock(seen: Seen) -> Iterator[tuple[Row, float]]:
    """Yield each row with where it is along the rock.

    Parameters
    ----------
    seen : Seen
        The round. [m]

    Returns
    -------
    iterator of (Row, float)
        Counted from the joint; where the profile changes, the rock's own length. [m]

    Source
    ------
    Geometry, see `fieldapp.assess.profile.profile.across_step_m`.
    """
    longer_m, before_m = 0.0, seen.round.joint_m
    for row in seen.all_rows:
        ahead = float(row.chainage_m - seen.round.joint_m)
        if row.step_m and ahead > 0:
            flat = float(row.chainage_m - before_m)
            longer_m += across_step_m(flat, row.step_m) - flat
        before_m = max(before_m, row.chainage_m)
        yield row, ahead + longer_m


def _along_m(bolt: Bolt, seen: Seen) -> float:
    """Doubt of a bolt's own place along the drive: rows are straight where they were looked at."""
    return float(seen.measuring.assumed_m) if bolt.method == "assumed" else 0.0


def _face_doubt_m(seen: Seen) -> float:
    read = face_readings(seen.round).values() if seen.has_face else ()
    return max((float(seen.doubts_m[one.method]) for one in read), default=0.0)
