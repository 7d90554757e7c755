"""Drafts answer as plain lists would, also after the store was opened again."""

import shutil
import tempfile
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from fieldapp.store import open_store
from fieldapp.store.drafts import Draft, DraftClosed
from schemas.entry import Entry
from tests.made import entry

drafts = st.sampled_from(("d-1", "d-2", "d-3"))


class DraftsAgree(RuleBasedStateMachine):
    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.store = open_store(self.folder)
        self.open: dict[str, list[bytes]] = {}
        self.closed: dict[str, list[Entry]] = {}
        self.entries: list[Entry] = []

    @rule(draft=drafts)
    def begin(self, draft: str) -> None:
        self.store.drafts.begin(draft, draft.encode())
        if draft not in self.closed:
            self.open.setdefault(draft, [])

    @rule(draft=drafts, line=st.binary(max_size=30))
    def touch(self, draft: str, line: bytes) -> None:
        if draft in self.open:
            self.open[draft].append(line)
            assert self.store.drafts.touch(draft, line) == len(self.open[draft])
        else:
            expected = DraftClosed if draft in self.closed else LookupError
            with pytest.raises(expected):
                self.store.drafts.touch(draft, line)

    @rule(draft=drafts, numbers=st.lists(st.integers(0, 6), max_size=3))
    def finish(self, draft: str, numbers: list[int]) -> None:
        entries = [entry(number) for number in numbers]
        if draft in self.open:
            self.store.drafts.finish(draft, entries)
            self.closed[draft] = entries
            self.entries += [one for one in dict.fromkeys(entries) if one not in self.entries]
            del self.open[draft]
        elif draft in self.closed and not set(entries) <= set(self.entries):
            with pytest.raises(DraftClosed):
                self.store.drafts.finish(draft, entries)

    @rule(draft=drafts)
    def finish_again(self, draft: str) -> None:
        if draft in self.closed:
            self.store.drafts.finish(draft, self.closed[draft])

    @rule()
    def open_again(self) -> None:
        self.store.close()
        self.store = open_store(self.folder)

    @invariant()
    def same_drafts(self) -> None:
        # They come in the order in which they were begun, as a dict keeps it.
        expected = tuple(Draft(draft, draft.encode()) for draft in self.open)
        assert self.store.drafts.open_drafts() == expected

    @invariant()
    def same_touches(self) -> None:
        for draft in ("d-1", "d-2", "d-3"):
            assert self.store.drafts.touches(draft) == tuple(self.open.get(draft, []))

    @invariant()
    def same_entries(self) -> None:
        assert list(self.store.ledger.all()) == self.entries

    def teardown(self) -> None:
        self.store.close()
        shutil.rmtree(self.folder)


TestDraftsAgree = DraftsAgree.TestCase
TestDraftsAgree.settings = settings(max_examples=25, stateful_step_count=20, deadline=None)
