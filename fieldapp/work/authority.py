"""Which entries count: a milder word of somebody without the standing for it is no word.

What makes entry stricter, anyone may state. What makes it milder, ends something or changes
what rounds are judged by counts only from who may do so. What doesn't count is kept and
travels on; the revision before it stands as if it had not been said.
"""

from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cached_property, lru_cache
from typing import Any, TypeVar

from fieldapp.work.enrolled import Roster, roster_of
from fieldapp.work.site import Site
from schemas.bodies.person import AUTHORITY, Role
from schemas.entry import Entry
from sync.ledger import Ledger

Answer = TypeVar("Answer")

ENGINEER: tuple[Role, ...] = ("geotechnical engineer",)
INSPECTORS: tuple[Role, ...] = (
    "shift supervisor",
    "geotechnical engineer",
    "geotechnical technician",
)
HEADING_KEEPERS: tuple[Role, ...] = ("records keeper", "geotechnical engineer")
LEAST_TO_LIFT = AUTHORITY["shift supervisor"]

NEVER_VOID = ("person", "tablet", "withdrawal")
"""An enrolment ends by the site's key; a withdrawal is answered by stating the thing anew."""

_NEEDED: dict[str, tuple[Role, ...]] = {
    "standard": ENGINEER,
    "deviation": ENGINEER,
    "heading": HEADING_KEEPERS,
}


class Counting:
    """What of a ledger counts as it is now; each part is read when first asked for, once."""

    def __init__(self, ledger: Ledger, site_key: str) -> None:
        self._ledger = ledger
        self._site_key = site_key
        self._heads: dict[str, tuple[Entry, ...]] = {}
        self._stated: dict[str, tuple[Entry, ...]] = {}
        self._remembered: dict[Hashable, Any] = {}

    def is_of(self, site: Site) -> bool:
        """Whether this is what counts at a mine's tablet."""
        return self._ledger is site.store.ledger and self._site_key == site.mine.site_key

    def remembered(self, question: Hashable, answer: Callable[[], Answer]) -> Answer:
        """Give the answer to a question about this state of the ledger; found out once."""
        if question not in self._remembered:
            self._remembered[question] = answer()
        found: Answer = self._remembered[question]
        return found

    @cached_property
    def roster(self) -> Roster:
        """Who was enrolled."""
        return roster_of(self._ledger, self._site_key)

    @cached_property
    def withdrawn(self) -> frozenset[str]:
        """The revisions that somebody declared void who may."""
        return frozenset(
            str(entry.body.get("revision"))
            for entry in self._ledger.of_kind("withdrawal")
            if self.may_withdraw(entry)
        )

    def heads(self, kind: str) -> tuple[Entry, ...]:
        """Give the current revisions of a kind, as if what doesn't count had not been said."""
        if kind not in self._heads:
            self._heads[kind] = self._counting_heads(kind)
        return self._heads[kind]

    def _counting_heads(self, kind: str) -> tuple[Entry, ...]:
        heads = self._ledger.heads(kind)
        if kind in NEVER_VOID:
            return heads
        doubtful = {entry.id for entry in heads if not self.counts(entry)}
        found = [entry for entry in heads if entry.id not in doubtful]
        for thing_id in doubtful:
            found += self._heads_of(kind, thing_id)
        return tuple(found)

    def stated(self, kind: str) -> tuple[Entry, ...]:
        """Give every revision of a kind that counts, those that were superseded too."""
        if kind not in self._stated:
            of_kind = self._ledger.of_kind(kind)
            self._stated[kind] = tuple(it for it in of_kind if self.counts(it))
        return self._stated[kind]

    def counts(self, entry: Entry) -> bool:
        """Whether nobody withdrew an entry, and its author had the standing for it."""
        return entry.revision not in self.withdrawn and self._had_standing(entry)

    def _heads_of(self, kind: str, thing_id: str) -> Sequence[Entry]:
        revisions = [it for it in self._ledger.of_thing(thing_id) if it.kind == kind]
        counting = [it for it in revisions if self.counts(it)]
        older = _ancestors(counting, {it.revision: it for it in revisions})
        return [it for it in counting if it.revision not in older]

    def _had_standing(self, entry: Entry) -> bool:
        needed = _NEEDED.get(entry.kind)
        if needed is not None:
            return any(role in needed for role in self.roster.roles(entry))
        if entry.kind == "entry_notice" and entry.body.get("what") in _NOTICES:
            return _NOTICES[str(entry.body["what"])](self, entry)
        return True

    def may_inspect(self, entry: Entry) -> bool:
        """Whether the author was somebody who inspects."""
        return any(role in INSPECTORS for role in self.roster.roles(entry))

    def may_lift(self, entry: Entry) -> bool:
        """Whether the author stands as high as every role that set the notice."""
        revisions = self._ledger.of_thing(entry.id)
        setters = [_claimed(it) for it in revisions]
        return self._authority(entry) >= max([*setters, LEAST_TO_LIFT])

    def _authority(self, entry: Entry) -> int:
        return max((AUTHORITY[role] for role in self.roster.roles(entry)), default=-1)

    def may_withdraw(self, entry: Entry) -> bool:
        """Whether the author may void what they name: as whoever stated it, or higher."""
        void = self._ledger.get(str(entry.body.get("revision")))
        if void is None or void.kind in NEVER_VOID:
            return False
        needed = max(LEAST_TO_LIFT, self._authority(void), _claimed(void))
        return self._authority(entry) >= needed


def counting(site: Site) -> Counting:
    """Give what counts at this mine; read anew once anything was added to its ledger."""
    held = _HELD.get()
    if held is not None and held.is_of(site):
        return held
    ledger = site.store.ledger
    return _counting(ledger, ledger.newest(), site.mine.site_key)


@contextmanager
def at_one_state(site: Site) -> Iterator[None]:
    """Answer every question within from one state of the ledger, which is looked up once.

    For many questions at once, such as the board asks: what is taken in meanwhile is seen by
    the next look.
    """
    token = _HELD.set(counting(site))
    try:
        yield
    finally:
        _HELD.reset(token)


_HELD: ContextVar[Counting | None] = ContextVar("held", default=None)


@lru_cache(maxsize=2)
def _counting(ledger: Ledger, _newest: int, site_key: str) -> Counting:
    return Counting(ledger, site_key)


_NOTICES: dict[str, Callable[[Counting, Entry], bool]] = {
    "inspected": Counting.may_inspect,
    "lifted": Counting.may_lift,
}


def _claimed(entry: Entry) -> int:
    """Give the standing of the role in which something was stated; anyone's is the least."""
    said = entry.body.get("role")
    return max((standing for role, standing in AUTHORITY.items() if role == said), default=-1)


def _ancestors(entries: Iterable[Entry], known: dict[str, Entry]) -> set[str]:
    found: set[str] = set()
    waiting = [parent for entry in entries for parent in entry.parents]
    while waiting:
        revision = waiting.pop()
        if revision not in found:
            found.add(revision)
            waiting += known[revision].parents if revision in known else ()
    return found
