"""The monthly condition walks: section by section, what the technician answered and read."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Final

from fieldapp.assess.walk import Section, section_number, sections_of, zones_in_full
from fieldapp.work.demo.history.draws import Draws, to_step
from fieldapp.work.demo.history.places import RETURN, S_M
from fieldapp.work.demo.history.repairs_told import Observed
from fieldapp.work.demo.history.rusting import Lost, is_wet, lost_by
from fieldapp.work.demo.history.teller import Happening, Teller
from fieldapp.work.demo.history.truth import (
    BAR_MM,
    CALLIPER_MM,
    LOOSE_SHARE,
    TREMOR,
    WET,
    WIRE_MM,
    convergence_mm,
)
from fieldapp.work.demo.people import TECHNICIAN
from fieldapp.work.walk.plan import seed_of
from schemas.bodies.damage import DamageZone
from schemas.bodies.walk import (
    DistanceRead,
    LookedAt,
    PartSeen,
    SectionSeen,
    SteelRead,
    SupportPart,
    Walk,
    ZoneSeen,
)
from schemas.corrosion_rules import Steel

A_SECTION: Final = timedelta(seconds=50)
WET_STATIONS_M: Final = (463, 471, 478, 486, 495)
DRY_STATIONS_M: Final = {WET.heading: 425, "Wrenfall Decline": 1052, RETURN: 44}
"""Places at which steel is read each month, in the wet stretch and elsewhere."""
NOT_REACHED_SHARE: Final = 0.012
ACROSS_MM, DISTANCE_DEVIATION_MM = 4480.0, 0.35
DISTANCE_U_MM: Final = Decimal("0.5")
BOLTS_A_SECTION, DRAWN = 15, 45
"""In each zone."""
ZONES: Final = tuple(S_M)
LOW_WALL: Final[DamageZone] = "right wall"


@dataclass(frozen=True)
class WalkOf:
    """One walk of one heading."""

    heading: str
    nth: int
    day: float
    supported_to_m: Decimal
    observed: Sequence[Observed]
    draws: Draws

    def happening(self) -> Happening:
        """Give it as it is stated, at its end."""
        return Happening(self.day, self._tell)

    def _tell(self, teller: Teller) -> None:
        """State it, and before it what damage was recorded on the spot."""
        place = teller.places[self.heading]
        began_at = teller.at(self.day)
        rule = place.standard.body.walk
        assert rule is not None  # noqa: S101 - the demo's standard has one
        cut = sections_of(Decimal(0), self.supported_to_m, rule.section_m)
        month = f"{began_at.year:04}-{began_at.month:02}"
        in_full = zones_in_full(
            [section_number(it.from_m, rule.section_m) for it in cut],
            rule.full_zones_in_ten_sections,
            seed_of(teller.site, place.known.id, month),
        )
        sections = tuple(
            self._section(teller, began_at + A_SECTION * (nth + 1), it, in_full.get(nth, ()))
            for nth, it in enumerate(cut)
        )
        body = Walk(
            heading=place.known.id,
            month=month,
            began_at=began_at,
            ended_at=sections[-1].at,
            sections=sections,
            looked_at=tuple(self._looked_at(place.demanded.code, len(sections))),
            standard=place.standard.entry.revision,
        )
        teller.pen.write("walk", body, teller.hands[TECHNICIAN].id, sections[-1].at)

    def _share(self, *about: object) -> float:
        return self.draws.share(self.heading, "walk", self.nth, *about)

    def _section(
        self, teller: Teller, at: datetime, it: Section, in_full: tuple[DamageZone, ...]
    ) -> SectionSeen:
        there = [
            one for one in self.observed if one.it.is_seen_on(self.day) and _is_in(it, one.it.at_m)
        ]
        if not there and self._share(it.from_m, "reached") < NOT_REACHED_SHARE:
            return SectionSeen(
                from_m=it.from_m,
                to_m=it.to_m,
                at=at,
                answer="not reached",
                not_reached="vehicle or machine",
            )
        hand = teller.hands[TECHNICIAN]
        damages = tuple(one.see(teller, hand, at, self.day) for one in there)
        wet = is_wet(self.heading, float(it.from_m))
        return SectionSeen(
            from_m=it.from_m,
            to_m=it.to_m,
            at=at,
            answer="something new" if damages else "nothing new",
            in_full=in_full,
            parts=tuple(self._parts(in_full, wet=wet)),
            zones=(ZoneSeen(zone=LOW_WALL, water="dripping", scats="none"),) if wet else (),
            steel=tuple(self._steel(it)),
            distances=tuple(self._distances(it)),
            damages=damages,
        )

    def _parts(self, in_full: tuple[DamageZone, ...], *, wet: bool) -> Iterator[PartSeen]:
        """Yield what is said of rust, and of the zones that were drawn and are in order."""
        if wet:
            yield from self._rust_seen()
        for zone in in_full:
            if not (wet and zone == LOW_WALL):
                yield PartSeen(part="mesh", zone=zone, severity="S0")

    def _rust_seen(self) -> Iterator[PartSeen]:
        for part, galvanised in (("mesh", True), ("bolts", False)):
            grade = lost_by(self.day, wet=True, galvanised=galvanised).grade
            yield PartSeen.model_validate(
                {"part": part, "zone": LOW_WALL, "corrosion_grade": grade}
            )

    def _steel(self, it: Section) -> Iterator[SteelRead]:
        stations = WET_STATIONS_M if self.heading == WET.heading else ()
        dry = [DRY_STATIONS_M[self.heading]] if self.heading in DRY_STATIONS_M else []
        for at_m in (*stations, *dry):
            if _is_in(it, at_m):
                wet = is_wet(self.heading, at_m)
                wire = lost_by(self.day, wet=wet, galvanised=True)
                bar = lost_by(self.day, wet=wet, galvanised=False)
                yield self._read(at_m, "bar", "bolts", BAR_MM, bar)
                yield self._read(at_m, "wire", "mesh", WIRE_MM, wire)

    def _read(
        self, at_m: int, steel: Steel, part: SupportPart, new_mm: float, lost: Lost
    ) -> SteelRead:
        error_mm = self.draws.around(0.0, CALLIPER_MM, self.heading, self.nth, at_m, steel)
        return SteelRead(
            steel=steel,
            part=part,
            zone=LOW_WALL,
            chainage_m=Decimal(at_m),
            s_m=S_M[LOW_WALL],
            original_mm=to_step(new_mm, "0.1"),
            read_mm=to_step(lost.left_mm(new_mm) + error_mm, "0.01"),
            u_mm=to_step(CALLIPER_MM, "0.01"),
            how="calliper",
            zinc_seen=lost.zinc_left_um > 0,
        )

    def _distances(self, it: Section) -> Iterator[DistanceRead]:
        if self.heading == TREMOR.heading and _is_in(it, TREMOR.at_m):
            error_mm = self.draws.around(0.0, DISTANCE_DEVIATION_MM, self.nth, "distance")
            yield DistanceRead(
                station=f"C{TREMOR.at_m}",
                between="walls",
                chainage_m=Decimal(TREMOR.at_m),
                read_mm=to_step(ACROSS_MM - convergence_mm(self.day) + error_mm, "0.1"),
                u_mm=DISTANCE_U_MM,
            )

    def _looked_at(self, support_class: str, sections: int) -> Iterator[LookedAt]:
        """Yield what came of the bolts that were drawn to be looked at one by one."""
        there = BOLTS_A_SECTION * sections
        drawn = min(DRAWN, there)
        for zone in ZONES:
            bad = sum(self._share(zone, nth) < LOOSE_SHARE for nth in range(drawn))
            yield LookedAt(
                of="bolts",
                stratum=f"{support_class}, {zone}",
                there=there,
                drawn=drawn,
                looked_at=drawn,
                bad=bad,
            )


def _is_in(it: Section, at_m: float) -> bool:
    return it.from_m <= at_m < it.to_m
