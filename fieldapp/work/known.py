"""What is currently stated of things: the newest revisions, read as what they are."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Generic, TypeVar

from pydantic import ValidationError

from fieldapp.work.authority import counting
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


def current(site: Site, kind: str, model: type[Body], **said: str) -> tuple[Known[Body], ...]:
    """Give every current, unvoided revision of a kind, in the order in which they were made.

    Only those that say this of themselves (`heading`, `round`), where it is asked. A thing with
    two current revisions is given twice: a person settles it. An entry whose body a newer
    version wrote differently stays in the ledger and is left out here (`unreadable`); so is
    one whose author had no standing for it.
    """
    return tuple(_read(_saying(said, counting(site).heads(kind)), kind, model))


def one(site: Site, kind: str, model: type[Body], thing_id: str) -> tuple[Known[Body], ...]:
    """Give the current revisions of one thing; none when it is unknown."""
    heads = (entry for entry in counting(site).heads(kind) if entry.id == thing_id)
    return tuple(_read(heads, kind, model))


def stated(site: Site, kind: str, model: type[Body], **said: str) -> tuple[Known[Body], ...]:
    """Give every unvoided revision of a kind, also superseded ones, in order.

    For what nobody revises: events and sign-offs end by being withdrawn, never by a line that
    says that it supersedes them.
    """
    return tuple(_read(_saying(said, counting(site).stated(kind)), kind, model))


def unreadable(site: Site, kind: str, heading: str) -> tuple[Entry, ...]:
    """Give what is said of a heading, or of none, that only a newer version can read."""
    model = BODIES[kind]
    of_it = [it for it in counting(site).heads(kind) if it.body.get("heading") in (heading, None)]
    return tuple(it for it in of_it if it.read_only or not _fits(it, model))


def withdrawn(site: Site) -> frozenset[str]:
    """Give the revisions that somebody has declared void who may."""
    return counting(site).withdrawn


def _saying(said: dict[str, str], entries: Iterable[Entry]) -> Iterable[Entry]:
    """Leave out what is about something else, before reading what it says."""
    return (it for it in entries if all(it.body.get(name) == of for name, of in said.items()))


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
