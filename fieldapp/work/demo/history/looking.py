"""What a supervisor saw and stated of a round: the record that the round's questions lead to.

A real round is looked at question by question, each touch on the disk (`demo.walking` does so for
the rounds of the last days). Of a year and a half only what the touches come to is made.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from functools import cached_property
from typing import Final

from fieldapp.assess.demanded import laps_demanded, old_row_demanded, rows_demanded
from fieldapp.assess.readings import PROBES
from fieldapp.work.demanded import torque_positions_in_round
from fieldapp.work.demo.history.advancing import TrueRound
from fieldapp.work.demo.history.draws import Draws, to_step
from fieldapp.work.demo.history.truth import TORQUE_NM, TORQUE_SPREAD_NM
from fieldapp.work.demo.history.working import Worked, work_of
from fieldapp.work.known import Known
from fieldapp.work.questions.drawn import drawn_in_row, places_drawn, spacing_drawn
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import old_rows_before
from schemas.bodies.heading import Heading
from schemas.bodies.round import (
    Barring,
    BolterCheck,
    BoltSeen,
    CountedRow,
    FaceReading,
    FaceSeen,
    GroundSeen,
    Hasty,
    LapSeen,
    LengthReading,
    MeshSeen,
    OldRow,
    Round,
    RowSeen,
    ShotcreteSeen,
    SpacingSeen,
    SpotCheck,
    TorqueSeen,
)
from schemas.standard import Standard, SupportClass

A_ROW: Final = timedelta(seconds=27)
A_ROW_IN_HASTE: Final = timedelta(seconds=1.4)
OLD_ROWS_AFTER, ROWS_AFTER = timedelta(seconds=80), timedelta(seconds=100)
REST: Final = timedelta(seconds=140)
HASTY_ROWS: Final = 3
CURED: Final = timedelta(hours=3)
EARLY_MPA, EARLY_SPREAD = Decimal("8.0"), 90
"""Strength of the shotcrete a day after it was sprayed, and how far it scatters. [MPa, 0.01]"""
THICKER_MM: Final = 20
LOW_NM: Final = Decimal(150)
MM_OF_RAGGED_FACE: Final = 60


@dataclass(frozen=True)
class Place:
    """A heading, and what is demanded there."""

    known: Known[Heading]
    standard: Known[Standard]
    demanded: SupportClass

    def work(self, seen: Round, round_id: str, previous: Round | None) -> RoundWork:
        """Give a round as the jobs of rounds take it."""
        return RoundWork(
            round_id=round_id,
            draft_id=round_id,
            heading=self.known.body,
            standard=self.standard.body,
            began=seen,
            previous=previous,
            standard_line=self.standard.entry.line.decode(),
        )


@dataclass(frozen=True)
class Looking:
    """One look at one round."""

    place: Place
    one: TrueRound
    round_id: str
    previous: Round | None
    at: datetime
    face_known_m: Decimal
    draws: Draws

    def first(self) -> Round:
        """Give what was seen at the first look."""
        work = self._work(self._marked)
        rows = tuple(self._drawn(work, row) for row in self._marked.rows)
        torques = tuple(self._torques(work))
        return self._marked.model_copy(update={"rows": rows, "torques": torques})

    @property
    def ends_at(self) -> datetime:
        """When the last question was answered."""
        return self.at + ROWS_AFTER + self._a_row * len(self.one.ahead_m) + REST

    @cached_property
    def _began(self) -> Round:
        began = Round(
            heading=self.place.known.id,
            number=self.one.number,
            support_class=self.place.demanded.code,
            standard=self.place.standard.entry.revision,
            joint_m=self.one.last_row_before_m,
            rows_planned=len(self.one.ahead_m),
            started_at=self.at,
            face_known_m=self.face_known_m,
        )
        old_rows = old_rows_before(
            self.place.demanded, began, self.previous, self.place.standard.body
        )
        return began.model_copy(update={"old_rows": old_rows})

    @cached_property
    def _marked(self) -> Round:
        """The round before what the app draws is looked at."""
        rows = tuple(self._rows())
        hasty = Hasty(rows=(1, 2, 3), at=self.at + ROWS_AFTER + REST / 4, answer="looked at each")
        said = {
            "ground": GroundSeen(condition="as expected"),
            "barring": Barring(
                before_by="bolter crew", before_when="this shift", after_bolting=True
            ),
            "bolter": self._bolter(),
            "face": FaceSeen(scaled_and_supported=True, misfires_and_butts="none found"),
            "old_rows": tuple(self._old_rows()),
            "rows": rows,
            "laps": tuple(self.laps()),
            "mesh": self._mesh(),
            "shotcrete": self._shotcrete(),
            "last_row_marked": True,
            "face_readings": tuple(self._face()),
            "hasty": (hasty,) if self._is_hasty else (),
        }
        marked = self._began.model_copy(update=said)
        name, finished_at = self.place.known.body.name, self._finished_at
        worked = Worked(name, self.one, self.place.demanded, finished_at)
        return marked.model_copy(update={"work": work_of(worked, marked, self.draws)})

    def _work(self, seen: Round) -> RoundWork:
        return self.place.work(seen, self.round_id, self.previous)

    def _share(self, *about: object) -> float:
        return self.draws.share(self.place.known.body.name, self.one.number, *about)

    @property
    def _is_hasty(self) -> bool:
        return self.one.in_haste and len(self.one.ahead_m) >= HASTY_ROWS

    @property
    def _a_row(self) -> timedelta:
        return A_ROW_IN_HASTE if self._is_hasty else A_ROW

    def _around(self, middle: Decimal, cm: int, *about: object) -> Decimal:
        return middle + to_step((2 * self._share(*about) - 1) * cm / 100, "0.01")

    def _bolter(self) -> BolterCheck:
        bolt = self.place.demanded.bolts[0]
        return BolterCheck(
            done=True,
            crew=self.one.crew.name,
            blocked_holes=0,
            batches=self.one.batches,
            bolt_type=bolt.code,
            bolt_length_m=bolt.length_m,
            basis="pack label",
            bolting_finished_at=self._finished_at if bolt.curing else None,
        )

    @property
    def _finished_at(self) -> datetime:
        return self.at - max(CURED, timedelta(days=self.one.cures_days))

    def _shotcrete(self) -> ShotcreteSeen:
        """Give its shotcrete as it was probed, each a little thicker than is demanded."""
        limit = self.place.demanded.limits.shotcrete_thickness
        if not self.one.sprayed or limit is None:
            return ShotcreteSeen()
        probed = (int(THICKER_MM * self._share("probe", n)) for n in range(PROBES))
        return ShotcreteSeen(
            sprayed_at=self._finished_at,
            thickness_mm=tuple(limit.at_least_mm + it for it in probed),
            strength_mpa=self._around(EARLY_MPA, EARLY_SPREAD, "early strength"),
        )

    def _old_rows(self) -> Iterator[OldRow]:
        demanded = self.place.demanded
        for nth, row in enumerate(self._began.old_rows):
            plates = len(old_row_demanded(demanded, row, None).s_m)
            at = self.at + OLD_ROWS_AFTER + A_ROW / 3 * nth
            yield row.model_copy(update={"confirmed": CountedRow(plates=plates, at=at)})

    def _rows(self) -> Iterator[RowSeen]:
        demanded = rows_demanded(self.place.demanded, self._began)
        faulty = 1 + int(self._share("faulty row") * len(demanded))
        for row, ahead_m in zip(demanded, self.one.ahead_m, strict=True):
            bolts = self._faulty(len(row.s_m)) if row.number == faulty else ()
            at = self.at + ROWS_AFTER + self._a_row * row.number
            yield RowSeen(
                number=row.number,
                ahead_of_row_before=LengthReading(value_m=ahead_m, method="tape"),
                counted=CountedRow(plates=len(row.s_m) - len(bolts), at=at),
                bolts=bolts,
            )

    def _faulty(self, bolts: int) -> tuple[BoltSeen, ...]:
        position = 2 + int(self._share("faulty bolt") * (bolts - 2))
        if self.one.fault == "loose plate":
            return (BoltSeen(position=position, state="present", plate="loose"),)
        if self.one.fault == "bolt missing":
            return (BoltSeen(position=position, state="missing"),)
        return ()

    def _drawn(self, work: RoundWork, row: RowSeen) -> RowSeen:
        """Look at the bolts that the app draws, and tape the spacing that it draws."""
        loose = {bolt.position for bolt in row.bolts if bolt.plate == "loose"}
        spots = tuple(
            SpotCheck(position=at, plate_gap="> 20 mm" if at in loose else "tight")
            for at in drawn_in_row(places_drawn(work), row.number)
        )
        return row.model_copy(
            update={"spot_checks": spots, "spacings": tuple(self.taped(work, row))}
        )

    def taped(self, work: RoundWork, row: RowSeen) -> Iterator[SpacingSeen]:
        """Yield the spacing that the app draws in a row."""
        pair = spacing_drawn(work, row.number)
        if pair is not None:
            straight_m = self.place.demanded.pattern.bolt_spacing_m - Decimal("0.03")
            value_m = self._around((pair[1] - pair[0]) * straight_m, 2, "spacing", row.number)
            reading = LengthReading(value_m=value_m, method="tape", straight=True)
            yield SpacingSeen(from_position=pair[0], to_position=pair[1], reading=reading)

    def laps(self) -> Iterator[LapSeen]:
        """Yield each lap as it was counted."""
        limit = self.place.demanded.limits.mesh_lap
        if limit is None:
            return
        laps = laps_demanded(self.place.demanded, len(self.one.ahead_m))
        shortest = 1 + int(self._share("shortest lap") * laps)
        for number in range(1, laps + 1):
            more = self.one.laps_more + (number != shortest) * int(2 * self._share("lap", number))
            if number == shortest and self.one.fault == "short lap":
                more = -1
            yield LapSeen(number=number, openings=limit.at_least_openings + more, held=True)

    def _mesh(self) -> MeshSeen:
        limit = self.place.demanded.limits.mesh_reach
        if limit is None:
            return MeshSeen()
        beyond_m = self._around(Decimal("0.15"), 4, "mesh")
        above_m = self._around(limit.above_floor_at_most_m - Decimal("0.20"), 10, "floor")
        return MeshSeen(
            to_face=LengthReading(value_m=self.one.to_face_m - beyond_m, method="staff"),
            above_floor=LengthReading(value_m=above_m, method="tape"),
            no_holes=True,
            no_bagging=True,
        )

    def _face(self) -> Iterator[FaceReading]:
        farthest = self.draws.one_of(
            ("left", "middle", "right"), self.place.known.id, self.one.number
        )
        for where in ("left", "middle", "right"):
            nearer_m = to_step(self._share("face", where) * MM_OF_RAGGED_FACE / 1000, "0.01")
            value_m = self.one.to_face_m - (nearer_m if where != farthest else 0)
            reading = LengthReading(value_m=value_m, method="staff")
            yield FaceReading.model_validate({"where": where, "reading": reading})

    def _torques(self, work: RoundWork) -> Iterator[TorqueSeen]:
        limit = self.place.demanded.limits.torque
        for nth, (bolt, (row, position)) in enumerate(torque_positions_in_round(work)):
            assert limit is not None  # noqa: S101 - only then are there any
            low = nth == 0 and self.one.fault == "low torque"
            torque_nm = LOW_NM if low else self.torque_nm(bolt)
            yield TorqueSeen(bolt=bolt, row=row, position=position, torque_nm=torque_nm)

    def torque_nm(self, bolt: int) -> Decimal:
        """Give what a bolt of it is tightened to."""
        name = self.place.known.body.name
        drawn = self.draws.around(TORQUE_NM, TORQUE_SPREAD_NM, name, self.one.number, "nm", bolt)
        return to_step(drawn, "5")
