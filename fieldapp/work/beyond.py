"""Rounds in which somebody had to go beyond the last row, until somebody has looked into it.

They go to the top of the Shift board. They close nothing, and a look into them opens nothing.
What was recorded once waits also where the round was recorded again and states it of nobody:
whoever takes it back says so by looking into it.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Final

from fieldapp.work.headings import heading
from fieldapp.work.known import Known, current, stated_if
from fieldapp.work.roles import SIGNERS, require
from fieldapp.work.rounds import find_round, is_meant, open_rounds
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.writing import state
from schemas.bodies.looked_into import LookedInto
from schemas.bodies.round import Round
from schemas.entry import Entry
from schemas.trouble import BadInput

FOUND: Final = (
    "talked through with the crew",
    "the way of working was changed",
    "a machine or tool was put right",
    "goes to the mine's own investigation",
)


@dataclass(eq=False)
class NobodyWentBeyond(BadInput):
    """Nothing is to be looked into."""

    number: int
    happened = "Round {number} states of nobody that they went beyond the last row."
    kept = "Nothing was changed; what was looked into before stays so."
    do_next = "Look at the Shift board: what waits stands above all headings."


@dataclass(frozen=True)
class Beyond:
    """Somebody went beyond the last row, and nobody has looked into it yet."""

    heading_id: str
    round_id: str
    number: int
    reason: str | None

    @property
    def words(self) -> str:
        """As people say it: "somebody went beyond the last row in round 88, to bar down"."""
        said = f"somebody went beyond the last row in round {self.number}"
        return f"{said}, {self.reason or 'no reason stated'}"


def beyond_of(sight: Sight, heading_id: str, seen: Iterable[Known[Round]]) -> tuple[Beyond, ...]:
    """Give those of a heading's recorded rounds that nobody has looked into."""
    return _not_looked_into(sight, heading_id, all_beyond(sight, heading_id, seen))


def all_beyond(sight: Sight, heading_id: str, seen: Iterable[Known[Round]]) -> tuple[Beyond, ...]:
    """Give every one of a heading's recorded rounds in which it was stated, also once only."""
    now = [it for it in (_stated(one.id, one.body) for one in seen) if it is not None]
    return (*now, *_taken_back(sight, heading_id, {it.round_id for it in now}))


def beyond_in(sight: Sight, round_id: str, seen: Round) -> tuple[Beyond, ...]:
    """Give it of one round, also of one that is still being recorded here."""
    stated = _stated(round_id, seen)
    return () if stated is None else _not_looked_into(sight, seen.heading, [stated])


def look_into(site: Site, it: Beyond, found: str, session: Session) -> Known[LookedInto]:
    """State that it was looked into, and what was found.

    Raises
    ------
    NotYours
        The person is neither a shift supervisor nor a geotechnical engineer.
    """
    role = require(session, *SIGNERS, act="look into why somebody went beyond the last row")
    body = LookedInto(
        heading=it.heading_id, round=it.round_id, reason=it.reason, found=found, role=role
    )
    return Known(state(site, "looked_into", body, author=session.person_id), body)


def find_beyond(sight: Sight, round_id: str, seen: Round) -> Beyond:
    """Give what a round states of somebody beyond its last row.

    Raises
    ------
    NobodyWentBeyond
        It states that of nobody, or somebody has looked into it.
    """
    taken_back = (it for it in _taken_back(sight, seen.heading, ()) if it.round_id == round_id)
    stated = _stated(round_id, seen) or next(taken_back, None)
    found = () if stated is None else _not_looked_into(sight, seen.heading, [stated])
    if not found:
        raise NobodyWentBeyond(seen.number)
    return found[0]


def beyond_named(site: Site, name: str) -> Beyond:
    """Give it of a round by its name, also of one that is still being recorded here.

    Raises
    ------
    NoSuchRound
        Nothing of that name is recorded, and none that is open states it.
    NobodyWentBeyond
        It states that of nobody, or somebody has looked into it.
    """
    for it in open_rounds(site):
        place, round_id, seen = heading(site, it.heading_id), it.work.round_id, it.work.seen
        waiting = beyond_in(site, round_id, seen)
        if waiting and is_meant(name, place.body, round_id, seen):
            return waiting[0]
    known = find_round(site, name)
    return find_beyond(site, known.id, known.body)


def _stated(round_id: str, seen: Round) -> Beyond | None:
    if seen.work is None or not seen.work.beyond_last_row:
        return None
    return Beyond(seen.heading, round_id, seen.number, seen.work.beyond_reason)


def _taken_back(sight: Sight, heading_id: str, but: Collection[str]) -> Iterable[Beyond]:
    """Give of every other round what was stated of it last, in a revision that still counts."""
    went = stated_if(sight, "round", Round, _says_so, heading=heading_id)
    last = {it.id: _stated(it.id, it.body) for it in went if it.id not in but}
    return [it for it in last.values() if it is not None]


def _says_so(entry: Entry) -> bool:
    work = entry.body.get("work")
    return isinstance(work, dict) and work.get("beyond_last_row") is True


def _not_looked_into(
    sight: Sight, heading_id: str, stated: Iterable[Beyond]
) -> tuple[Beyond, ...]:
    looked = current(sight, "looked_into", LookedInto, heading=heading_id)
    done = {(it.body.round, it.body.reason) for it in looked}
    return tuple(dict.fromkeys(it for it in stated if (it.round_id, it.reason) not in done))
