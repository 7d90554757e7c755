"""What is asked where steel or a distance is read on a walk: the last reading stands beside it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from fieldapp.work.asked import UNKNOWN, Asked, Choice, Digits, Letters
from fieldapp.work.walk.section_work import Place
from schemas.bodies.walk import Between, SteelRead, SupportPart
from schemas.corrosion_rules import Steel
from schemas.numbers import text
from schemas.standard import Standard, SupportClass

COVERAGE: Final = 2
"""Expanded over standard uncertainty, for 95 % (JCGM 100:2008, 6.3.3)."""
CALLIPER_MM: Final = "0.05"
GAUGE_MM: Final = "0.1"
CRACK_MM: Final = "0.5"
"""Standard uncertainties of readings on rusty steel, and across a crack. Common practice, no
source."""
STEELS: Final[tuple[tuple[Steel, SupportPart], ...]] = (
    ("wire", "mesh"),
    ("bar", "bolts"),
    ("tube", "bolts"),
    ("plate", "plates"),
)
LARGEST_STEEL_MM: Final = "100"
LEAST_ACROSS_MM: Final = "500"
"""Nearer are no walls and no back and floor: below it metres were typed. Common practice, no
source."""
LONGEST_NAME: Final = 40


@dataclass(frozen=True)
class Station:
    """A place where a distance was read before."""

    name: str
    between: Between
    chainage_m: Decimal
    last: str
    """The newest reading, in words: "4962 mm, 4 May 2031"."""


def is_thicker_than_new(read_mm: Decimal, original_mm: Decimal, u_mm: Decimal) -> bool:
    """Tell whether a reading is larger than the original, beyond what it may be off by."""
    return read_mm > original_mm + COVERAGE * u_mm


def thicker_than_new(read: SteelRead) -> bool:
    """Tell whether what was read can't be: steel does not grow."""
    return is_thicker_than_new(read.read_mm, read.original_mm, read.u_mm)


def steel_questions(
    thing: dict[str, Any], demanded: SupportClass | None, within: Place
) -> Iterator[Asked]:
    """Yield what is asked of a thickness of steel, in order."""
    kinds = tuple(_steel(it, part, demanded) for it, part in STEELS)
    yield Asked("steel", ask="Which steel is read?", hint="", choices=kinds)
    yield _chainage(within)
    yield _original(thing, demanded)
    ways = (
        Choice("calliper", _more(how="calliper", u_mm=CALLIPER_MM), f"± {CALLIPER_MM} mm"),
        Choice("gauge", _more(how="thickness gauge", u_mm=GAUGE_MM), f"± {GAUGE_MM} mm"),
    )
    hint = "Brush the scale off, and read the sound metal."
    yield Asked("how", ask="How is it read?", hint=hint, choices=ways)
    new = f"new: {thing.get('original_mm')} mm"
    digits = Digits(
        "mm",
        new,
        LARGEST_STEEL_MM,
        lambda typed: _more(read_mm=text(typed)),
        words="Type the reading",
    )
    yield Asked(
        "read_mm", ask="What is read?", hint=f"{new.capitalize()}.", choices=(), digits=digits
    )
    if _looks_thicker(thing):
        yield _thicker(thing)
    zinc = (
        Choice("yes", _more(zinc_seen=True), "zinc is there"),
        Choice("no", _more(zinc_seen=False), "bare steel"),
        Choice(UNKNOWN, _more(zinc_seen=None), "can't be told"),
    )
    yield Asked("zinc_seen", ask="Is zinc still on it?", hint="", choices=zinc)


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
    yield _chainage(within)
    yield Asked("u_mm", ask="How is it read?", hint="", choices=tuple(_ways(thing, standard)))
    last = thing.get("last")
    hint = f"Last: {last}." if last else "Read here for the first time."
    limit = f"last {last}" if last else "as it is read"
    digits = Digits(
        "mm",
        limit,
        "20000",
        lambda typed: _more(read_mm=text(typed)),
        words="Type the reading",
        smallest="" if thing.get("between") == "crack" else LEAST_ACROSS_MM,
    )
    yield Asked("read_mm", ask="What is read?", hint=hint, choices=(), digits=digits)


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


def _chainage(within: Place) -> Asked:
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


def _steel(steel: Steel, part: SupportPart, demanded: SupportClass | None) -> Choice:
    """Give the choice of a steel; where the standard knows its original, it says that too."""
    known = originals_mm(steel, demanded)
    says = {"original_mm": text(known[0])} if len(known) == 1 else {}
    return Choice(steel, _more(steel=steel, part=part, **says), part)


def originals_mm(steel: str | None, demanded: SupportClass | None) -> tuple[Decimal, ...]:
    """Give how thick a steel of a class is when it is new, each size once, the thickest first."""
    if demanded is None:
        return ()
    sizes = {
        "wire": [demanded.mesh.wire_mm if demanded.mesh else None],
        "bar": [it.bar_mm for it in demanded.bolts if it.kind != "friction bolt"],
        "tube": [it.tube_wall_mm for it in demanded.bolts if it.kind == "friction bolt"],
    }.get(steel or "", [])
    # A class with a bolt of the kind whose size nobody stated: it may be that one, so it is asked.
    return () if None in sizes else tuple(sorted({it for it in sizes if it}, reverse=True))


def _original(thing: dict[str, Any], demanded: SupportClass | None) -> Asked:
    sizes = map(text, originals_mm(thing.get("steel"), demanded))
    known = tuple(Choice(it, _more(original_mm=it), "mm") for it in sizes)
    digits = Digits(
        "mm", "when it was new", LARGEST_STEEL_MM, lambda typed: _more(original_mm=text(typed))
    )
    hint = "By the standard, or as it is stamped or packed."
    return Asked(
        "original_mm", ask="How thick was it when new?", hint=hint, choices=known, digits=digits
    )


def _looks_thicker(thing: dict[str, Any]) -> bool:
    names = ("read_mm", "original_mm", "u_mm")
    if any(thing.get(it) is None for it in names):
        return False
    return is_thicker_than_new(*(Decimal(str(thing[it])) for it in names))


def _thicker(thing: dict[str, Any]) -> Asked:
    ask = f"{thing['read_mm']} mm is thicker than new, {thing['original_mm']} mm. Which is wrong?"
    choices = (
        Choice("Read again", {"more": {}, "unsay": ["read_mm"]}, "brush it first"),
        Choice("Not what was new", {"more": {}, "unsay": ["original_mm"]}, "another wire or bar"),
    )
    return Asked("thicker", ask=ask, hint="Steel does not grow.", choices=choices)


def _more(**says: Any) -> dict[str, Any]:
    return {"more": says}
