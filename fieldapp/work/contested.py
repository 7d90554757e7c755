"""Revisions of what somebody withdrew elsewhere: neither had heard of the other.

Whoever revises a thing says what it is from then on; whoever withdraws its revision says that
it is nothing. Both can't stand, and no program chooses: a person settles it, and names the
withdrawal among the parents of what stands then. Until then the stricter counts.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from schemas.entry import Entry

_MILDER_NOTICES = ("lifted", "inspected")


@dataclass(frozen=True)
class Contested:
    """A current revision, and what somebody else made of the thing meanwhile."""

    revision: Entry
    withdrawals: tuple[Entry, ...]
    """Of what it revises; the first first."""
    without: tuple[Entry, ...]
    """What stands where they do."""


@dataclass(frozen=True)
class Apart:
    """What was revised and withdrawn apart, by what counts."""

    withdrawals: Mapping[str, tuple[Entry, ...]]
    """Those that count, by the revision that they void."""
    weighs: Callable[[Entry, Entry], bool]
    """Whether a revision that names a withdrawal was stated by whoever may decide on it."""
    standing: Callable[[Sequence[Entry]], Sequence[Entry]]
    """Gives what stands of some revisions of a thing."""

    def heads(self, revisions: Sequence[Entry]) -> Iterable[Entry]:
        """Give what stands of a thing; of what is contested, both sides as far as is stricter."""
        contested = tuple(self.of_thing(revisions))
        if not contested:
            return self.standing(revisions)
        milder = {it.revision for it in contested if _is_milder(it.revision)}
        heads = (it for it in self.standing(revisions) if it not in milder)
        return dict.fromkeys((*heads, *contested[0].without))

    def of_thing(self, revisions: Sequence[Entry]) -> Iterator[Contested]:
        """Yield each current revision of a thing that a withdrawal contests."""
        if self.withdrawals.keys().isdisjoint(it.revision for it in revisions):
            return
        against = {it: self.contesting(it, revisions) for it in revisions}
        without = tuple(self.standing([it for it in revisions if not against[it]]))
        for head in self.standing(revisions):
            if against[head]:
                yield Contested(head, against[head], without)

    def contesting(self, entry: Entry, revisions: Iterable[Entry]) -> tuple[Entry, ...]:
        """Give the withdrawals of what an entry revises that nobody has weighed since."""
        before = _before(entry, {it.revision: it for it in revisions})
        line = (entry, *before)
        found = {
            it
            for older in before
            for it in self.withdrawals.get(older.revision, ())
            if not any(it.revision in one.parents and self.weighs(one, it) for one in line)
        }
        return tuple(sorted(found, key=lambda it: (it.clock, it.revision)))


def _before(entry: Entry, known: Mapping[str, Entry]) -> Iterable[Entry]:
    """Give every revision that an entry goes back to."""
    found: dict[Entry, None] = {}
    waiting = list(entry.parents)
    while waiting:
        older = known.get(waiting.pop())
        if older is not None and older not in found:
            found[older] = None
            waiting += older.parents
    return found


def _is_milder(entry: Entry) -> bool:
    """Whether a thing lets people in, so that it is stricter without it."""
    if entry.kind == "entry_notice":
        return entry.body.get("what") in _MILDER_NOTICES
    if entry.kind == "rehab":
        return entry.body.get("state") == "verified"
    if entry.kind == "intersection":
        return entry.body.get("step") == "plated"
    return entry.kind == "deviation"
