"""Telling the past from its beginning to where today's story goes on, in the order of time."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from operator import attrgetter
from typing import Final

from fieldapp.work.demo.history.advancing import TrueRound, rounds_of
from fieldapp.work.demo.history.batches_told import Batches
from fieldapp.work.demo.history.bolt_tests_told import ToldTest
from fieldapp.work.demo.history.coring import TrueSet, sets_of
from fieldapp.work.demo.history.crossing import JUNCTIONS, Told
from fieldapp.work.demo.history.damaging import TrueDamage, damages_of, walk_days
from fieldapp.work.demo.history.draws import Draws, to_step
from fieldapp.work.demo.history.events_told import TrueEvent, event_happenings, events_of
from fieldapp.work.demo.history.looking import Place
from fieldapp.work.demo.history.pen import Pen
from fieldapp.work.demo.history.places import (
    PASTS,
    RECHAINED_BY_M,
    RECHAINED_DAY,
    RECHAINED_FROM_M,
    RETURN,
    RETURN_LAST_M,
    RETURN_LINE,
    RETURN_M,
    Past,
    surveyed,
)
from fieldapp.work.demo.history.pulling import TrueTest, fails, tests_of
from fieldapp.work.demo.history.repairs_told import Observed
from fieldapp.work.demo.history.rounds_told import Advance
from fieldapp.work.demo.history.teller import Hand, Happening, Teller
from fieldapp.work.demo.history.truth import SEED
from fieldapp.work.demo.history.walks_told import WalkOf
from fieldapp.work.demo.people import KEEPER, DemoPerson
from fieldapp.work.demo.story import heading_body
from fieldapp.work.headings import heading
from fieldapp.work.site import Site
from fieldapp.work.standard_in_force import in_force
from schemas.bodies.heading import Heading, Rechained
from schemas.standard import Standard, SupportClass

Progress = Callable[[float], None]
"""Hears how much of it is told, from 0 to 1."""

_SAID_EVERY: Final = 100


@dataclass(frozen=True)
class History:
    """What happened in a year and a half before the story of the last days."""

    standard: Standard
    draws: Draws
    rounds: Mapping[str, tuple[TrueRound, ...]]
    damages: tuple[TrueDamage, ...]
    events: tuple[TrueEvent, ...]
    tests: tuple[TrueTest, ...]
    cores: tuple[TrueSet, ...]
    walked: tuple[str, ...] = (*PASTS, RETURN)

    @classmethod
    def of(cls, standard: Standard) -> "History":
        """Let it happen, by the mine's standard."""
        draws = Draws(SEED)
        rounds = {
            name: rounds_of(past, _demanded(standard, past.now.support_class), draws)
            for name, past in PASTS.items()
        }
        faces = {name: Supported(name, rounds[name]) for name in PASTS}
        tests = tests_of(rounds, standard, draws)
        cores = sets_of(rounds, standard, draws)
        slipped = (it for it in tests if fails(it, standard))
        damages = damages_of(draws, faces, slipped, (it for it in cores if it.is_weak))
        return cls(
            standard=standard,
            draws=draws,
            rounds=rounds,
            damages=damages,
            events=events_of(draws, faces, damages),
            tests=tests,
            cores=cores,
        )

    def headings(self) -> Iterator[Heading]:
        """Yield the headings as they were entered when the record began."""
        for name, past in PASTS.items():
            yield self._as_it_was(past, self.rounds[name])
        yield Heading(
            name=RETURN,
            level="4130",
            support_class="O2",
            face_m=RETURN_M,
            last_row_m=RETURN_M - RETURN_LAST_M,
            last_round=140,
            supported_before=True,
            other_way_out=True,
            corrosivity="C3",
            exposure="E2",
            surveyed=surveyed(RETURN_LINE, RETURN_M),
            demo=True,
        )

    def tell(
        self, site: Site, began_at: datetime, hands: Mapping[DemoPerson, Hand], told: Progress
    ) -> None:
        """State what people saw of it, entry by entry, each by whoever saw it."""
        teller = Teller(
            site=site,
            pen=Pen(site, self.draws),
            draws=self.draws,
            began_at=began_at,
            places={name: self._place(site, name) for name in (*PASTS, RETURN)},
            hands=hands,
        )
        happened = sorted(self._happenings(), key=attrgetter("day"))
        for nth, it in enumerate(happened):
            it.tell(teller)
            if nth % _SAID_EVERY == 0:
                told(nth / len(happened))
        teller.pen.finish()
        told(1.0)

    def _happenings(self) -> Iterator[Happening]:
        for name, rounds in self.rounds.items():
            yield from Advance(name).happenings(rounds)
        observed = tuple(map(Observed, self.damages))
        for one in observed:
            yield from one.happenings()
        for name in self.walked:
            yield from self._walks(name, [it for it in observed if it.it.heading == name])
        yield from event_happenings(self.events, self.standard)
        yield from Batches(self.tests, self.standard).happenings()
        for test in self.tests:
            yield ToldTest(test, self.standard).happening()
        for cored in self.cores:
            yield cored.happening()
        for junction in JUNCTIONS:
            yield from Told(junction, self.standard, self.draws).happenings()
        yield Happening(RECHAINED_DAY, _rechain)

    def _walks(self, name: str, observed: Sequence[Observed]) -> Iterator[Happening]:
        supported = Supported(name, self.rounds.get(name, ()))
        for nth, day in enumerate(walk_days(name)):
            to_m = to_step(supported(day), "0.01")
            yield WalkOf(name, nth, day, to_m, observed, self.draws).happening()

    def _as_it_was(self, past: Past, rounds: tuple[TrueRound, ...]) -> Heading:
        now = heading_body(past.now)
        said: dict[str, object] = {
            "corrosivity": past.corrosivity,
            "exposure": past.exposure,
            "surveyed": surveyed(past.line, now.face_m),
        }
        if rounds:
            said["face_m"] = rounds[0].face_before_m
            said["last_row_m"] = rounds[0].last_row_before_m
            said["last_round"] = rounds[0].number - 1
        return now.model_copy(update=said)

    def _place(self, site: Site, name: str) -> Place:
        known = heading(site, name)
        return Place(
            known, in_force(site, site.now()), _demanded(self.standard, known.body.support_class)
        )


class Supported:
    """Where the last row of accepted support of a heading is, day by day."""

    def __init__(self, name: str, rounds: Sequence[TrueRound]) -> None:
        self._name = name
        self._rounds = rounds

    def __call__(self, day: float) -> float:
        """Give its chainage; a round counts a day after it was fired and cured."""
        there = [it.last_row_m for it in self._rounds if it.day + it.cures_days + 1 < day]
        return float(there[-1] if there else self._before_m(day))

    def _before_m(self, day: float) -> Decimal:
        """Give where it was before the first round of the record."""
        if self._name == RETURN:
            by_m = RECHAINED_BY_M if day > RECHAINED_DAY else Decimal(0)
            return RETURN_M - RETURN_LAST_M + by_m
        if self._rounds:
            return self._rounds[0].last_row_before_m
        return Decimal(PASTS[self._name].now.last_row_m)


def _rechain(teller: Teller) -> None:
    """Survey the old drive anew: what was read there before is shifted, not written over."""
    at = teller.at(RECHAINED_DAY)
    known = teller.places[RETURN].known
    shift = Rechained(from_m=RECHAINED_FROM_M, by_m=RECHAINED_BY_M, at=at)
    line = surveyed(RETURN_LINE, RETURN_M + RECHAINED_BY_M)
    body = known.body.model_copy(update={"rechained": (shift,), "surveyed": line})
    teller.pen.write(
        "heading",
        body,
        teller.hands[KEEPER].id,
        at,
        thing_id=known.id,
        parents=(known.entry.revision,),
    )


def _demanded(standard: Standard, code: str) -> SupportClass:
    found = standard.support_class(code)
    assert found is not None  # noqa: S101 - the demo's headings are put up by its own standard
    return found
