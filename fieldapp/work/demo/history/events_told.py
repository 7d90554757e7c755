"""What happened to the ground: stope blasts nearby, a tremor, vehicles, water."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from fieldapp.work.demo.history.damaging import FaceOn, TrueDamage
from fieldapp.work.demo.history.draws import Draws, to_step
from fieldapp.work.demo.history.rounds_told import event_at, inspect
from fieldapp.work.demo.history.teller import Happening, Teller
from fieldapp.work.demo.history.truth import BLASTS_A_MONTH, ENDS, MONTH_DAYS, TREMOR, WET
from schemas.standard import EventWhat, Standard

LOOKED_AFTER_H: Final = 0.6
"""Hours after the exclusion ended."""
WATER_DAY: Final = 212


@dataclass(frozen=True)
class TrueEvent:
    """One event. Days after the record began, metres."""

    what: EventWhat
    heading: str
    day: float
    at_m: float


def events_of(
    draws: Draws, face_on: Mapping[str, FaceOn], damages: Sequence[TrueDamage]
) -> tuple[TrueEvent, ...]:
    """Give every event of the past but the firings."""
    return (
        TrueEvent("seismic", TREMOR.heading, TREMOR.day, TREMOR.at_m),
        TrueEvent("water change", WET.heading, WATER_DAY, WET.from_m),
        *_blasts(draws, face_on),
        *(
            TrueEvent("vehicle strike", it.heading, it.day, it.at_m)
            for it in damages
            if it.told_at_once and it.cause == "vehicle"
        ),
    )


class Stated:
    """One event as somebody stated it, and the inspection once its exclusion has ended."""

    def __init__(self, it: TrueEvent, exclusion_h: float) -> None:
        self._it = it
        self._inspected_day = it.day + (exclusion_h + LOOKED_AFTER_H) / 24
        self._id = ""

    def happenings(self) -> Iterator[Happening]:
        """Yield both."""
        yield Happening(self._it.day, self._state)
        yield Happening(self._inspected_day, self._inspect)

    def _state(self, teller: Teller) -> None:
        at = teller.at(self._it.day)
        place = teller.places[self._it.heading]
        event = event_at(place, self._it.what, at, to_step(self._it.at_m, "1"))
        self._id = teller.pen.write("event", event, teller.supervisor(at).id, at).id

    def _inspect(self, teller: Teller) -> None:
        at = teller.at(self._inspected_day)
        place = teller.places[self._it.heading]
        inspect(teller, at, place.known.id, to_step(self._it.at_m, "1"), (self._id,))


def event_happenings(events: Sequence[TrueEvent], standard: Standard) -> Iterator[Happening]:
    """Yield what was stated of each event."""
    exclusion_h = {rule.what: float(rule.exclusion_h) for rule in standard.events}
    for it in events:
        yield from Stated(it, exclusion_h[it.what]).happenings()


def _blasts(draws: Draws, face_on: Mapping[str, FaceOn]) -> Iterator[TrueEvent]:
    for heading, rate in BLASTS_A_MONTH.items():
        day, nth = 20.0, 0
        while True:
            day += draws.wait(MONTH_DAYS / rate, heading, "blast", nth)
            nth += 1
            if day > ENDS:
                break
            yield TrueEvent("nearby blast", heading, day, face_on[heading](day) * 0.6)
