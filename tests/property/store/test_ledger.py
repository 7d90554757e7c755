"""The ledger on SQLite answers as a plain list would, also after it was opened again."""

import shutil
import tempfile
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from fieldapp.store import open_store
from schemas.canonical import JsonValue
from schemas.entry import Entry
from tests.made import entry, thing_id
from tests.stand_ins import ListLedger

KINDS = ("round", "sign_off", "heading")
THINGS = 4
Body = dict[str, JsonValue]
places = st.lists(st.integers(0, 40), max_size=3, unique=True)
names = st.sampled_from([None, "A", "B", thing_id(2), 7])
bodies = st.fixed_dictionaries(
    {"heading": names, "round": st.sampled_from([None, thing_id(1), 2])}
)


class LedgersAgree(RuleBasedStateMachine):
    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.model = ListLedger()
        self.store = open_store(self.folder)
        self.made: list[Entry] = []

    def _entry(self, number: int, kind: str, parents: list[int], body: Body) -> Entry:
        named = tuple(self.made[place].revision for place in parents if place < len(self.made))
        made = entry(number, body, kind=kind, thing=number % THINGS, parents=named)
        self.made += [] if made in self.made else [made]
        return made

    @rule(
        numbers=st.lists(st.integers(0, 20), max_size=4),
        kind=st.sampled_from(KINDS),
        of=places,
        body=bodies,
    )
    def add(self, numbers: list[int], kind: str, of: list[int], body: Body) -> None:
        entries = [self._entry(number, kind, of, body) for number in numbers]
        self.model.add(entries)
        self.store.ledger.add(entries)

    @rule()
    def open_again(self) -> None:
        self.store.close()
        self.store = open_store(self.folder)

    @rule(place=st.integers(0, 40))
    def same_entry(self, place: int) -> None:
        revision = self.made[place].revision if place < len(self.made) else "0" * 64
        assert self.store.ledger.get(revision) == self.model.get(revision)

    @rule(sequence=st.integers(0, 12))
    def same_after(self, sequence: int) -> None:
        assert list(self.store.ledger.after(sequence)) == list(self.model.after(sequence))

    @rule(number=st.integers(0, THINGS - 1))
    def same_history(self, number: int) -> None:
        thing = entry(number).id
        assert self.store.ledger.of_thing(thing) == self.model.of_thing(thing)

    @rule(kind=st.sampled_from(KINDS))
    def same_kind_and_heads(self, kind: str) -> None:
        assert list(self.store.ledger.of_kind(kind)) == list(self.model.of_kind(kind))
        assert self.store.ledger.heads(kind) == self.model.heads(kind)

    @rule(kind=st.sampled_from(KINDS), heading=st.sampled_from(["A", "B", None]))
    def same_naming(self, kind: str, heading: str | None) -> None:
        ours, theirs = self.store.ledger, self.model
        assert list(ours.naming(kind, "heading", heading)) == list(
            theirs.naming(kind, "heading", heading)
        )
        assert list(ours.naming(kind, "round", thing_id(1))) == list(
            theirs.naming(kind, "round", thing_id(1))
        )
        assert ours.filed([kind]) == theirs.filed([kind])

    @rule()
    def seal(self) -> None:
        self.store.sealing.seal()
        assert self.store.check().waiting == 0

    @invariant()
    def same_whole(self) -> None:
        assert list(self.store.ledger.all()) == self.model.entries
        assert self.store.ledger.latest_clock(0) == self.model.latest_clock(0)
        assert self.store.ledger.state() == self.model.state()
        assert self.store.ledger.newest_made_at() == self.model.newest_made_at()

    def teardown(self) -> None:
        self.store.close()
        shutil.rmtree(self.folder)


TestLedgersAgree = LedgersAgree.TestCase
TestLedgersAgree.settings = settings(max_examples=25, stateful_step_count=20, deadline=None)
