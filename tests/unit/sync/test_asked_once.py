"""Holdings for the length of an exchange: asked once, and again after each change of their own."""

from collections.abc import Callable, Mapping
from datetime import UTC, datetime

import pytest

from schemas.bodies.bad_file import BadFile
from sync.asked_once import AskedOnce
from sync.holdings import Held, Holdings, Look
from sync.reports import named
from tests.made import entry
from tests.share.holdings import ListHoldings
from tests.share.strangers import ROOT, TRUST, Stranger, enrolled, take

HELD, SEALED, IN_THE_SHARE = Stranger(100), Stranger(101), Stranger(102)
FIRST, SECOND = HELD.seals(entry(1)), HELD.seals(entry(2))
ENROLLED = TRUST.next_record([enrolled(HELD.key)], ROOT)
BAD = BadFile.model_validate(
    {**named(SECOND[1]), "since": datetime(2026, 3, 1, tzinfo=UTC), "tries": 4}
)
PATH = SECOND[1].path


def _acknowledge(held: Holdings) -> None:
    held.acknowledge([FIRST[1]])
    held.seal()


def _report(held: Holdings) -> None:
    held.say_bad([BAD], [])
    held.seal()


CHANGES: Mapping[str, Callable[[Holdings], object]] = {
    "a segment is taken in": lambda held: held.take_in(*SECOND),
    "a certificate is kept": lambda held: held.keep_identity(SEALED.identity),
    "a record of trust is taken in": lambda held: held.take_trust(*ENROLLED),
    "a file is bad": lambda held: held.note_bad([PATH], "torn", 1.0),
    "a file is good": lambda held: held.note_good("bad before"),
    "what waits is sealed": lambda held: held.seal(),
    "segments were put": lambda held: held.set_published([FIRST[1]], 1.0),
    "segments are acknowledged": _acknowledge,
    "a bad file is reported": _report,
    "a report was looked at": lambda held: held.note_looks(
        {"r" * 64: Look(1.0, good=True, put_right=False)}
    ),
    "a new key is taken": lambda held: held.begin_anew(),
}


class Counting(ListHoldings):
    """Counts how often it is asked what it holds."""

    asked = 0

    def rows(self) -> Mapping[str, tuple[Held, ...]]:
        self.asked += 1
        return super().rows()


def holdings() -> Counting:
    """Give a tablet that holds a little of everything."""
    made = Counting(1, TRUST)
    take(made, FIRST, HELD.identity)
    made.note_bad(["bad before"], "torn", 0.0)
    made.state_something()
    return made


def answers(held: Holdings) -> list[object]:
    """Ask everything."""
    tablets = (HELD.id, SEALED.id, IN_THE_SHARE.id)
    return [
        held.rows(),
        [held.identity(it) for it in tablets],
        held.trust(),
        held.trust_records(),
        held.bad_files(),
        held.tablet_key(),
        held.own_tablets(),
        held.published(),
        held.acknowledged(),
        held.said_bad(),
        held.looks(),
        [held.content(name) for name in (FIRST[1], SECOND[1])],
    ]


def test_what_was_asked_is_not_asked_again() -> None:
    behind = holdings()
    once = AskedOnce(behind)
    asked_before = behind.asked

    assert once.rows() == once.rows()

    assert behind.asked == asked_before + 1


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES.keys())
def test_after_a_change_the_answers_are_those_behind(change: Callable[[Holdings], object]) -> None:
    behind = holdings()
    once = AskedOnce(behind)
    before = answers(once)

    change(once)

    assert answers(once) == answers(behind)
    assert answers(once) != before


def test_where_nothing_waits_to_be_sealed_the_answers_stand() -> None:
    behind = holdings()
    once = AskedOnce(behind)
    assert once.seal()
    answers(once)
    asked_before = behind.asked

    assert not once.seal()
    answers(once)

    assert behind.asked == asked_before
