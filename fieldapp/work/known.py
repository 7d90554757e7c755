"""What is currently stated of things: the newest revisions, read as what they are."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Generic, TypeVar

from pydantic import ValidationError

from fieldapp.work.authority import Counting
from fieldapp.work.site import Site
from schemas.bodies import BODIES
from schemas.entry import Entry
from schemas.part import Part

Body = TypeVar("Body", bound=Part)


@dataclass(frozen=True)
class Known(Generic[Body]):
    """A thing as one current revision states it."""

    entry: Entry
    body: Body

    @property
    def id(self) -> str:
        """Id of the thing."""
        return self.entry.id


def current(
    site: Site, kind: str, model: type[Body], *, heading: str | None = None
) -> tuple[Known[Body], ...]:
    """Give every current, unvoided revision of a kind, in the order in which they were made.

    Those of one heading where it is named. A thing with two current revisions is given twice:
    a person settles it. An entry whose body a newer version wrote differently stays in the
    ledger and is left out here (`unreadable`); so is one whose author had no standing for it.
    """
    return tuple(_read(_of(heading, Counting(site).heads(kind)), kind, model))


def one(site: Site, kind: str, model: type[Body], thing_id: str) -> tuple[Known[Body], ...]:
    """Give the current revisions of one thing; none when it is unknown."""
    heads = (entry for entry in Counting(site).heads(kind) if entry.id == thing_id)
    return tuple(_read(heads, kind, model))


def stated(
    site: Site, kind: str, model: type[Body], *, heading: str | None = None
) -> tuple[Known[Body], ...]:
    """Give every unvoided revision of a kind, also superseded ones, in order.

    For what nobody revises: events and sign-offs end by being withdrawn, never by a line that
    says that it supersedes them.
    """
    return tuple(_read(_of(heading, Counting(site).stated(kind)), kind, model))


def unreadable(site: Site, kind: str, heading: str) -> tuple[Entry, ...]:
    """Give what is said of a heading, or of none, that only a newer version can read."""
    model = BODIES[kind]
    said = _of(heading, Counting(site).heads(kind), or_none=True)
    return tuple(it for it in said if it.read_only or not _fits(it, model))


def withdrawn(site: Site) -> frozenset[str]:
    """Give the revisions that somebody has declared void who may."""
    return Counting(site).withdrawn


def _of(
    heading: str | None, entries: Iterable[Entry], *, or_none: bool = False
) -> Iterable[Entry]:
    if heading is None:
        return entries
    wanted = (heading, None) if or_none else (heading,)
    return (entry for entry in entries if entry.body.get("heading") in wanted)


def _read(entries: Iterable[Entry], kind: str, model: type[Body]) -> Iterator[Known[Body]]:
    assert BODIES[kind] is model  # noqa: S101 - a bug of the caller, told at once
    for entry in sorted(entries, key=lambda entry: (entry.clock, entry.revision)):
        try:
            yield Known(entry, model.model_validate(dict(entry.body)))
        except ValidationError:
            continue


def _fits(entry: Entry, model: type[Part]) -> bool:
    try:
        model.model_validate(dict(entry.body))
    except ValidationError:
        return False
    return True
