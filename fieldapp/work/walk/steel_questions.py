"""What is asked where steel is read on a walk: what was read there last stands beside it."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Any, Final

from fieldapp.work.asked import UNKNOWN, Asked, Choice, Digits
from fieldapp.work.walk.grave import leaves
from fieldapp.work.walk.readings import chainage_question, read_again
from fieldapp.work.walk.section_work import NEEDED, Place
from fieldapp.work.walk.steel_before import SteelBefore, doubt, last_there, pieces
from schemas.bodies.walk import SteelRead, SupportPart
from schemas.corrosion_rules import Steel
from schemas.numbers import SAID_M, rounded, text
from schemas.standard import Standard, SupportClass

COVERAGE: Final = 2
"""Expanded over standard uncertainty, for 95 % (JCGM 100:2008, 6.3.3)."""
CALLIPER_MM: Final = "0.05"
GAUGE_MM: Final = "0.1"
"""Standard uncertainties of readings on rusty steel. Common practice, no source."""
STEELS: Final[tuple[tuple[Steel, SupportPart], ...]] = (
    ("wire", "mesh"),
    ("bar", "bolts"),
    ("tube", "bolts"),
    ("plate", "plates"),
)
LARGEST_STEEL_MM: Final = "100"


def steel_questions(
    thing: dict[str, Any],
    demanded: SupportClass | None,
    standard: Standard | None,
    before: Sequence[SteelBefore],
    within: Place,
) -> Iterator[Asked]:
    """Yield what is asked of a thickness of steel, in order."""
    again = tuple(_again(it) for it in pieces(before, thing.get("zone"), within))
    kinds = tuple(_steel(it, part, demanded) for it, part in STEELS)
    hint = "The same piece read again shows how fast it goes." if again else ""
    yield Asked("steel", ask="Which steel is read?", hint=hint, choices=(*again, *kinds))
    yield chainage_question(within)
    yield _original(thing, demanded)
    ways = (
        Choice("calliper", _more(how="calliper", u_mm=CALLIPER_MM), f"± {CALLIPER_MM} mm"),
        Choice("gauge", _more(how="thickness gauge", u_mm=GAUGE_MM), f"± {GAUGE_MM} mm"),
    )
    hint = "Brush the scale off, and read the sound metal."
    yield Asked("how", ask="How is it read?", hint=hint, choices=ways)
    read = _read(thing)
    last = last_there(read, before) if read else None
    new = f"new: {thing.get('original_mm')} mm"
    limit = f"last time {last.words}; {new}" if last else new
    there = f"Last time: {last.words}. " if last else ""
    digits = Digits(
        "mm",
        limit,
        LARGEST_STEEL_MM,
        lambda typed: _more(read_mm=text(typed)),
        words="Type the reading",
    )
    yield Asked(
        "read_mm",
        ask="What is read?",
        hint=f"{there}{new.capitalize()}.",
        choices=(),
        digits=digits,
    )
    if _looks_thicker(thing):
        yield _thicker(thing)
    elif read is not None and thing.get("read_mm") is not None:
        yield from _in_doubt(read, last, standard)
    zinc = (
        Choice("yes", _more(zinc_seen=True), "zinc is there"),
        Choice("no", _more(zinc_seen=False), "bare steel"),
        Choice(UNKNOWN, _more(zinc_seen=None), "can't be told"),
    )
    yield Asked("zinc_seen", ask="Is zinc still on it?", hint="", choices=zinc)


def _again(before: SteelBefore) -> Choice:
    """Give the choice of a piece that was read before: the place that was touched becomes its."""
    read = before.read
    says = _more(
        steel=read.steel,
        part=read.part,
        original_mm=text(read.original_mm),
        chainage_m=text(read.chainage_m),
        s_m=None if read.s_m is None else text(read.s_m),
    )
    at_m, read_mm = text(rounded(read.chainage_m, SAID_M)), text(read.read_mm)
    return Choice(f"{read.steel} again", says, f"{at_m} m, {read_mm} mm")


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


def is_thicker_than_new(read_mm: Decimal, original_mm: Decimal, u_mm: Decimal) -> bool:
    """Tell whether a reading is larger than the original, beyond what it may be off by."""
    return read_mm > original_mm + COVERAGE * u_mm


def thicker_than_new(read: SteelRead) -> bool:
    """Tell whether what was read can't be: steel does not grow."""
    return is_thicker_than_new(read.read_mm, read.original_mm, read.u_mm)


def _read(thing: dict[str, Any]) -> SteelRead | None:
    """Give the reading as far as its piece is known; not read yet it counts as it was new."""
    if any(thing.get(it) is None for it in NEEDED["steel"] if it != "read_mm"):
        return None
    known = {it: thing[it] for it in SteelRead.model_fields if it in thing}
    return SteelRead.model_validate({"read_mm": thing["original_mm"]} | known)


def _in_doubt(
    read: SteelRead, last: SteelBefore | None, standard: Standard | None
) -> Iterator[Asked]:
    """Ask about a reading that can hardly be, or that may or may not leave enough."""
    if read.read_at is None:
        return
    why = doubt(read, read.read_at, last, standard)
    if why is None and leaves(read, standard) == "not sure":
        why = "within its doubt of what must be left by the standard"
    if why is None:
        return
    ask = f"{text(read.read_mm)} mm of {text(read.original_mm)}: read it again?"
    yield read_again(ask, why, "brush it first")


def _more(**says: Any) -> dict[str, Any]:
    return {"more": says}
