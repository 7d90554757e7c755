"""What bears a label: found by its short id, by its name or by its whole id."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Final

from fieldapp.work.headings import headings
from fieldapp.work.known import Known, current
from fieldapp.work.pegs import pegs
from fieldapp.work.site import Sight
from schemas.bodies.bolt_test import BoltTest
from schemas.bodies.damage import Damage
from schemas.bodies.heading import Heading
from schemas.bodies.survey_peg import SurveyPeg
from schemas.short_id import (
    NotOurs,
    RoundSheetRead,
    ShortId,
    ShortIdUnread,
    short_id,
    typed,
)
from schemas.trouble import BadInput

NAMED: Final = ("heading", "survey_peg")
"""Kinds of things that people call by a name of their own."""


@dataclass(eq=False)
class NotKnownHere(BadInput):
    """A label of ours names nothing that this tablet knows."""

    code: str

    happened = "The label {code} can be read, but what it names is not known on this tablet."
    kept = "Nothing was changed."
    do_next = (
        "Share, so that what other tablets recorded comes here. Still not known? It is another "
        "mine's or was withdrawn: ask in the office."
    )


@dataclass(eq=False)
class NothingLabelled(BadInput):
    """What was named is nothing that bears a label."""

    name: str

    happened = "Nothing that bears a label is called {name}."
    kept = "Nothing was printed."
    do_next = "Give a heading's or a peg's name, or a short id: lastrow peg list, lastrow board."


@dataclass(eq=False)
class SeveralLabelled(BadInput):
    """A name fits more than one thing."""

    name: str
    several: str

    happened = "More than one thing is meant by {name}: {several}."
    kept = "Nothing was printed."
    do_next = "Give one of these short ids."


@dataclass(frozen=True)
class Labelled:
    """A thing that bears a label, as it was stated last."""

    kind: str
    id: str
    name: str
    """What it is called: a heading's or a peg's name, the kind of damage, which bolt."""
    heading_id: str
    heading: str
    """Its name; nothing where this tablet doesn't know the heading."""
    at: datetime
    """When it was entered; damage: when it was seen last; a bolt: when it was tested."""
    chainage_m: Decimal | None = None
    to_m: Decimal | None = None
    s_m: Decimal | None = None

    @property
    def code(self) -> ShortId:
        """The short id on its label."""
        return short_id(self.kind, self.id)


def every_labelled(site: Sight) -> Iterator[Labelled]:
    """Yield everything that bears a label, each thing once for each of its current revisions."""
    names = {it.id: it.body.name for it in headings(site)}
    yield from (_heading(it) for it in headings(site))
    yield from (_peg(it, names) for it in pegs(site))
    seen = {_first(it): it for it in current(site, "damage", Damage)}  # the last one stands
    yield from (_damage(it, names) for it in seen.values())
    tests = current(site, "bolt_test", BoltTest)
    yield from (_bolt(it, names) for it in tests if it.body.kind != "shotcrete cores")


def labelled(site: Sight, code: ShortId) -> tuple[Labelled, ...]:
    """Give what bears a short id: nearly always one thing, and all of them where it is more.

    Raises
    ------
    NotKnownHere
        This tablet knows nothing of that short id.
    """
    found = {
        (it.kind, it.id): it
        for it in every_labelled(site)
        if code.is_of(it.id) and code.kind in (None, it.kind)
    }
    if not found:
        raise NotKnownHere(code.readable)
    return tuple(found.values())


def thing_named(site: Sight, name: str) -> Labelled:
    """Find what a label is printed for: by short id, whole id, or a heading's or peg's name.

    Raises
    ------
    NothingLabelled
        Nothing is called so.
    SeveralLabelled
        More than one thing is.
    """
    found = {(it.kind, it.id): it for it in every_labelled(site) if _is_called(it, name)}
    if not found:
        raise NothingLabelled(name)
    if len(found) > 1:
        several = ", ".join(f"{it.code.readable} ({it.name})" for it in found.values())
        raise SeveralLabelled(name, several)
    return next(iter(found.values()))


def _is_called(it: Labelled, name: str) -> bool:
    if it.id == name or (it.kind in NAMED and it.name.casefold() == name.casefold()):
        return True
    try:
        return typed(name).is_of(it.id)
    except (NotOurs, RoundSheetRead, ShortIdUnread):
        return False


def _first(known: Known[Damage]) -> str:
    return known.body.again or known.id


def _heading(known: Known[Heading]) -> Labelled:
    name = known.body.name
    return Labelled("heading", known.id, name, known.id, name, known.entry.made_at)


def _peg(known: Known[SurveyPeg], names: dict[str, str]) -> Labelled:
    body = known.body
    return Labelled(
        kind="survey_peg",
        id=known.id,
        name=body.name,
        heading_id=body.heading,
        heading=names.get(body.heading, ""),
        at=known.entry.made_at,
        chainage_m=body.chainage_m,
        s_m=body.s_m,
    )


def _damage(known: Known[Damage], names: dict[str, str]) -> Labelled:
    body = known.body
    return Labelled(
        kind="damage",
        id=_first(known),
        name=body.kind,
        heading_id=body.heading,
        heading=names.get(body.heading, ""),
        at=body.seen_at,
        chainage_m=body.chainage_m,
        to_m=body.to_m,
        s_m=body.s_m,
    )


def _bolt(known: Known[BoltTest], names: dict[str, str]) -> Labelled:
    body = known.body
    return Labelled(
        kind="bolt_test",
        id=known.id,
        name=body.bolt or body.zone,
        heading_id=body.heading,
        heading=names.get(body.heading, ""),
        at=body.tested_at,
        chainage_m=body.chainage_m,
        s_m=body.s_m,
    )
