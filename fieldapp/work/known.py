"""What is currently stated of things: the newest revisions, read as what they are."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Generic, TypeVar

from pydantic import ValidationError

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


def current(site: Site, kind: str, model: type[Body]) -> tuple[Known[Body], ...]:
    """Give every current, unvoided revision of a kind, in the order in which they were made.

    A thing with two current revisions is given twice: a person settles it. An entry whose body
    a newer version wrote differently stays in the ledger and is left out here.
    """
    return tuple(_read(site, kind, model))


def one(site: Site, kind: str, model: type[Body], thing_id: str) -> tuple[Known[Body], ...]:
    """Give the current revisions of one thing; none when it is unknown."""
    return tuple(known for known in _read(site, kind, model) if known.id == thing_id)


def _read(site: Site, kind: str, model: type[Body]) -> Iterator[Known[Body]]:
    assert BODIES[kind] is model  # noqa: S101 - a bug of the caller, told at once
    void = withdrawn(site)
    heads = sorted(site.store.ledger.heads(kind), key=lambda entry: (entry.clock, entry.revision))
    for entry in heads:
        if entry.revision in void:
            continue
        try:
            yield Known(entry, model.model_validate(dict(entry.body)))
        except ValidationError:
            continue


def withdrawn(site: Site) -> frozenset[str]:
    """Give the revisions that somebody has declared void."""
    heads = site.store.ledger.heads("withdrawal")
    return frozenset(str(entry.body.get("revision")) for entry in heads)
