"""Another program fills our folders without end: looking is bounded by time and number."""

import time
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest

import sync.visit
from fieldapp.report.words.exchange import exchange_lines
from sync.folder import Listed
from sync.local_folder import LocalFolder
from sync.names import HEADS
from sync.outcome import Outcome
from sync.visit import LOOKS_FOR_S, MOST_NAMES
from tests.faults.share_at_hand import HOUR_S, AtHand, Watched, share_at_hand

A_HUNDRED_THOUSAND = 100_000


@pytest.fixture
def at(tmp_path: Path) -> AtHand:
    return share_at_hand(tmp_path)


def words(told: Outcome) -> str:
    return "\n".join(exchange_lines(told, {}))


def test_a_hundred_thousand_foreign_files_are_passed_over_and_told_of(at: AtHand) -> None:
    theirs = at.other.state_something()
    at.met(at.other)
    for number in range(A_HUNDRED_THOUSAND):
        (at.file(HEADS) / f"junk-{number}").touch()
    ours = at.one.state_something()

    told = at.met(at.one)
    at.met(at.other)

    assert theirs in at.one.entries
    assert ours in at.other.entries
    assert told.crowded[HEADS] >= A_HUNDRED_THOUSAND
    assert not told.cut_short
    assert f"{HEADS} holds 100,00" in words(told)


class FilledByAnother(Watched):
    """Shows a million names before ours, in the folder of the heads."""

    def listing(self, path: str) -> Iterable[Listed]:
        return self._junk(super().listing(path)) if path == HEADS else super().listing(path)

    def _junk(self, ours: Iterable[Listed]) -> Iterator[Listed]:
        self.looked_at = 0
        for number in range(1_000_000):
            self.looked_at += 1
            yield Listed(f"junk-{number}", 0)
        yield from ours


def test_a_million_foreign_names_don_t_hold_up_the_exchange_and_nothing_is_lost(
    at: AtHand,
) -> None:
    before = at.one.state_something()
    theirs = at.other.state_something()
    at.met(at.one)
    at.met(at.other)
    ours = at.one.state_something()
    filled = FilledByAnother(LocalFolder(at.place))

    told = at.met(at.one, HOUR_S, folder=filled)

    assert filled.looked_at == MOST_NAMES
    assert told.crowded[HEADS] == MOST_NAMES
    assert "not looked at to its end" in words(told)
    assert len(told.sent) == 1, "what is there already is not sent again for not being seen"
    at.met(at.other)
    at.met(at.one, HOUR_S)
    assert {before, ours} <= set(at.other.entries)
    assert theirs in at.one.entries


def test_a_folder_that_is_slow_to_tell_its_names_is_left_after_a_while(
    at: AtHand, monkeypatch: pytest.MonkeyPatch
) -> None:
    now_s = [0.0]

    class Slow(Watched):
        def listing(self, _path: str) -> Iterable[Listed]:
            for number in range(1000):
                now_s[0] += 1
                yield Listed(f"junk-{number}", 0)

    monkeypatch.setattr(time, "monotonic", lambda: now_s[0])
    said = at.one.state_something()
    told = at.met(at.one, folder=Slow(LocalFolder(at.place)))
    monkeypatch.undo()

    assert HEADS in told.cut_short
    assert now_s[0] < 4 * (LOOKS_FOR_S + 2)
    at.met(at.other)
    assert said in at.other.entries


def test_what_a_folder_that_was_left_did_not_show_is_not_taken_for_gone(
    at: AtHand, monkeypatch: pytest.MonkeyPatch
) -> None:
    at.one.state_something()
    at.met(at.one)
    files = at.files()
    monkeypatch.setattr(sync.visit, "MOST_NAMES", 1)

    at.met(at.one, HOUR_S, deep=True)

    assert at.files() == files
