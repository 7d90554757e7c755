"""The rounds of the past: fired, inspected, looked at, signed by a supervisor's own key."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import ROUND_DOWN, Decimal
from functools import partial
from typing import Final

from fieldapp.assess import assess
from fieldapp.work.beyond import FOUND
from fieldapp.work.demo.history.advancing import TrueRound
from fieldapp.work.demo.history.looking import Looking, Place
from fieldapp.work.demo.history.putting_right import mended
from fieldapp.work.demo.history.teller import Happening, Teller
from fieldapp.work.known import Known
from fieldapp.work.sign import Judged, sign_off_of
from schemas.bodies.entry_notice import EntryNotice
from schemas.bodies.event import Event
from schemas.bodies.looked_into import LookedInto
from schemas.bodies.person import Role
from schemas.bodies.round import Round
from schemas.bodies.sign_off import SignOff
from schemas.entry import Entry
from schemas.standard import EventWhat

INSPECTED_AFTER, LOOKED_AFTER, AGAIN_AFTER = 1.2 / 24, 7.5 / 24, 14 / 24
"""Days after the firing."""
SIGNED_AFTER: Final = timedelta(seconds=40)
SIGNER: Final[Role] = "shift supervisor"
FIRED_STEP: Final = Decimal("0.1")


@dataclass(frozen=True)
class _SentBack:
    """A round that was looked at once and sent back."""

    looking: Looking
    seen: Round
    entry: Entry
    signed: Known[SignOff]


class Advance:
    """One heading's rounds as they are told, each after the one before."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._previous: Round | None = None
        self._known_face_m = Decimal(0)
        self._events: list[str] = []
        self._sent_back: _SentBack | None = None

    def happenings(self, rounds: Sequence[TrueRound]) -> Iterator[Happening]:
        """Yield what was stated of each round."""
        for one in rounds:
            yield Happening(one.day, partial(self._fire, one))
            yield Happening(one.day + INSPECTED_AFTER, partial(self._inspect, one))
            yield Happening(one.day + one.cures_days + LOOKED_AFTER, partial(self._look, one))
            if one.fault is not None:
                yield Happening(one.day + one.cures_days + AGAIN_AFTER, self._look_again)

    def _fire(self, one: TrueRound, teller: Teller) -> None:
        at = teller.at(one.day)
        advance_m = one.face_m - one.face_before_m
        fired_m = advance_m.quantize(FIRED_STEP, rounding=ROUND_DOWN)
        place = teller.places[self._name]
        event = event_at(place, "fired", at, one.face_before_m, fired_m)
        self._known_face_m = one.face_before_m + fired_m
        entry = teller.pen.write("event", event, teller.supervisor(at).id, at)
        self._events.append(entry.id)

    def _inspect(self, one: TrueRound, teller: Teller) -> None:
        at = teller.at(one.day + INSPECTED_AFTER)
        heading_id = teller.places[self._name].known.id
        inspect(teller, at, heading_id, self._known_face_m, tuple(self._events))
        self._events.clear()

    def _look(self, one: TrueRound, teller: Teller) -> None:
        at = teller.at(one.day + one.cures_days + LOOKED_AFTER)
        round_id = teller.pen.new_id(at)
        teller.ids[f"{self._name} {one.number}"] = round_id
        looking = Looking(
            place=teller.places[self._name],
            one=one,
            round_id=round_id,
            previous=self._previous,
            at=at,
            face_known_m=self._known_face_m,
            draws=teller.draws,
        )
        seen = looking.first()
        entry, signed = self._signed(teller, looking, seen, looking.ends_at + SIGNED_AFTER)
        self._previous = seen
        self._look_into(teller, looking, seen)
        if signed.body.decision != "accepted":
            self._sent_back = _SentBack(looking, seen, entry, signed)

    def _look_into(self, teller: Teller, looking: Looking, seen: Round) -> None:
        """State what the supervisor found, where somebody went beyond the last row."""
        if seen.work is None or not seen.work.beyond_last_row:
            return
        at = looking.ends_at + 2 * SIGNED_AFTER
        found = LookedInto(
            heading=seen.heading,
            round=looking.round_id,
            reason=seen.work.beyond_reason,
            found=teller.draws.one_of(FOUND, "looked into", self._name, seen.number),
            role=SIGNER,
        )
        teller.pen.write("looked_into", found, teller.supervisor(at).id, at)

    def _look_again(self, teller: Teller) -> None:
        before = self._sent_back
        if before is None:
            raise ValueError(f"a fault of {self._name} was accepted at the first look")
        one = before.looking.one
        at = teller.at(one.day + one.cures_days + AGAIN_AFTER)
        seen = mended(before.looking, before.seen, at)
        _, signed = self._signed(teller, before.looking, seen, at + SIGNED_AFTER, before)
        if signed.body.decision != "accepted":
            raise ValueError(f"{self._name} {seen.number} does not conform: {signed.body.says}")
        self._previous, self._sent_back = seen, None

    def _signed(
        self,
        teller: Teller,
        looking: Looking,
        seen: Round,
        at: datetime,
        before: _SentBack | None = None,
    ) -> tuple[Entry, Known[SignOff]]:
        """Judge what was seen, and sign it as what it comes to."""
        hand = teller.supervisor(at)
        work = looking.place.work(seen, looking.round_id, looking.previous)
        assessment = assess(work.bundle(at))
        entry = teller.pen.write(
            "round",
            seen,
            hand.id,
            at,
            thing_id=looking.round_id,
            parents=(before.entry.revision,) if before else (),
        )
        judged = Judged(
            session=hand.session,
            role=SIGNER,
            work=work,
            assessment=assessment,
            decision="accepted" if assessment.may_be_accepted else "sent back",
            before=(before.signed,) if before else (),
        )
        body = sign_off_of(judged, entry, hand.key)
        return entry, Known(teller.pen.write("sign_off", body, hand.id, at, key=hand.key), body)


def event_at(
    place: Place, what: EventWhat, at: datetime, at_m: Decimal, fired_m: Decimal | None = None
) -> Event:
    """Give an event as the standard's own rule has it."""
    rule = next(it for it in place.standard.body.events if it.what == what)
    return Event(
        heading=place.known.id,
        what=what,
        at=at,
        chainage_m=at_m,
        radius_m=rule.radius_m,
        excluded_until=at + timedelta(hours=float(rule.exclusion_h)),
        fired_m=fired_m,
    )


def inspect(
    teller: Teller, at: datetime, heading_id: str, up_to_m: Decimal, events: tuple[str, ...]
) -> None:
    """State that the ground was inspected up to a chainage, after these events."""
    hand = teller.supervisor(at)
    notice = EntryNotice(
        heading=heading_id,
        what="inspected",
        from_m=Decimal(0),
        to_m=up_to_m,
        role=SIGNER,
        lifts=events,
    )
    teller.pen.write("entry_notice", notice, hand.id, at)
