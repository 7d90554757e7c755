"""A shift at the Wrenfall mine, for statements about the work."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path

import pytest

from fieldapp.assess.entry.state import EntryState
from fieldapp.start import open_site
from fieldapp.work.board import BoardRow, board
from fieldapp.work.demo import READY
from fieldapp.work.demo.walking import BETWEEN_ANSWERS, Look, Looker, StoryClock, answered, walk
from fieldapp.work.deviations import grant
from fieldapp.work.entry import entry
from fieldapp.work.headings import heading
from fieldapp.work.known import Known as KnownThing
from fieldapp.work.questions import Known
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import begin_round
from fieldapp.work.sign import Signed, Signing, sign_round
from fieldapp.work.site import Session, Site
from fieldapp.work.touches import AnyTouch
from schemas.bodies.deviation import Deviation
from schemas.bodies.heading import Heading
from schemas.bodies.sign_off import Decision
from tests.demo_mine import CODES, PRESENT, demo_home, session
from tests.past import Past, the_past


@dataclass
class Shift:
    """The demo mine, its clock, and what people there do in a line each."""

    home: Path
    clock: StoryClock
    site: Site

    def who(self, name: str = "Day supervisor") -> Session:
        return session(self.site, name)

    def place(self, name: str = READY) -> KnownThing[Heading]:
        return heading(self.site, name)

    def wait(self, **by: float) -> None:
        self.clock.go_on(timedelta(**by))

    def entry(self, name: str = READY) -> EntryState:
        return entry(self.site, self.place(name).id, self.clock())

    def row(self, name: str = READY) -> BoardRow:
        return next(row for row in board(self.site, self.clock()) if row.name == name)

    def look(
        self, look: Look | None = None, name: str = READY, *, on_disk: bool = False
    ) -> RoundWork:
        """Begin the heading's next round and look at all of it.

        Its touches are kept on the disk only where that matters: it takes a while.
        """
        found = look or Look()
        work = begin_round(self.site, self.place(name).id, self.who())
        if on_disk:
            return walk(self.site, self.clock, work, self.who(), found)
        later = work.began.started_at - PRESENT
        touches = tuple(
            touch.model_copy(update={"at": touch.at + later})
            for touch in _touches(work, self.who().person_id, name, found)
        )
        if touches:
            self.clock.at = max(touch.at for touch in touches) + BETWEEN_ANSWERS
        return replace(work, touches=touches)

    def sign(
        self, work: RoundWork, decision: Decision = "accepted", who: str = "Day supervisor"
    ) -> Signed:
        signing = Signing(work, decision, self.clock())
        return sign_round(self.site, self.who(who), signing, CODES[who])

    def grant(
        self, deviation: Deviation, who: str = "Geotechnical engineer", code: str = ""
    ) -> KnownThing[Deviation]:
        return grant(self.site, deviation, self.who(who), code or CODES[who])

    def reopened(self) -> "Shift":
        """Switch the tablet off and on again."""
        self.site.store.close()
        self.site = replace(open_site(self.home), now=self.clock)
        return self


_LOOKED: dict[str, tuple[AnyTouch, ...]] = {}


def _touches(work: RoundWork, by: str, name: str, look: Look) -> tuple[AnyTouch, ...]:
    """Give what somebody touches who looks at this at the present, worked out once."""
    key = f"{name} {look}"
    if key not in _LOOKED:
        looker = Looker(StoryClock(PRESENT), by, Known(crews=("crew A",)))
        in_hand = answered(work, look, looker, lambda work, touch: work.touched(touch))
        _LOOKED[key] = in_hand.touches
    return _LOOKED[key]


@pytest.fixture
def shift(tmp_path: Path) -> Iterator[Shift]:
    clock = StoryClock(PRESENT)
    home = demo_home(tmp_path / "home")
    opened = Shift(home, clock, open_site(home, now=clock))
    yield opened
    opened.site.store.close()


@pytest.fixture
def past() -> Past:
    """The demo mine's year and a half before the last days: look, and state nothing in it."""
    return the_past()
