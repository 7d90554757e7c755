"""What is asked of damage, one thing at a time; nothing is answered beforehand.

What it is and where comes first, so that nobody walks beneath it; what can't be seen or was not
measured is said to be so and stays unknown.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final, get_args

from fieldapp.work.asked import CARDS, UNKNOWN, Asked, Choice, Digits, Picture, whole_number
from fieldapp.work.damage.draft import DamageWork
from schemas.bodies.damage import Age, Cause, DamageKind, DamageZone, How, RockBehind
from schemas.numbers import STEP_MM, rounded, text
from schemas.standard import Standard

NOT_KNOWN: Final = "not known"
NOT_MEASURED: Final = "not measured"
OPENINGS: Final = (1, 2, 3, 4, 6)
DEPTHS_MM: Final = (50, 100, 200, 300, 400)
MASSES_T: Final = ("0.05", "0.1", "0.3", "0.5")
HEIGHTS_M: Final = ("1.5", "2.0", "2.5", "3.0", "3.5")
LENGTHS_MM: Final = (200, 500, 1000, 2000)
OF_ONE_BOLT: Final = ("plate gone", "bolt broken", "bolt pulled", "bolt loose")
"""Kinds that have no length."""
BELOW_HEADS: Final = ("floor",)
"""In a square metre."""
LARGEST_MM: Final = "20000"


@dataclass(frozen=True)
class Near:
    """Damage that is known where somebody has just found some."""

    id: str
    words: str
    detail: str


def question_now(
    work: DamageWork, standard: Standard | None, near: Sequence[Near], face_m: Decimal
) -> Asked | None:
    """Give what is asked next; None once everything was answered."""
    asked = questions(work, standard, near, face_m)
    return next((it for it in asked if it.key not in answered(work)), None)


def questions(
    work: DamageWork, standard: Standard | None, near: Sequence[Near], face_m: Decimal
) -> Iterator[Asked]:
    """Yield everything that is asked of this damage, in the order in which it is asked."""
    yield _of("kind", get_args(DamageKind), ask="What is it?")
    yield _chainage(face_m)
    hint = "Looking toward the face."
    yield _of("zone", get_args(DamageZone), ask="On which part of the drive?", hint=hint)
    if near:
        yield _again(near)
    yield _end(work, face_m)
    yield from _size(work)
    yield from _card(standard)
    hint = "Look and sound from supported ground only."
    yield _of("rock_behind", get_args(RockBehind), ask="The rock behind?", hint=hint)
    yield from _exposure(standard)
    yield _of("cause", get_args(Cause), ask="What caused it?", unknown=NOT_KNOWN)
    yield _of("age", get_args(Age), ask="How old does it look?", unknown=NOT_KNOWN)


def measured_on_photo(quantity: str, value: Decimal, plus_minus: Decimal) -> dict[str, Any]:
    """Give what a measurement on a photo says: mm, or m² of an area, each with its ± at 95 %."""
    if quantity == "area":
        read = {"value_m2": text(value), "how": "photo", "u95_m2": text(plus_minus)}
        return {"extent": {"area": read}}
    mm, doubt_mm = (rounded(it, STEP_MM) for it in (value, plus_minus))
    read = {"value_mm": text(mm), "how": "photo", "u95_mm": text(doubt_mm)}
    return {"extent": {"length": read}}


def answered(work: DamageWork) -> set[str]:
    """Give the keys of what was answered: fields said, readings of the extent by their names."""
    return {*work.said, *work.said.get("extent", {})}


def _of(key: str, words: Sequence[str], *, ask: str, hint: str = "", unknown: str = "") -> Asked:
    choices = [Choice(it, {key: it}) for it in words]
    if unknown:
        choices.append(Choice(UNKNOWN, {key: None}, unknown))
    return Asked(key, ask=ask, hint=hint, choices=tuple(choices))


def _chainage(face_m: Decimal) -> Asked:
    limit = f"the face is at {text(face_m)} m"
    digits = Digits(
        "m",
        limit,
        str(face_m + 1),
        lambda typed: {"chainage_m": text(typed)},
        words="Type the chainage",
    )
    hint = "Touch it on the drive, or type the chainage."
    return Asked("chainage_m", ask="Where is it?", hint=hint, choices=(), digits=digits)


def _end(work: DamageWork, face_m: Decimal) -> Asked:
    from_m = Decimal(str(work.said.get("chainage_m", 0)))

    def says(typed: Decimal) -> dict[str, Any]:
        """Whichever end was stated first, it begins at the one further outbye."""
        begins_m, ends_m = sorted((from_m, typed))
        return {"chainage_m": text(begins_m), "to_m": text(ends_m)}

    limit = f"it is at {text(from_m)} m; the face is at {text(face_m)} m"
    return Asked(
        "to_m",
        ask="How far along the drive?",
        hint="Other: type the chainage of its other end.",
        choices=(Choice("at one place", {"to_m": None}),),
        digits=Digits("m", limit, str(face_m + 1), says),
    )


def _again(near: Sequence[Near]) -> Asked:
    choices = [Choice(it.words, {"again": it.id}, it.detail) for it in near]
    choices.append(Choice("none of these", {"again": None}, "it is new"))
    hint = "Seen again, it keeps its label and shows whether it grew."
    return Asked("again", ask="Was it seen before?", hint=hint, choices=tuple(choices))


def _size(work: DamageWork) -> Iterator[Asked]:
    kind, how = work.said.get("kind"), work.said.get("how")
    if kind == "torn mesh":
        choices = tuple(Choice(str(it), _opened(it)) for it in OPENINGS)
        not_counted = Choice(UNKNOWN, {"extent": {"openings": None}}, "not counted")
        digits = whole_number("openings", "along its longer side", "2000", _opened)
        yield Asked(
            "openings",
            ask="How many openings long is the hole?",
            hint="Along its longer side.",
            choices=(*choices, not_counted),
            digits=digits,
        )
    hint = "Photo: measure it on the photo afterwards."
    yield _of("how", get_args(How), ask="How do you read its size?", hint=hint)
    yield from _readings(work, str(how))


def _readings(work: DamageWork, how: str) -> Iterator[Asked]:
    """Yield what is read of its size; a photo gives lengths, the rest is judged by eye then."""
    kind, on_photo = work.said.get("kind"), how == "photo"
    how = "eye" if on_photo else how
    if kind == "torn mesh" and work.said.get("zone") not in BELOW_HEADS:
        ask = "How high above the floor is its lower edge?"
        yield reading("above_floor", ("m", HEIGHTS_M, "100"), how, ask=ask)
    elif kind == "bagged mesh":
        millimetres = ("mm", tuple(map(str, DEPTHS_MM)), LARGEST_MM)
        ask = "How far does the mesh hang below the rock?"
        yield reading("bag_depth", millimetres, how, ask=ask)
        tonnes, ask = ("t", MASSES_T, "1000"), "How much broken rock hangs in it?"
        yield reading("loose_mass", tonnes, how, ask=ask)
    elif not on_photo and kind not in (*OF_ONE_BOLT, "torn mesh"):
        millimetres = ("mm", tuple(map(str, LENGTHS_MM)), LARGEST_MM)
        yield reading("length", millimetres, how, ask="How long is it?")


def reading(name: str, values: tuple[str, Sequence[str], str], how: str, *, ask: str) -> Asked:
    """Ask for one reading: of the unit, what is offered and the largest."""
    unit, offered, largest = values
    field = {"m": "value_m", "mm": "value_mm", "m²": "value_m2", "t": "value_t"}[unit]

    def says(value: str) -> dict[str, Any]:
        return {"extent": {name: {field: value, "how": how}}}

    choices = [Choice(it, says(it), unit) for it in offered]
    choices.append(Choice(UNKNOWN, {"extent": {name: None}}, NOT_MEASURED))
    digits = Digits(unit, "as it is read", largest, lambda typed: says(text(typed)))
    return Asked(name, ask=ask, hint=f"Read by {how}.", choices=tuple(choices), digits=digits)


def _opened(openings: int) -> dict[str, Any]:
    return {"extent": {"openings": openings}}


def _card(standard: Standard | None) -> Iterator[Asked]:
    """Yield how grave it is, by the standard's own card; nothing where it has none."""
    steps = standard.severities if standard else ()
    if steps:
        cards = (
            Choice(
                it.code,
                {"severity": it.code},
                words=it.words,
                picture=Picture("damage", step, len(steps)),
            )
            for step, it in enumerate(steps)
        )
        not_judged = Choice(UNKNOWN, {"severity": None}, "not judged")
        hint = f"By the card of {standard.name}." if standard else ""
        choices = (*cards, not_judged, CARDS)
        yield Asked("severity", ask="How grave is it?", hint=hint, choices=choices)


def _exposure(standard: Standard | None) -> Iterator[Asked]:
    places = standard.exposures if standard else ()
    if places:
        listed = (Choice(it.code, {"exposure": it.code}, words=it.words) for it in places)
        unknown = Choice(UNKNOWN, {"exposure": None}, NOT_KNOWN)
        hint = "Not known counts as the most."
        yield Asked(
            "exposure",
            ask="How much are people beneath it?",
            hint=hint,
            choices=(*listed, unknown, CARDS),
        )
