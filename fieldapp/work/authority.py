"""Which entries count: a milder word of somebody without the standing for it is no word.

What makes entry stricter, anyone may state. What makes it milder, ends something or changes
what rounds are judged by counts only from who may do so. What doesn't count is kept and
travels on; the revision before it stands as if it had not been said.
"""

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import groupby
from typing import Any, TypeVar, cast

from fieldapp.store.lacking import Lacking
from fieldapp.work.contested import Apart, Contested
from fieldapp.work.enrolled import Roster, roster_of
from fieldapp.work.roles import SIGNERS
from fieldapp.work.site import Sight, Site
from schemas.bodies.person import AUTHORITY, Role
from schemas.entry import Entry
from schemas.signatures import is_signed_by
from sync.ledger import Ledger, LedgerState, Named

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

_NOT_BEGUN = ("proposed", "planned")
_WORKING = ("in hand", "done")
_CABLES_PUT_IN = ("drilled", "grouted")
CABLE_CREWS: tuple[Role, ...] = ("bolter", "rehab crew", *INSPECTORS)
"""Who drills and grouts the cables of an intersection."""
_NEEDED: dict[str, tuple[Role, ...]] = {
    "standard": ENGINEER,
    "deviation": ENGINEER,
    "heading": HEADING_KEEPERS,
    "looked_into": SIGNERS,
}


@dataclass(frozen=True)
class Which:
    """Which things of a kind are asked for: all, one, or those of which a revision names this."""

    kind: str
    thing: str | None = None
    named: Named | None = None
    name: str | None = None


class Counting:
    """What of a ledger counts as it is now; each part is read when first asked for, once."""

    def __init__(self, ledger: Ledger, site_key: str, lacking: Lacking | None = None) -> None:
        self._ledger = ledger
        self._site_key = site_key
        self.lacking = lacking
        """What is missing or altered of it, as it was looked at last."""
        self._remembered: dict[Hashable, Any] = {}

    def is_of(self, site: Sight) -> bool:
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
        return frozenset(self._withdrawals)

    @cached_property
    def _withdrawals(self) -> Mapping[str, tuple[Entry, ...]]:
        found: dict[str, tuple[Entry, ...]] = {}
        for entry in self._ledger.of_kind("withdrawal"):
            if self.may_withdraw(entry):
                void = str(entry.body.get("revision"))
                found[void] = (*found.get(void, ()), entry)
        return found

    @cached_property
    def contested(self) -> Mapping[str, tuple[Contested, ...]]:
        """The things of which somebody withdrew what another revised, by id."""
        void = filter(None, map(self._ledger.get, self._withdrawals))
        things = {it.id: it.kind for it in void}
        found = {it: tuple(self._apart.of_thing(self._of_thing(it, things[it]))) for it in things}
        return {it: contested for it, contested in found.items() if contested}

    @cached_property
    def _apart(self) -> Apart:
        return Apart(self._withdrawals, self._stands_as_high, self._standing)

    def contests(self, entry: Entry) -> bool:
        """Whether an entry, kept here or not yet, would be contested by a withdrawal."""
        return bool(self._apart.contesting(entry, self._of_thing(entry.id, entry.kind)))

    def _of_thing(self, thing: str, kind: str) -> tuple[Entry, ...]:
        return tuple(it for it in self._ledger.of_thing(thing) if it.kind == kind)

    def _stands_as_high(self, entry: Entry, withdrawal: Entry) -> bool:
        return self._authority(entry) >= self._authority(withdrawal)

    def heads(self, which: Which) -> tuple[Entry, ...]:
        """Give the current revisions of things, as if what doesn't count had not been said."""
        return self.remembered(("heads", which), lambda: tuple(self._heads(which)))

    def stated(self, which: Which) -> tuple[Entry, ...]:
        """Give every revision of things that counts, those that were superseded too."""
        return self.remembered(("stated", which), lambda: tuple(self._stated(which)))

    def _heads(self, which: Which) -> Iterator[Entry]:
        by_thing = sorted(self.revisions(which), key=_thing)
        for _, revisions in groupby(by_thing, key=_thing):
            yield from self._apart.heads(tuple(revisions))

    def _standing(self, revisions: Sequence[Entry]) -> Sequence[Entry]:
        if not revisions:
            return ()
        named = {parent for it in revisions for parent in it.parents}
        heads = [it for it in revisions if it.revision not in named]
        if revisions[0].kind in NEVER_VOID or all(map(self.counts, heads)):
            return heads
        counting = [it for it in revisions if self.counts(it)]
        older = _ancestors(counting, {it.revision: it for it in revisions})
        return [it for it in counting if it.revision not in older]

    def _stated(self, which: Which) -> Iterator[Entry]:
        return (it for it in self.revisions(which) if self.counts(it))

    def revisions(self, which: Which) -> tuple[Entry, ...]:
        """Give every revision of things, whether it counts or not."""
        return self.remembered(("revisions", which), lambda: tuple(self._read(which)))

    def _read(self, which: Which) -> Iterable[Entry]:
        if which.thing is not None:
            return (it for it in self._ledger.of_thing(which.thing) if it.kind == which.kind)
        if which.named is not None:
            return self._ledger.naming(which.kind, which.named, which.name)
        return self._ledger.of_kind(which.kind)

    def counts(self, entry: Entry) -> bool:
        """Whether nobody withdrew an entry, and its author had the standing for it."""
        return entry.revision not in self.withdrawn and self._had_standing(entry)

    def _had_standing(self, entry: Entry) -> bool:
        needed = _NEEDED.get(entry.kind)
        if needed is not None:
            stands = any(role in needed for role in self.roster.roles(entry))
            return stands and self._is_as_signed(entry)
        may = _MAY.get(entry.kind)
        return may is None or may(self, entry)

    def may_notify(self, entry: Entry) -> bool:
        """Whether a notice is one that anyone may state, or its author had the standing for it."""
        may = _NOTICES.get(str(entry.body.get("what")))
        return may is None or may(self, entry)

    def may_say_of_damage(self, entry: Entry) -> bool:
        """Whether damage was seen, which anyone may say, or put right by somebody who inspects."""
        return not entry.parents or self.may_inspect(entry)

    def _is_as_signed(self, entry: Entry) -> bool:
        """Whether a standard that says who signed it was signed by its author."""
        if entry.kind != "standard" or entry.body.get("public_key") is None:
            return True
        return any(is_signed_by(entry, key) for key in self.roster.keys(entry.author))

    def may_inspect(self, entry: Entry) -> bool:
        """Whether the author was somebody who inspects."""
        return any(role in INSPECTORS for role in self.roster.roles(entry))

    def may_correct(self, entry: Entry) -> bool:
        """Whether a test is stated first, or put right by its maker or an engineer who say why."""
        if not entry.parents:
            return True
        first = (it for it in self._of_thing(entry.id, entry.kind) if not it.parents)
        theirs = entry.author in {it.author for it in first}
        return bool(entry.body.get("corrected_because")) and (theirs or self._is_engineers(entry))

    def not_agreed(self, entry: Entry) -> frozenset[str]:
        """Give the revisions that one goes back to since an engineer stated it last, that too."""
        if self._is_engineers(entry):
            return frozenset()
        known = {it.revision: it for it in self._of_thing(entry.id, entry.kind)}
        older = [known[it] for it in _ancestors([entry], known) if it in known]
        agreed = [it for it in older if self.counts(it) and self._is_engineers(it)]
        return frozenset(it.revision for it in older) - _ancestors(agreed, known)

    def may_lift(self, entry: Entry) -> bool:
        """Whether the author stands as high as every role that set the notice."""
        revisions = self._ledger.of_thing(entry.id)
        setters = [_claimed(it) for it in revisions]
        return self._authority(entry) >= max([*setters, LEAST_TO_LIFT])

    def may_decide(self, entry: Entry) -> bool:
        """Whether a batch is still in doubt, never was, or an engineer has decided on it."""
        decided = entry.body.get("decided") is not None
        if entry.body.get("in_doubt") and not decided:
            return True
        known = {it.revision: it for it in self._ledger.of_thing(entry.id)}
        before = [known[it] for it in _ancestors([entry], known) if it in known]
        doubted = any(_in_doubt(it) for it in before if it.revision not in self.withdrawn)
        return self._is_engineers(entry) or not (decided or doubted)

    def may_repair(self, entry: Entry) -> bool:
        """Whether a repair is verified or planned by somebody who may, and not planned again."""
        state = entry.body.get("state")
        if state == "verified":
            return self.may_verify(entry)
        if state not in _NOT_BEGUN:
            return True
        ordered = state == "proposed" or self._is_engineers(entry) or self._is_left(entry)
        return ordered and self._is_only_planned(entry)

    def may_verify(self, entry: Entry) -> bool:
        """Whether the author inspects, signed it, and is none of those who did the work."""
        signed = any(is_signed_by(entry, key) for key in self.roster.keys(entry.author))
        return signed and self.may_inspect(entry) and entry.author not in self.installers(entry.id)

    def installers(self, rehab_id: str) -> frozenset[str]:
        """Give who did the work of a repair: whoever was named, began it, or said it was done."""
        revisions = self._ledger.of_thing(rehab_id)
        named = (it.body.get("installers") for it in revisions)
        found = {str(who) for names in named if isinstance(names, list) for who in names}
        return frozenset(
            found | {it.author for it in revisions if it.body.get("state") in _WORKING}
        )

    def may_say_of_cables(self, entry: Entry) -> bool:
        """Whether an intersection is planned, or a step of its cables done by who may say so.

        Plated is said, and signed, by a shift supervisor or engineer who put in none of them; it
        is they too who put right what was stated.
        """
        step = entry.body.get("step")
        roles = self.roster.roles(entry)
        if entry.body.get("corrected_because") and not any(it in SIGNERS for it in roles):
            return False
        if step == "plated":
            signed = any(is_signed_by(entry, key) for key in self.roster.keys(entry.author))
            put_in = self.cable_installers(entry.id)
            own = entry.body.get("role") in roles and any(it in SIGNERS for it in roles)
            return signed and own and entry.author not in put_in
        return step not in _CABLES_PUT_IN or any(it in CABLE_CREWS for it in roles)

    def cable_installers(self, thing: str) -> frozenset[str]:
        """Give who put in cables: whoever was named, or said that they were drilled or grouted.

        Who only recorded bolts and cables beside a step said it after somebody else.
        """
        revisions = self._ledger.of_thing(thing)
        named = (it.body.get("installers") for it in revisions)
        found = {str(who) for names in named if isinstance(names, list) for who in names}
        first: dict[tuple[object, ...], str | None] = {}
        for it in sorted(revisions, key=lambda one: (one.clock, one.revision)):
            step = tuple(it.body.get(name) for name in ("step", "count", "at"))
            if step[0] in _CABLES_PUT_IN:
                first.setdefault(step, it.author)
        return frozenset(found | {it for it in first.values() if it is not None})

    def _is_only_planned(self, entry: Entry) -> bool:
        known = {it.revision: it for it in self._ledger.of_thing(entry.id)}
        before = [known[it] for it in _ancestors([entry], known) if it in known]
        return all(it.body.get("state") in _NOT_BEGUN for it in before)

    def _is_left(self, entry: Entry) -> bool:
        """Whether it is what was left of a repair that was begun, in the same order of work."""
        whole = self._of_thing(str(entry.body.get("parent")), "rehab")
        order = entry.body.get("order_of_work")
        begun = (it for it in whole if it.body.get("state") in _WORKING)
        return any(it.body.get("order_of_work") == order for it in begun)

    def _is_engineers(self, entry: Entry) -> bool:
        return any(role in ENGINEER for role in self.roster.roles(entry))

    def _authority(self, entry: Entry) -> int:
        return max((AUTHORITY[role] for role in self.roster.roles(entry)), default=-1)

    def may_withdraw(self, entry: Entry) -> bool:
        """Whether the author may void what they name: as whoever stated it, or higher.

        What somebody measured on a photo is undone by whoever measured it, in any role.
        """
        void = self._ledger.get(str(entry.body.get("revision")))
        if void is None or void.kind in NEVER_VOID:
            return False
        if void.kind == "photo_measurement" and void.author == entry.author is not None:
            return True
        least = AUTHORITY["geotechnical engineer"] if _in_doubt(void) else LEAST_TO_LIFT
        needed = max(least, self._authority(void), _claimed(void))
        return self._authority(entry) >= needed


def counting(site: Sight) -> Counting:
    """Give what counts at this mine; read anew once anything was added to its ledger."""
    held = _HELD.get()
    if held is not None and held.is_of(site):
        return held
    ledger = site.store.ledger
    lacking = site.store.wholeness.lacking if isinstance(site, Site) else None
    as_itself = cast("Hashable", ledger)  # every ledger is one: none is equal to another
    return _counting(as_itself, ledger.state(), site.mine.site_key, lacking)


@contextmanager
def at_one_state(site: Sight, *, anew: bool = False) -> Iterator[None]:
    """Answer every question within from one state of the ledger, which is looked up once.

    For many questions at once, such as the board asks: what is taken in meanwhile is seen by
    the next look. Each look begins with whether everything is here. Read `anew`, it is forgotten
    at the end: an office's entries are too many to be remembered all at once.
    """
    if isinstance(site, Site):
        site.store.wholeness.look()
    here = Counting(site.store.ledger, site.mine.site_key) if anew else counting(site)
    token = _HELD.set(here)
    try:
        yield
    finally:
        _HELD.reset(token)


_HELD: ContextVar[Counting | None] = ContextVar("held", default=None)


@lru_cache(maxsize=2)
def _counting(
    ledger: Ledger, _state: LedgerState, site_key: str, lacking: Lacking | None
) -> Counting:
    return Counting(ledger, site_key, lacking)


_NOTICES: dict[str, Callable[[Counting, Entry], bool]] = {
    "inspected": Counting.may_inspect,
    "lifted": Counting.may_lift,
}


_MAY: dict[str, Callable[[Counting, Entry], bool]] = {
    "batch": Counting.may_decide,
    "bolt_test": Counting.may_correct,
    "damage": Counting.may_say_of_damage,
    "entry_notice": Counting.may_notify,
    "intersection": Counting.may_say_of_cables,
    "rehab": Counting.may_repair,
}
"""Of which kinds an author needs a standing for some of what they may state."""


def _thing(entry: Entry) -> str:
    return entry.id


def _in_doubt(entry: Entry) -> bool:
    return entry.kind == "batch" and bool(entry.body.get("in_doubt"))


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
