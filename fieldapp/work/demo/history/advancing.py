"""How the headings were advanced: what crew put up which round, when, and how well.

What is here happened, whether anybody saw it or not.
"""

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final, Literal

from fieldapp.work.demo.history.draws import Draws, to_step
from fieldapp.work.demo.history.places import Past
from fieldapp.work.demo.history.truth import (
    CREWS,
    LASTS,
    RESINS,
    Crew,
)
from schemas.bodies.work_seen import WorkMethod
from schemas.standard import SupportClass

Fault = Literal["loose plate", "bolt missing", "short lap", "too far from the face", "low torque"]
FAULTS: Final[tuple[Fault, ...]] = (
    "loose plate",
    "loose plate",
    "loose plate",
    "bolt missing",
    "short lap",
    "short lap",
    "too far from the face",
    "low torque",
    "low torque",
    "low torque",
)
"""As often as each is met; what a class does not ask for is a loose plate instead."""

STOPS_DAYS: Final = 3.0
"""The last round of the past was fired so long before the story of the last days begins."""
A_ROW_FEWER: Final = 0.15
"""Share of the rounds that are shorter by a row: the ground breaks short."""
SAFE_SHARE, TOO_FAR_SHARE = 0.955, 1.07
"""What stands near the limit is measured again; these are plainly within and plainly beyond."""
ADDED_SHARE: Final = Decimal("0.55")
"""A row that is added before a face too far away stands so many row spacings ahead."""
SHIFTS: Final = (5.75, 17.75)
"""Hours at which a round is fired: the end of a shift."""
MACHINE_NEEDS_M: Final = Decimal("4.8")
BOLTS_LAST_DAYS, MESH_LASTS_DAYS = 95, 80
BY_RESIN: Final = ("RB24",)
"""Long bars stand in cement grout, point anchors in none."""
A_DAY: Final = 1.0
"""So long cement grout needs by the standard, and shotcrete less."""


@dataclass(frozen=True)
class TrueRound:
    """One round as it was fired and supported. Chainages in metres."""

    number: int
    day: float
    """When it was fired: days after the record began."""
    face_before_m: Decimal
    last_row_before_m: Decimal
    ahead_m: tuple[Decimal, ...]
    """Each row from the one before, as it was put up first."""
    row_added_m: Decimal | None
    """How far ahead one more row was put up, where the face was too far away."""
    to_face_m: Decimal
    """From the last row that was put up first, to where the face is farthest."""
    crew: Crew
    method: WorkMethod
    batches: tuple[str, ...]
    laps_more: int
    """Openings beyond what is demanded, in its shortest lap."""
    fault: Fault | None
    in_haste: bool
    sprayed: bool
    """Whether shotcrete lies on it, and cement grout holds its bolts."""

    @property
    def first_last_row_m(self) -> Decimal:
        """Where the last row stood when it was looked at first."""
        return self.last_row_before_m + sum(self.ahead_m, Decimal(0))

    @property
    def last_row_m(self) -> Decimal:
        """Where its last row stands in the end."""
        return self.first_last_row_m + (self.row_added_m or Decimal(0))

    @property
    def cures_days(self) -> float:
        """Days for which nobody looks at it: its grout is not hard, nor its shotcrete."""
        return A_DAY if self.sprayed else 0.0

    @property
    def face_m(self) -> Decimal:
        """Where the face stands after it."""
        return self.first_last_row_m + self.to_face_m


def rounds_of(past: Past, demanded: SupportClass, draws: Draws) -> tuple[TrueRound, ...]:
    """Give every round of a heading's past, the last of which ends where today's story begins."""
    drawn: list[TrueRound] = []
    for nth in range(past.rounds):
        drawn.append(_Nth(past, demanded, draws, nth).after(drawn[-1] if drawn else None))
    if not drawn:
        return ()
    shift_m = Decimal(past.now.last_row_m) - drawn[-1].last_row_m
    return tuple(_shifted(it, shift_m) for it in drawn)


def resin_on(day: float) -> str:
    """Give the batch of resin that was in use on a day."""
    return next(it.label for it in RESINS if day < it.until_day)


def bolts_on(day: float, bolt_type: str) -> str:
    """Give the batch of bolts that was in use on a day."""
    return f"{bolt_type}-{601 + int(day // BOLTS_LAST_DAYS):04}"


def mesh_on(day: float) -> str:
    """Give the batch of mesh that was in use on a day."""
    return f"WM-{21 + int(day // MESH_LASTS_DAYS):04}"


def _shifted(one: TrueRound, by_m: Decimal) -> TrueRound:
    return replace(
        one,
        face_before_m=one.face_before_m + by_m,
        last_row_before_m=one.last_row_before_m + by_m,
    )


@dataclass(frozen=True)
class _Nth:
    """One round of a heading, drawn by its number."""

    past: Past
    demanded: SupportClass
    draws: Draws
    nth: int

    def after(self, before: TrueRound | None) -> TrueRound:
        """Draw it where the round before ended."""
        crew, fault = self._crew(), self._fault()
        far_m = float(self.demanded.limits.last_row_to_face.at_most_m)
        to_face_m = self._to_face_m(crew, fault)
        spacing_m = self.demanded.pattern.row_spacing_m
        added_m = to_step(float(spacing_m * ADDED_SHARE), "0.01")
        day = self._day()
        return TrueRound(
            number=self.past.now.last_round - self.past.rounds + self.nth + 1,
            day=day,
            face_before_m=before.face_m if before else to_step(0.8 * far_m, "0.01"),
            last_row_before_m=before.last_row_m if before else Decimal(0),
            ahead_m=tuple(self._ahead_m(float(spacing_m), row) for row in range(self._rows())),
            row_added_m=added_m if fault == "too far from the face" else None,
            to_face_m=to_face_m,
            crew=crew,
            method=self._method(),
            batches=self._batches(day),
            laps_more=max(0, round(self._draw(crew.laps_openings, 0.7, "laps"))),
            fault=fault,
            in_haste=self._share("haste") < crew.in_haste,
            sprayed=self.demanded.shotcrete is not None,
        )

    def _share(self, *about: object) -> float:
        return self.draws.share(self.past.now.name, self.nth, *about)

    def _draw(self, mean: float, deviation: float, *about: object) -> float:
        return self.draws.around(mean, deviation, self.past.now.name, self.nth, *about)

    @property
    def _is_last(self) -> bool:
        return self.nth == self.past.rounds - 1

    def _day(self) -> float:
        """Give the end of the shift at which it was fired, about a week after the one before."""
        last = LASTS.days - STOPS_DAYS
        every = (last - self.past.first_day) / max(1, self.past.rounds - 1)
        late = 0.0 if self._is_last else every * 0.3 * self._share("late")
        day = self.past.first_day + every * self.nth + late
        return int(day) + self.draws.one_of(SHIFTS, self.past.now.name, self.nth) / 24

    def _rows(self) -> int:
        fewer = not self._is_last and self._share("rows") < A_ROW_FEWER
        return max(2, self.past.rows - fewer)

    def _crew(self) -> Crew:
        """Give the crew: they take turns, not quite in order."""
        return CREWS[(self.nth + int(2 * self._share("crew"))) % len(CREWS)]

    def _method(self) -> WorkMethod:
        machine_fits = self.demanded.profile.width_m >= MACHINE_NEEDS_M
        mechanised = self._share("by") < (0.8 if machine_fits else 0.3)
        return "mechanised" if mechanised else "hand-held"

    def _fault(self) -> Fault | None:
        if self._is_last or self._share("fault") >= self._crew().not_right_first:
            return None
        fault = FAULTS[int(self._share("which") * len(FAULTS))]
        limits = self.demanded.limits
        asked = limits.torque is not None or fault != "low torque"
        meshed = limits.mesh_lap is not None or fault not in ("short lap", "too far from the face")
        return fault if asked and meshed else "loose plate"

    def _ahead_m(self, spacing_m: float, row: int) -> Decimal:
        return to_step(spacing_m + self._draw(0.0, 0.018, "ahead", row), "0.01")

    def _to_face_m(self, crew: Crew, fault: Fault | None) -> Decimal:
        most_m = self.demanded.limits.last_row_to_face.at_most_m
        if self._is_last:
            return Decimal(self.past.now.face_m) - Decimal(self.past.now.last_row_m)
        if fault == "too far from the face":
            return to_step(float(most_m) * TOO_FAR_SHARE, "0.01")
        share = min(self._draw(crew.to_face_share, 0.05, "to face"), SAFE_SHARE)
        return to_step(float(most_m) * share, "0.01")

    def _batches(self, day: float) -> tuple[str, ...]:
        bolt_type = self.demanded.bolts[0].code
        resin = (resin_on(day),) if bolt_type in BY_RESIN else ()
        mesh = (mesh_on(day),) if self.demanded.mesh is not None else ()
        return (bolts_on(day, bolt_type), *resin, *mesh)
