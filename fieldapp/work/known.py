"""What is currently stated of things: the newest revisions, read as what they are."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, Generic, Literal, TypeVar

from pydantic import ValidationError

from fieldapp.work.authority import Counting, counting
from fieldapp.work.site import Site
from schemas.bodies import BODIES
from schemas.entry import Entry
from schemas.part import Part

Body = TypeVar("Body", bound=Part)
Which = Literal["heads", "stated"]
THING: Final = "id of the thing"
"""Asks for an entry's thing, where its body's words are asked for otherwise."""


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
    return _found(site, "heads", kind, model, said)


def one(site: Site, kind: str, model: type[Body], thing_id: str) -> tuple[Known[Body], ...]:
    """Give the current revisions of one thing; none when it is unknown."""
    return _found(site, "heads", kind, model, {THING: thing_id})


def stated(site: Site, kind: str, model: type[Body], **said: str) -> tuple[Known[Body], ...]:
    """Give every unvoided revision of a kind, also superseded ones, in order.

    For what nobody revises: events and sign-offs end by being withdrawn, never by a line that
    says that it supersedes them.
    """
    return _found(site, "stated", kind, model, said)


def unreadable(site: Site, kind: str, heading: str) -> tuple[Entry, ...]:
    """Give what is said of a heading, or of none, that only a newer version can read."""
    known = counting(site)
    unread = known.remembered(("unread", kind), lambda: _unread(known, kind))
    return tuple(it for it in unread if it.body.get("heading") in (heading, None))


def withdrawn(site: Site) -> frozenset[str]:
    """Give the revisions that somebody has declared void who may."""
    return counting(site).withdrawn


def _found(
    site: Site, which: Which, kind: str, model: type[Body], said: dict[str, str]
) -> tuple[Known[Body], ...]:
    """Give what says this of itself. A state of the ledger is sorted in and read once."""
    assert BODIES[kind] is model  # noqa: S101 - a bug of the caller, told at once
    known, names, wanted = counting(site), tuple(said), tuple(said.values())
    question = (which, kind, names)
    shelf = known.remembered(question, lambda: _sorted_in(known, which, kind, names))
    return known.remembered((question, wanted), lambda: tuple(_read(shelf.get(wanted, ()), model)))


def _sorted_in(
    known: Counting, which: Which, kind: str, names: tuple[str, ...]
) -> dict[tuple[str, ...], list[Entry]]:
    """Sort entries by what they say of themselves, each in the order in which it was made."""
    shelf: dict[tuple[str, ...], list[Entry]] = {}
    entries = known.heads(kind) if which == "heads" else known.stated(kind)
    for entry in sorted(entries, key=lambda entry: (entry.clock, entry.revision)):
        says = tuple(entry.id if name == THING else entry.body.get(name) for name in names)
        if all(isinstance(it, str) for it in says):
            shelf.setdefault(says, []).append(entry)  # type: ignore[arg-type]
    return shelf


def _read(entries: Iterable[Entry], model: type[Body]) -> Iterator[Known[Body]]:
    for entry in entries:
        try:
            yield Known(entry, model.model_validate(dict(entry.body)))
        except ValidationError:
            continue


def _unread(known: Counting, kind: str) -> tuple[Entry, ...]:
    model = BODIES[kind]
    return tuple(it for it in known.heads(kind) if it.read_only or not _fits(it, model))


def _fits(entry: Entry, model: type[Part]) -> bool:
    try:
        model.model_validate(dict(entry.body))
    except ValidationError:
        return False
    return True
