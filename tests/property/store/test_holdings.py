"""Whatever order segments, certificates and records come in, the same counts in the end."""

import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from sync.holdings import Holdings
from sync.names import TrustName
from sync.segment import open_segment
from tests.made import entry
from tests.share.disk_tablet import DiskTablet
from tests.share.holdings import ListHoldings
from tests.share.strangers import (
    TRUST,
    Sealed,
    Stranger,
    enrolled,
    receipt,
    records,
    revoked,
    states,
    take,
)

Happening = Callable[[Holdings], object]
ENTRIES = 6
_ENTRIES = st.lists(st.integers(0, ENTRIES - 1), min_size=1, max_size=3, unique=True)


@contextmanager
def on_the_disk() -> Iterator[DiskTablet]:
    folder = Path(tempfile.mkdtemp())
    tablet = DiskTablet(folder / "home", TRUST)
    yield tablet
    tablet.close()
    shutil.rmtree(folder)


@st.composite
def happenings(draw: st.DrawFn) -> list[Happening]:
    """Give what three tablets sealed, one of them under a key that was handed on, shuffled.

    Entries go by several of them; each says that it holds what was sealed before. Only the
    records keep their order.
    """
    one, other = Stranger(100), Stranger(101)
    between = Stranger(102, before=one)
    last = Stranger(103, before=between)
    sealed: list[tuple[Stranger, Sealed]] = []
    for number in range(draw(st.integers(1, 6))):
        who = draw(st.sampled_from([one, other, last]))
        said = [entry(it) for it in draw(_ENTRIES)]
        words = receipt(*(it[1] for _, it in sealed), number=900 + number) if sealed else entry(9)
        sealed.append((who, who.seals(*said, words)))
    acts = st.sampled_from(
        [
            enrolled(one.key),
            enrolled(other.key),
            enrolled(last.key),
            revoked(one.id, 1),
            revoked(other.id, 0),
            revoked(last.id, 1),
            states(entry(0)),
            states(entry(7)),
        ]
    )
    rows = records(*draw(st.lists(st.lists(acts, min_size=1, max_size=3), max_size=4)))
    found: list[Happening] = [
        *(_taking(who, made) for who, made in sealed),
        lambda it: it.keep_identity(between.identity),
        lambda it: it.begin_anew(),
        lambda it: it.seal(),
    ]
    marks = draw(st.permutations([*range(len(found)), *[-1] * len(rows)]))
    said_next = iter(rows)
    return [_record(next(said_next)) if mark < 0 else found[mark] for mark in marks]


def _taking(who: Stranger, made: Sealed) -> Happening:
    return lambda it: take(it, made, who.identity)


def _record(record: tuple[TrustName, bytes]) -> Happening:
    return lambda it: it.take_trust(*record)


@given(happened=happenings())
@settings(max_examples=25, deadline=None)
def test_what_counts_follows_from_what_is_held_and_never_from_the_order(
    happened: list[Happening],
) -> None:
    model = ListHoldings(7, TRUST)
    with on_the_disk() as tablet:
        for it in happened:
            before = tablet.store.ledger.state(), _shown(tablet)
            it(tablet)
            it(model)
            assert _shown(tablet) == {made.revision for made in model.entries}
            assert before[1] == _shown(tablet) or before[0] < tablet.store.ledger.state()
            assert tablet.acknowledged() == model.acknowledged()
            assert _held(tablet) == _held(model)
        tablet.store.check()


@given(happened=happenings())
@settings(max_examples=8, deadline=None)
def test_taken_in_twice_is_taken_in_once(happened: list[Happening]) -> None:
    with on_the_disk() as tablet:
        for it in happened:
            it(tablet)
        whole = _shown(tablet), _held(tablet), tablet.acknowledged(), tablet.store.ledger.state()
        for tablet_id, row in tablet.rows().items():
            for held in row:
                identity = tablet.identity(tablet_id)
                content = tablet.content(held.name)
                assert identity
                assert content
                segment = open_segment(held.name.file, content, public_key=identity.public_key)
                take(tablet, (segment, held.name), identity)
        again = _shown(tablet), _held(tablet), tablet.acknowledged(), tablet.store.ledger.state()

    assert again == whole


def _shown(tablet: DiskTablet) -> set[str]:
    return {it.revision for it in tablet.entries}


def _held(tablet: Holdings) -> set[object]:
    return {it for row in tablet.rows().values() for it in row}
