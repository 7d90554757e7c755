"""What is asked where a distance or crack is read on a walk: the last reading stands beside it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from fieldapp.work.asked import Asked, Choice, Digits, Letters
from fieldapp.work.walk.movement import too_far
from fieldapp.work.walk.section_work import Place
from schemas.bodies.walk import Between, DistanceRead
from schemas.numbers import text
from schemas.standard import Standard

CRACK_MM: Final = "0.5"
"""Standard uncertainty of a reading across a crack. Common practice, no source."""
LEAST_ACROSS_MM: Final = "500"
"""Nearer are no walls and no back and floor: below it metres were typed. Common practice, no
source."""
WIDEST_CRACK_MM: Final = "500"
"""Pins beside a crack stand no farther apart. Common practice, no source."""
ACROSS_AT_MOST_MM: Final = "20000"
LONGEST_NAME: Final = 40


@dataclass(frozen=True)
class Station:
    """A place where a distance was read before."""

    name: str
    between: Between
    chainage_m: Decimal
    last: str
    """The newest reading, in words: "4962 mm, 4 May 2031"."""
    last_mm: Decimal


def distance_questions(
    thing: dict[str, Any],
    stations: Sequence[Station],
    standard: Standard | None,
    within: Place,
) -> Iterator[Asked]:
    """Yield what is asked of a distance or crack, in order."""
    known = tuple(
        Choice(
            it.name,
            _more(
                station=it.name,
                between=it.between,
                chainage_m=text(it.chainage_m),
                last=it.last,
                last_mm=text(it.last_mm),
            ),
            it.last,
        )
        for it in stations
    )
    hint = "As it is painted there."
    new = Letters(LONGEST_NAME, lambda typed: _named(typed.strip()), words="New station")
    yield Asked("station", ask="Which station?", hint=hint, choices=known, digits=new)
    between: tuple[Between, ...] = ("walls", "back and floor", "crack")
    choices = tuple(Choice(it, _more(between=it)) for it in between)
    yield Asked("between", ask="Between what?", hint="", choices=choices)
    yield chainage_question(within)
    yield Asked("u_mm", ask="How is it read?", hint="", choices=tuple(_ways(thing, standard)))
    last = thing.get("last")
    hint = f"Last: {last}." if last else "Read here for the first time."
    limit = f"last {last}" if last else "as it is read"
    crack = thing.get("between") == "crack"
    digits = Digits(
        "mm",
        limit,
        WIDEST_CRACK_MM if crack else ACROSS_AT_MOST_MM,
        lambda typed: _more(read_mm=text(typed)),
        words="Type the reading",
        smallest="" if crack else LEAST_ACROSS_MM,
    )
    yield Asked("read_mm", ask="What is read?", hint=hint, choices=(), digits=digits)
    yield from _in_doubt(thing)


def _in_doubt(thing: dict[str, Any]) -> Iterator[Asked]:
    """Ask about a reading that is farther from the last than rock moves between two walks."""
    if thing.get("last_mm") is None or thing.get("read_mm") is None:
        return
    known = {it: thing[it] for it in DistanceRead.model_fields if it in thing}
    read = DistanceRead.model_validate(known)
    why = too_far(read, Decimal(str(thing["last_mm"])))
    if why is not None:
        yield read_again(f"{text(read.read_mm)} mm: read it again?", why, "measure it once more")


def read_again(ask: str, why: str, how: str) -> Asked:
    """Ask whether a reading that can hardly be stands, or is read once more."""
    choices = (
        Choice("Read again", {"more": {}, "unsay": ["read_mm", "read_twice"]}, how),
        Choice("Keep it so", _more(read_twice=True), "it was read twice"),
    )
    return Asked("read_twice", ask=ask, hint=f"It is {why}.", choices=choices)


def _named(station: str) -> dict[str, Any]:
    return _more(station=station) if station else {}


def _ways(thing: dict[str, Any], standard: Standard | None) -> Iterator[Choice]:
    if thing.get("between") == "crack":
        yield Choice("calliper", _more(u_mm=CRACK_MM), f"± {CRACK_MM} mm")
    measuring = standard.measuring if standard else None
    by = {"tape": measuring.tape_m, "laser": measuring.laser_m} if measuring else {}
    for way, u_m in by.items():
        u_mm = text((u_m * 1000).normalize() + 0)
        yield Choice(way, _more(u_mm=u_mm), f"± {u_mm} mm")


def chainage_question(within: Place) -> Asked:
    """Ask where it is: inside the section, or the walk could not be kept in the end."""
    from_m, to_m = map(text, within)
    digits = Digits(
        "m",
        f"{from_m} to {to_m} m",
        to_m,
        lambda typed: _more(chainage_m=text(typed)),
        words="Type the chainage",
        smallest=from_m,
    )
    hint = "Type the chainage; touched on the drive it is known at once."
    return Asked("chainage_m", ask="Where along the drive?", hint=hint, choices=(), digits=digits)


def _more(**says: Any) -> dict[str, Any]:
    return {"more": says}
