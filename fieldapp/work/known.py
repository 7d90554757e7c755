"""What is currently stated of things: the newest revisions, read as what they are.

Chainages are given as they are today, whatever they were when something was stated; as it was
read stands beside them (`fieldapp.work.rechaining`).
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Generic, Literal, TypeVar, cast, get_args

from pydantic import ValidationError

from fieldapp.assess.rechaining import AS_READ, Chaining
from fieldapp.work.authority import Which, counting
from fieldapp.work.rechaining import chaining_of, in_chainages
from fieldapp.work.site import Sight
from schemas.bodies import BODIES
from schemas.entry import Entry
from schemas.part import Part
from sync.ledger import Named, name_in

Body = TypeVar("Body", bound=Part)
Revisions = Literal["heads", "stated"]


@dataclass(frozen=True)
class Known(Generic[Body]):
    """A thing as one current revision states it."""

    entry: Entry
    body: Body
    """With today's chainages."""
    chaining: Chaining = AS_READ
    """By which chainages it was stated."""
    as_read: Body | None = None
    """As it was stated, where its chainages were others."""

    @property
    def id(self) -> str:
        """Id of the thing."""
        return self.entry.id

    @property
    def read(self) -> Body:
        """As it was stated: what a signature is of, and what was judged."""
        return self.body if self.as_read is None else self.as_read

    def by_chainages_of(self, at: datetime | None) -> Body:
        """Give it by the chainages of a time after it was stated; None: as it was read."""
        return self.read if at is None else in_chainages(self.read, self.chaining, at)

    def today_m(self, read_m: Decimal) -> Decimal:
        """Give where a place lies today that was read with it."""
        return self.chaining.today_m(read_m)


@dataclass(frozen=True)
class _Read(Generic[Body]):
    """What could be read as what it is, and what only a newer version can read."""

    known: tuple[Known[Body], ...]
    unreadable: tuple[Entry, ...]


def known_by(site: Sight, entry: Entry, body: Body) -> Known[Body]:
    """Give what an entry states, with today's chainages."""
    chaining = chaining_of(site, entry, body)
    if not chaining.moves:
        return Known(entry, body, chaining)
    return Known(entry, in_chainages(body, chaining), chaining, body)


def current(site: Sight, kind: str, model: type[Body], **said: str) -> tuple[Known[Body], ...]:
    """Give every current, unvoided revision of a kind, in the order in which they were made.

    Only those that say this of themselves (`heading` or `round`), where it is asked. A thing
    with two current revisions is given twice: a person settles it. An entry whose body a newer
    version wrote differently stays in the ledger and is left out here (`unreadable`); so is
    one whose author had no standing for it.
    """
    return _read(site, "heads", _which(kind, said), model).known


def one(site: Sight, kind: str, model: type[Body], thing_id: str) -> tuple[Known[Body], ...]:
    """Give the current revisions of one thing; none when it is unknown."""
    return _read(site, "heads", Which(kind, thing=thing_id), model).known


def stated(site: Sight, kind: str, model: type[Body], **said: str) -> tuple[Known[Body], ...]:
    """Give every unvoided revision of a kind, also superseded ones, in order.

    For what nobody revises: events and sign-offs end by being withdrawn, never by a line that
    says that it supersedes them.
    """
    return _read(site, "stated", _which(kind, said), model).known


def stated_if(
    site: Sight, kind: str, model: type[Body], says: Callable[[Entry], bool], **said: str
) -> tuple[Known[Body], ...]:
    """Give every unvoided revision that says something, also superseded ones; others unread."""
    which = _which(kind, said)
    says_it = filter(says, counting(site).stated(which))
    return _sorted_out(site, says_it, which, model).known


def unreadable(site: Sight, kind: str, heading: str) -> tuple[Entry, ...]:
    """Give what is said of a heading, or of none, that only a newer version can read."""
    of_it, of_none = (Which(kind, named="heading", name=name) for name in (heading, None))
    read = [_read(site, "heads", which, BODIES[kind]) for which in (of_it, of_none)]
    return tuple(entry for one in read for entry in one.unreadable)


def withdrawn(site: Sight) -> frozenset[str]:
    """Give the revisions that somebody has declared void who may."""
    return counting(site).withdrawn


def parents_over(site: Sight, heads: Sequence[Known[Body]]) -> tuple[str, ...]:
    """Give the parents of a revision of a thing that follows everything that stands of it.

    Whoever states it has seen what was revised and withdrawn apart, and settles that too.
    """
    contested = counting(site).contested.get(heads[0].id, ())
    apart = (entry for it in contested for entry in (it.revision, *it.withdrawals))
    followed = (*(it.entry for it in heads), *apart)
    return tuple(dict.fromkeys(it.revision for it in followed))


def _which(kind: str, said: dict[str, str]) -> Which:
    if not said:
        return Which(kind)
    ((named, name),) = said.items()
    assert named in get_args(Named)  # noqa: S101 - a bug of the caller, told at once
    return Which(kind, named=cast("Named", named), name=name)


def _read(site: Sight, revisions: Revisions, which: Which, model: type[Body]) -> _Read[Body]:
    """Read what was asked for; each question to one state of the ledger is answered once."""
    assert BODIES[which.kind] is model  # noqa: S101 - a bug of the caller, told at once
    known = counting(site)
    give = known.heads if revisions == "heads" else known.stated
    question = ("read", revisions, which)
    return known.remembered(question, lambda: _sorted_out(site, give(which), which, model))


def _sorted_out(
    site: Sight, entries: Iterable[Entry], which: Which, model: type[Body]
) -> _Read[Body]:
    known, unread = [], []
    for entry in sorted(entries, key=lambda entry: (entry.clock, entry.revision)):
        if which.named is not None and name_in(entry.body, which.named) != which.name:
            continue
        body = _body(entry, model)
        if body is not None:
            known.append(known_by(site, entry, body))
        if body is None or entry.read_only:
            unread.append(entry)
    return _Read(tuple(known), tuple(unread))


def _body(entry: Entry, model: type[Body]) -> Body | None:
    try:
        return model.model_validate(dict(entry.body))
    except ValidationError:
        return None
