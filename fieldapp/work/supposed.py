"""Records as they would be with one more entry: what it would come to, before it is stated."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from fieldapp.work.site import Sight
from schemas.entry import Entry
from schemas.logical_clock import LogicalTime
from sync.ledger import Kept, Ledger, LedgerState, Named


@dataclass(frozen=True, eq=False)
class LedgerWith(Ledger):
    """A ledger with one more revision of a thing that names no other: only looked at."""

    whole: Ledger
    more: Entry

    def add(self, entries: Iterable[Entry]) -> None:
        """Refuse: nothing is stated of what is only supposed."""
        raise ValueError(f"{len(tuple(entries))} entries for records that are only supposed")

    def all(self) -> Iterable[Entry]:
        """Give every entry, the one more last."""
        return (*self.whole.all(), self.more)

    def after(self, sequence: int) -> Iterable[Kept]:
        """Give what was taken in after a place; the one more was not."""
        return self.whole.after(sequence)

    def state(self) -> LedgerState:
        """Give the state of the whole."""
        return self.whole.state()

    def of_kind(self, kind: str) -> Iterable[Entry]:
        """Give the entries of one kind."""
        return self._with(self.whole.of_kind(kind), fits=kind == self.more.kind)

    def of_thing(self, thing_id: str) -> tuple[Entry, ...]:
        """Give all revisions of one thing."""
        return self._with(self.whole.of_thing(thing_id), fits=thing_id == self.more.id)

    def naming(self, kind: str, named: Named, name: str | None) -> Iterable[Entry]:
        """Give the revisions that name this: the one more names nothing."""
        return self.whole.naming(kind, named, name)

    def filed(self, kinds: Collection[str]) -> Mapping[str | None, str]:
        """Give how the whole is filed."""
        return self.whole.filed(kinds)

    def heads(self, kind: str) -> tuple[Entry, ...]:
        """Give the current revisions of a kind."""
        heads = self._with(self.whole.heads(kind), fits=kind == self.more.kind)
        return tuple(it for it in heads if it.revision not in self.more.parents)

    def get(self, revision: str) -> Entry | None:
        """Give one entry."""
        return self.more if revision == self.more.revision else self.whole.get(revision)

    def latest_clock(self, wall_ms: int) -> LogicalTime | None:
        """Give the latest logical time of the whole."""
        return self.whole.latest_clock(wall_ms)

    def stated_by_site(self) -> frozenset[str] | None:
        """Give what stands in the site's records of trust."""
        return self.whole.stated_by_site()

    def newest_made_at(self) -> datetime | None:
        """Give the latest time at which an entry of the whole says it was made."""
        return self.whole.newest_made_at()

    def _with(self, entries: Iterable[Entry], *, fits: bool) -> tuple[Entry, ...]:
        return (*entries, self.more) if fits else tuple(entries)


@dataclass(frozen=True)
class _Supposed:
    ledger: Ledger


def supposing(site: Sight, more: Entry) -> Sight:
    """Give the records of a mine as they would be once an entry was stated."""
    return Sight(site.mine, _Supposed(LedgerWith(site.store.ledger, more)), site.settings)
