"""Somebody walks along a round and answers what the app asks, as the story has it.

The demo's rounds are made by the questions, touches and jobs that a person uses: nothing is
written around them. Where the story says nothing, a place is as the standard demands, give
or take what a tape shows.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from decimal import Decimal
from hashlib import sha256

from fieldapp.work.demanded import demanded_in_old_row, demanded_in_row
from fieldapp.work.picked_from import picked_from
from fieldapp.work.questions import Asker, Known, Question, in_turn, next_question
from fieldapp.work.questions.drawn import spacing_drawn
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import keep_touch
from fieldapp.work.site import Session, Site
from fieldapp.work.touches import AnyTouch, BoltMarked, ProfileMeasured
from schemas.bodies.round import BoltSeen, Method, ProfileSeen

BETWEEN_ANSWERS = timedelta(seconds=9)
MOST_ANSWERS = 400

Keep = Callable[[RoundWork, AnyTouch], RoundWork]
"""Keeps one touch and gives the work that follows from it."""

Answer = str | Decimal
"""What is touched: the words on a chip, or digits typed on the pad."""


class StoryClock:
    """The clock of the story: it stands where it is put, and goes on as people work."""

    def __init__(self, at: datetime) -> None:
        self.at = at

    def __call__(self) -> datetime:
        """Give the time that it is in the story."""
        return self.at

    def go_on(self, by: timedelta) -> None:
        """Let so much time pass."""
        self.at += by


@dataclass(frozen=True)
class Look:
    """What one look at a round finds that is not as standard."""

    answers: Mapping[str, Answer] = field(default_factory=dict)
    """By the key of the question."""
    marked: Mapping[int, tuple[BoltSeen, ...]] = field(default_factory=dict)
    """Bolts marked one by one, by the row they stand in."""
    stops_before: str | None = None
    """Key of the question at which somebody was called away."""
    profile: ProfileSeen | None = None
    """The drive as it was broken, where that is not as designed."""


@dataclass(frozen=True)
class Looker:
    """Who looks, by which clock, and what answers are picked from."""

    clock: StoryClock
    by: str | None
    known: Known


def walk(site: Site, clock: StoryClock, work: RoundWork, who: Session, look: Look) -> RoundWork:
    """Answer question after question, each answer on disk, until none is left."""
    known = picked_from(site)

    def on_disk(work: RoundWork, touch: AnyTouch) -> RoundWork:
        return keep_touch(site, work, touch)

    return answered(work, look, Looker(clock, who.person_id, known), on_disk)


def answered(work: RoundWork, look: Look, looker: Looker, keep: Keep) -> RoundWork:
    """Answer question after question, each answer kept before the next, until none is left."""
    for touch in _measured(look, looker):
        work = keep(work, touch)
    for _ in range(MOST_ANSWERS):
        asked = in_turn(work, Asker(looker.clock(), looker.by), looker.known)
        question = next_question(asked)
        if question is None or question.key == look.stops_before:
            return work
        for touch in (*_marks(question, look, looker), _answer(work, question, look)):
            work = keep(work, touch)
            looker.clock.go_on(BETWEEN_ANSWERS)
    raise ValueError("the questions of this round never end")


def _measured(look: Look, looker: Looker) -> tuple[AnyTouch, ...]:
    """Give the profile as it was broken, where somebody measured it."""
    if look.profile is None:
        return ()
    return (ProfileMeasured(at=looker.clock(), by=looker.by, profile=look.profile),)


def _marks(question: Question, look: Look, looker: Looker) -> tuple[AnyTouch, ...]:
    """Give the bolts that are marked on the map before their row is counted."""
    subject, row = _subject(question.key)
    marked = look.marked.get(row, ()) if subject == "count" else ()
    at = looker.clock()
    return tuple(BoltMarked(at=at, by=looker.by, row=row, bolt=bolt) for bolt in marked)


def _answer(work: RoundWork, question: Question, look: Look) -> AnyTouch:
    """Find the chip with those words, or type the digits."""
    told = look.answers.get(question.key)
    wanted = as_standard(work, question, look) if told is None else told
    if isinstance(wanted, str):
        return next(chip.touch for chip in question.choices if chip.label == wanted)
    assert question.digits is not None  # noqa: S101 - the story types where there is a pad
    methods: tuple[Method, ...] = question.digits.methods or ("tape",)
    return question.digits.touch(wanted, methods[0])


def as_standard(work: RoundWork, question: Question, look: Look) -> Answer:
    """Give what somebody finds where everything is as it should be."""
    subject, number = _subject(question.key)
    draw = _draw(f"{work.heading.name} {work.seen.number} {question.key}")
    found = _FOUND.get(subject)
    if found is None:
        return question.choices[0].label
    return found(_Place(work, number, draw, look))


def _subject(key: str) -> tuple[str, int]:
    """Take a key apart: what is asked, and of which row, lap or bolt."""
    words = key.split(" ")
    if words[-1].isdigit():
        return " ".join(word for word in words if not word.isdigit()), int(words[-1])
    return key, 0


@dataclass(frozen=True)
class _Place:
    """Where a question stands, and a draw that depends on it alone."""

    work: RoundWork
    number: int
    draw: int
    look: Look

    def around(self, middle: Decimal, most: int, step: str = "0.01") -> Decimal:
        """Give a value near the middle, as a tape shows it."""
        return middle + Decimal(step) * (self.draw % (2 * most + 1) - most)


def _old_row(place: _Place) -> Answer:
    return Decimal(demanded_in_old_row(place.work, place.number))


def _count(place: _Place) -> Answer:
    """Count the plates that are seated: those marked otherwise are left out."""
    marked = place.look.marked.get(place.number, ())
    gone = sum(bolt.state != "present" or bolt.plate != "seated" for bolt in marked)
    return Decimal(demanded_in_row(place.work, place.number) - gone)


def _ahead(place: _Place) -> Answer:
    return place.around(place.work.support_class.pattern.row_spacing_m, 3)


def _spacing(place: _Place) -> Answer:
    spacing = place.work.support_class.pattern.bolt_spacing_m
    first, then = spacing_drawn(place.work, place.number) or (1, 2)
    return place.around((then - first) * (spacing - Decimal("0.03")), 3)


def _lap(place: _Place) -> Answer:
    limit = place.work.support_class.limits.mesh_lap
    assert limit is not None  # noqa: S101 - asked only where there is one
    return str(limit.at_least_openings + place.draw % 2)


def _to_face(place: _Place) -> Answer:
    limit = place.work.support_class.limits.last_row_to_face
    return place.around(limit.at_most_m - Decimal("0.20"), 6)


def _mesh_to_face(place: _Place) -> Answer:
    """Give a reading of mesh that hangs a little beyond the last row."""
    limit = place.work.support_class.limits.last_row_to_face
    return place.around(limit.at_most_m - Decimal("0.35"), 6)


def _above_floor(place: _Place) -> Answer:
    limit = place.work.support_class.limits.mesh_reach
    assert limit is not None  # noqa: S101 - asked only where there is one
    return place.around(limit.above_floor_at_most_m - Decimal("0.20"), 10)


def _torque(place: _Place) -> Answer:
    limit = place.work.support_class.limits.torque
    assert limit is not None  # noqa: S101 - asked only where there is one
    return place.around((limit.at_least_nm + limit.at_most_nm) / 2, 4, "5").to_integral_value()


def _thickness(place: _Place) -> Answer:
    limit = place.work.support_class.limits.shotcrete_thickness
    assert limit is not None  # noqa: S101 - asked only where there is one
    return limit.at_least_mm + place.draw % 20


_FOUND: Mapping[str, Callable[[_Place], Answer]] = {
    "bolter": lambda _: "crew A",
    "blocked": lambda _: "0",
    "finished": lambda _: "24 h ago",
    "old row": _old_row,
    "count": _count,
    "ahead": _ahead,
    "spacing": _spacing,
    "lap": _lap,
    "mesh to face": _mesh_to_face,
    "mesh above floor": _above_floor,
    "sprayed": lambda _: "24 h ago",
    "thickness": _thickness,
    "strength": lambda place: place.around(Decimal("8.0"), 9, "0.1"),
    "torque": _torque,
    "face left": _to_face,
    "face middle": _to_face,
    "face right": _to_face,
}
"""By what is asked; where nothing stands here, the first chip is the answer as standard."""


def _draw(seed: str) -> int:
    return int.from_bytes(sha256(seed.encode()).digest()[:4], "big")
