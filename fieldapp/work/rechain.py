"""Chaining a heading anew after a re-survey: what would move, why it can't, and stating it.

What was stated stays as it was read; what is shown, computed and reported from then on is as it
lies today (`fieldapp.work.rechaining`).
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from pydantic import ValidationError

from fieldapp.assess.entry.state import EntryState
from fieldapp.assess.rechaining import Chaining
from fieldapp.work.authority import ENGINEER
from fieldapp.work.entry import entry_by
from fieldapp.work.gathering import gathered
from fieldapp.work.headings import heading
from fieldapp.work.known import Known, known_by, one, parents_over
from fieldapp.work.people import still_enrolled
from fieldapp.work.places_stated import PlaceStated, places_stated
from fieldapp.work.roles import require
from fieldapp.work.round_ends import ends_m
from fieldapp.work.rounds import rounds
from fieldapp.work.site import Session, Site
from fieldapp.work.supposed import supposing
from fieldapp.work.writing import written
from schemas.bodies.heading import Heading, Rechained
from schemas.entry import Entry
from schemas.moved import with_chainages_moved
from schemas.numbers import text
from schemas.trouble import BadInput


@dataclass(eq=False)
class RechainingRefused(BadInput):
    """Chainages can't be what somebody says they are."""

    name: str
    reason: str

    happened = "{name} was not re-chained: {reason}."
    kept = "Every chainage is as it was."
    do_next = "Look at the survey again, then say from where they are others, and by how much."


@dataclass(frozen=True)
class Moves:
    """What measuring a heading's chainages anew would move, told before it is stated."""

    place: Known[Heading]
    rechained: Rechained
    entry: Entry
    """Not yet kept."""
    before: EntryState
    after: EntryState
    moved: tuple[tuple[str, int], ...]
    """What, and how many: "round", 12."""


def what_moves(site: Site, name: str, from_m: Decimal, by_m: Decimal, session: Session) -> Moves:
    """Tell what would move, if from a chainage inbye all of them were others by so much.

    Raises
    ------
    NoSuchHeading
        Nothing of that name is known.
    NotYours
        Only a geotechnical engineer says so.
    RechainingRefused
        It would turn the order of metres round, tear a round apart, move nothing, or say again
        what the last re-survey said.
    """
    session = still_enrolled(site, session)
    require(session, *ENGINEER, act="re-chain a heading")
    place = heading(site, name)
    now = site.now()
    shift = _read(place.body.name, from_m, by_m, now)
    stated = tuple(places_stated(site, place))
    reason = next(_reasons(site, place, shift, stated), None)
    if reason:
        raise RechainingRefused(place.body.name, reason)
    entry = _entry(site, place, shift, session)
    supposed = supposing(site, entry)
    before, after = (entry_by(it, gathered(it, place.id), now) for it in (site, supposed))
    chaining = Chaining((shift,))
    moving = {(it.what, it.thing) for it in stated if chaining.today_m(it.at_m) != it.at_m}
    moved = Counter(what for what, _ in sorted(moving) if what != "heading")
    return Moves(place, shift, entry, before, after, tuple(moved.items()))


def rechain(site: Site, moves: Moves) -> Known[Heading]:
    """State it: from now on every chainage is today's."""
    site.store.ledger.add([moves.entry])
    return known_by(site, moves.entry, Heading.model_validate(dict(moves.entry.body)))


def _read(name: str, from_m: Decimal, by_m: Decimal, at: datetime) -> Rechained:
    try:
        return Rechained(from_m=from_m, by_m=by_m, at=at)
    except ValidationError as error:
        raise RechainingRefused(name, "chainages move by 60 m at most") from error


def _reasons(
    site: Site, place: Known[Heading], shift: Rechained, stated: tuple[PlaceStated, ...]
) -> Iterator[str]:
    from_m, by_m = shift.from_m, shift.by_m
    ends = from_m + by_m
    yield from _slips(place, from_m, by_m)
    if len(one(site, "heading", Heading, place.id)) > 1:
        yield "two people stated it differently, and one of them settles that first"
    if any(it.at >= shift.at for it in place.body.rechained):
        yield "this tablet's clock is behind the time when its chainages were measured last"
    if ends < 0:
        yield f"{text(from_m)} m would lie {text(-ends)} m before the origin"
    # The last row before it may come to lie there: it is the joint of the round after it.
    yield from (_turned(it, shift) for it in stated if ends < it.at_m < from_m)
    for it in rounds(site, place.id):
        last_m = it.body.over.to_m if it.body.over else ends_m(it)
        if it.body.joint_m < from_m < last_m:
            yield _torn(it.body.name, it.body.joint_m, last_m, from_m)
    if from_m > max((it.at_m for it in stated), default=Decimal(0)):
        yield f"nothing is recorded from {text(from_m)} m inbye"


def _slips(place: Known[Heading], from_m: Decimal, by_m: Decimal) -> Iterator[str]:
    if by_m == 0:
        yield "by 0 m nothing is moved"
    if any((it.from_m, it.by_m) == (from_m, by_m) for it in place.read.rechained[-1:]):
        yield "the last re-survey said just that, and it counts already"


def _turned(it: PlaceStated, shift: Rechained) -> str:
    return (
        f"{it.words} at {text(it.at_m)} m would no longer lie outbye of what was read at "
        f"{text(shift.from_m)} m, which would be {text(shift.from_m + shift.by_m)} m"
    )


def _torn(name: str, joint_m: Decimal, last_m: Decimal, from_m: Decimal) -> str:
    return (
        f"{text(from_m)} m lies within {name}, whose rows were taped from its joint: name "
        f"its joint at {text(joint_m)} m or its last row at {text(last_m)} m"
    )


def _entry(site: Site, place: Known[Heading], shift: Rechained, session: Session) -> Entry:
    heads = one(site, "heading", Heading, place.id)
    chaining = Chaining((shift,))
    line = tuple(with_chainages_moved(it, chaining.today_m) for it in place.read.surveyed)
    said = {"rechained": (*place.read.rechained, shift), "surveyed": line}
    return written(
        site,
        "heading",
        place.read.model_copy(update=said),
        author=session.person_id,
        thing_id=place.id,
        parents=parents_over(site, heads),
    )
