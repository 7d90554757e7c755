"""What is asked of a new intersection, or of one put right; nothing is answered beforehand."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Final

from fieldapp.assess.intersections.outlines import SHAPES, Shape
from fieldapp.work.asked import Asked, Choice, Digits, Letters
from fieldapp.work.intersection.draft import WHY, IntersectionWork
from schemas.bodies.intersection import Intersection
from schemas.bodies.round import Method
from schemas.numbers import text
from schemas.standard import Standard, SupportClass

FORMS: Final[Mapping[Shape, str]] = {
    "turnout left": "turnout to the left",
    "turnout right": "turnout to the right",
    "cross": "cross",
    "widening": "widening",
}
METHODS: Final[Mapping[Method, str]] = {
    "tape": "by tape",
    "laser": "by laser",
    "paced": "paced",
    "assumed": "as designed",
}
REASONS: Final = ("it was read wrong", "it was typed wrong", "the plan was changed")
WIDEST_M: Final = "30"
NARROWEST_M: Final = "0.5"
INMOST_M: Final = "99999"
MOST: Final = "500"
LONGEST: Final = 80


def question_now(
    work: IntersectionWork, standard: Standard, before: Intersection | None
) -> Asked | None:
    """Give what is asked next; None once everything was answered."""
    asked = questions(work, standard, before)
    return next((it for it in asked if it.key not in work.said), None)


def questions(
    work: IntersectionWork, standard: Standard, before: Intersection | None
) -> Iterator[Asked]:
    """Yield everything that is asked, in order; `before` is what is put right, if anything is."""
    yield _metres("from_m", "At which chainage does it open?", _was(before, "from_m"), INMOST_M)
    hint = "Another form is typed: lastrow intersection add."
    forms = tuple(Choice(FORMS[it], {"shape": it}) for it in SHAPES)
    yield Asked("shape", ask="Which form has it?", hint=hint, choices=forms)
    yield _metres("width_m", "How wide is the heading there?", "From wall to wall.", WIDEST_M)
    other, along = "How wide is the other drive?", "How long is the widening?"
    ask = along if work.said.get("shape") == "widening" else other
    yield _metres("other_m", ask, "", WIDEST_M)
    how = tuple(Choice(label, {"corners_method": it}) for it, label in METHODS.items())
    hint = _was(before, "corners_method")
    yield Asked("corners_method", ask="How was that read?", hint=hint, choices=how)
    yield from _support(work, standard, before)
    if before is not None:
        why = Letters(LONGEST, lambda typed: {WHY: typed}, words="in words")
        reasons = tuple(Choice(it, {WHY: it}) for it in REASONS)
        yield Asked(WHY, ask="Why is it put right?", hint="", choices=reasons, digits=why)


def _support(
    work: IntersectionWork, standard: Standard, before: Intersection | None
) -> Iterator[Asked]:
    stated = [it for it in standard.classes if it.intersection is not None]
    yield Asked(
        "support_class",
        ask="By the pattern of which class?",
        hint=_was(before, "support_class"),
        choices=tuple(map(_class, stated or standard.classes)),
    )
    demanded = standard.support_class(work.said.get("support_class", ""))
    if demanded is None:
        return
    yield Asked(
        "cable",
        ask="Its long bolt or cable?",
        hint=_was(before, "cable"),
        choices=tuple(Choice(it.code, {"cable": it.code}, it.name) for it in demanded.bolts),
    )
    rule = demanded.intersection.cables if demanded.intersection else None
    least = rule.at_least if rule else None
    limit = "" if least is None else f"at least {least}"
    yield Asked(
        "cables",
        ask="How many cables are planned?",
        hint=_was(before, "cables"),
        choices=(),
        digits=Digits("", limit, MOST, _cables, words="Type it", smallest="1", whole=True),
    )


def _cables(typed: Decimal) -> dict[str, int]:
    return {"cables": int(typed)}


def _class(it: SupportClass) -> Choice:
    """Offer a class; of one that has one bolt alone nothing more is asked."""
    only = {"cable": it.bolts[0].code} if len(it.bolts) == 1 else {}
    return Choice(it.code, {"support_class": it.code, **only}, it.title)


def _metres(key: str, ask: str, hint: str, largest: str) -> Asked:
    def says(typed: Decimal) -> dict[str, str]:
        return {key: text(typed)}

    smallest = "0" if largest == INMOST_M else NARROWEST_M
    limit = f"{smallest} to {largest} m"
    return Asked(
        key,
        ask=ask,
        hint=hint,
        choices=(),
        digits=Digits("m", limit, largest, says, words="Type it", smallest=smallest),
    )


def _was(before: Intersection | None, name: str) -> str:
    """Say what stands, where it is put right."""
    return "" if before is None else f"stated before: {getattr(before, name)}"
