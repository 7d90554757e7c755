"""Who tells the past: the pen, the people and their keys, the headings, what is true."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from fieldapp.work.demo.history.draws import Draws
from fieldapp.work.demo.history.looking import Place
from fieldapp.work.demo.history.pen import Pen
from fieldapp.work.demo.people import DemoPerson, on_shift
from fieldapp.work.site import Session, Site
from schemas.signatures import SigningKey


@dataclass(frozen=True)
class Hand:
    """Somebody who states things, with their own key."""

    session: Session
    key: SigningKey

    @property
    def id(self) -> str:
        """Of the person."""
        return self.session.person_id


@dataclass(frozen=True)
class Teller:
    """What everybody who tells a part of the past is given."""

    site: Site
    pen: Pen
    draws: Draws
    began_at: datetime
    places: Mapping[str, Place]
    hands: Mapping[DemoPerson, Hand]
    ids: dict[str, str] = field(default_factory=dict)
    """Of what was told and is told of again, by what it is called here."""

    def at(self, day: float) -> datetime:
        """Give a time, so many days after the record began."""
        return self.began_at + timedelta(milliseconds=round(day * 86_400_000))

    def supervisor(self, at: datetime) -> Hand:
        """Give the supervisor of the shift that it is."""
        return self.hands[on_shift(at, self.site.settings.zone)]


@dataclass(frozen=True)
class Happening:
    """Something that somebody states at a time."""

    day: float
    tell: Callable[[Teller], None]
