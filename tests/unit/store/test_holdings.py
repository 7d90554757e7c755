"""What holds of every kind of holdings: of the model, and of those on the disk."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from sync.holdings import Held, MetBad
from sync.names import SHORT_HASH
from sync.segment import FIRST_PREVIOUS, open_segment, tablet_id
from sync.tablet_identity import TabletIdentity
from sync.trust import BrokenTrust
from tests.made import entry
from tests.share.strangers import (
    TRUST,
    Stranger,
    enrolled,
    receipt,
    records,
    revoked,
    say,
    states,
    take,
)
from tests.share.tablets import KINDS, Tablet, tablets

ZEROS = FIRST_PREVIOUS[:SHORT_HASH]


@pytest.fixture(params=KINDS)
def tablet(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Tablet]:
    with tablets(request.param, tmp_path, TRUST) as made:
        yield made(7)


@pytest.fixture
def stranger() -> Stranger:
    return Stranger(100)


def own_id(tablet: Tablet) -> str:
    return tablet_id(tablet.tablet_key().public_key)


def test_a_new_tablet_holds_nothing(tablet: Tablet) -> None:
    tablet.seal()

    assert tablet.rows() == {}
    assert tablet.own_tablets() == (own_id(tablet),)
    assert tablet.trust() == TRUST
    assert not [*tablet.trust_records(), *tablet.acknowledged(), *tablet.published()]
    assert not tablet.bad_files()


def test_what_was_stated_here_stands_in_a_row_of_segments(tablet: Tablet) -> None:
    said = [tablet.state_something() for _ in range(201)]
    tablet.seal()
    (row,) = tablet.rows().values()
    contents = [tablet.content(held.name) or b"" for held in row]

    key = tablet.tablet_key().public_key
    opened = [
        open_segment(held.name.file, content, public_key=key)
        for held, content in zip(row, contents, strict=True)
    ]
    assert [line for it in opened for line in it.lines] == [it.line for it in said]
    assert [held.name.seq for held in row] == [1, 2]
    assert [held.before for held in row] == [None, row[0].name]
    assert [held.size for held in row] == list(map(len, contents))


def test_rows_grow_as_more_is_sealed_and_taken_in(tablet: Tablet, stranger: Stranger) -> None:
    first = take(tablet, stranger.seals(entry(1)), stranger.identity)
    tablet.state_something()
    tablet.seal()
    assert {it: len(row) for it, row in tablet.rows().items()} == {
        stranger.id: 1,
        own_id(tablet): 1,
    }
    tablet.state_something()
    tablet.seal()
    later = take(tablet, stranger.seals(entry(2)), stranger.identity)

    assert [it.name for it in tablet.rows()[stranger.id]] == [first, later]
    own = tablet.rows()[own_id(tablet)]
    assert [it.before for it in own] == [None, own[0].name]


def test_a_segment_is_held_as_it_came_and_once(tablet: Tablet, stranger: Stranger) -> None:
    segment, name = stranger.seals(entry(1))
    for _ in range(2):
        take(tablet, (segment, name), stranger.identity)

    assert tablet.rows() == {stranger.id: (Held(name, ZEROS, len(segment.content)),)}
    assert tablet.content(name) == segment.content
    assert tablet.identity(stranger.id) == stranger.identity


def test_what_is_not_held_has_no_bytes(tablet: Tablet, stranger: Stranger) -> None:
    _, name = stranger.seals(entry(1))

    assert tablet.content(name) is None
    assert tablet.identity(stranger.id) is None


def test_a_segment_with_a_hole_before_it_is_held(tablet: Tablet, stranger: Stranger) -> None:
    _, before = stranger.seals(entry(1))
    after = take(tablet, stranger.seals(entry(2)), stranger.identity)

    (held,) = tablet.rows()[stranger.id]
    assert (held.name, held.before) == (after, before)


def test_both_branches_of_a_fork_are_held(tablet: Tablet) -> None:
    one, other = Stranger(100), Stranger(100)
    for it, made in ((one, entry(1)), (other, entry(2))):
        take(tablet, it.seals(made), it.identity)

    assert [it.name.seq for it in tablet.rows()[one.id]] == [1, 1]


def test_what_a_stranger_sealed_counts_once_the_stranger_is_enrolled(
    tablet: Tablet, stranger: Stranger
) -> None:
    take(tablet, stranger.seals(entry(1)), stranger.identity)
    assert tablet.entries == []

    say(tablet, enrolled(stranger.key))
    take(tablet, stranger.seals(entry(2)), stranger.identity)

    assert tablet.entries == [entry(1), entry(2)]


def test_a_revoked_tablet_is_cut_at_a_place_in_its_row(tablet: Tablet, stranger: Stranger) -> None:
    say(tablet, enrolled(stranger.key))
    for number in range(1, 4):
        take(tablet, stranger.seals(entry(number)), stranger.identity)
    say(tablet, revoked(stranger.id, 2))
    take(tablet, stranger.seals(entry(4)), stranger.identity)

    assert tablet.entries == [entry(1), entry(2)]


def test_an_entry_counts_as_long_as_one_believed_segment_holds_it(tablet: Tablet) -> None:
    one, other = Stranger(100), Stranger(101)
    say(tablet, enrolled(one.key), enrolled(other.key))
    for it in (one, other):
        take(tablet, it.seals(entry(1)), it.identity)

    say(tablet, revoked(one.id, 0))
    assert tablet.entries == [entry(1)]
    say(tablet, revoked(other.id, 0))
    assert tablet.entries == []


def test_what_a_believed_tablet_passes_on_counts_though_a_stranger_came_first(
    tablet: Tablet, stranger: Stranger
) -> None:
    believed = Stranger(101)
    say(tablet, enrolled(believed.key))
    take(tablet, stranger.seals(entry(1)), stranger.identity)
    take(tablet, believed.seals(entry(1)), believed.identity)

    assert tablet.entries == [entry(1)]


def test_what_was_stated_here_counts_whoever_is_cut(tablet: Tablet, stranger: Stranger) -> None:
    said = tablet.state_something()
    say(tablet, enrolled(stranger.key))
    take(tablet, stranger.seals(said), stranger.identity)
    say(tablet, revoked(stranger.id, 0), revoked(own_id(tablet), 0))

    assert tablet.entries == [said]


def test_what_a_record_states_counts(tablet: Tablet, stranger: Stranger) -> None:
    take(tablet, stranger.seals(entry(1)), stranger.identity)
    say(tablet, states(entry(1)), states(entry(2)))
    say(tablet, enrolled(stranger.key), revoked(stranger.id, 0))

    assert sorted(tablet.entries, key=lambda it: it.line) == sorted(
        [entry(1), entry(2)], key=lambda it: it.line
    )


def test_a_record_that_does_not_follow_is_refused_whole(
    tablet: Tablet, stranger: Stranger
) -> None:
    take(tablet, stranger.seals(entry(1)), stranger.identity)
    first, second = records([states(entry(9))], [enrolled(stranger.key)])
    with pytest.raises(BrokenTrust):
        tablet.take_trust(*second)
    with pytest.raises(BrokenTrust):
        tablet.take_trust(first[0], second[1])

    assert (tablet.trust(), tablet.trust_records(), tablet.entries) == (TRUST, (), [])


def test_records_are_kept_from_the_first(tablet: Tablet, stranger: Stranger) -> None:
    wanted = records([states(entry(9))], [enrolled(stranger.key)])
    for it in wanted:
        tablet.take_trust(*it)

    assert list(tablet.trust_records()) == wanted
    assert tablet.trust().number == 2
    assert set(tablet.trust().tablets) == {stranger.id}


def test_a_key_handed_on_by_one_that_is_enrolled_counts(
    tablet: Tablet, stranger: Stranger
) -> None:
    between = Stranger(101, before=stranger)
    last = Stranger(102, before=between)
    say(tablet, enrolled(stranger.key))
    take(tablet, last.seals(entry(1)), last.identity)
    assert tablet.entries == []

    tablet.keep_identity(between.identity)

    assert tablet.entries == [entry(1)]


# --- acknowledgements -----------------------------------------------------------------------


def test_only_the_word_of_a_believed_tablet_other_than_its_own_counts(
    tablet: Tablet, stranger: Stranger
) -> None:
    _, wanted = Stranger(101).seals(entry(1))
    _, own = Stranger(100).seals(receipt(wanted), entry(3))
    take(tablet, stranger.seals(receipt(wanted, own), entry(3)), stranger.identity)
    assert tablet.acknowledged() == frozenset()

    say(tablet, enrolled(stranger.key))
    assert tablet.acknowledged() == {wanted}

    say(tablet, revoked(stranger.id, 0))
    assert tablet.acknowledged() == frozenset()


def test_a_segment_of_nothing_but_receipts_counts_as_acknowledged(
    tablet: Tablet, stranger: Stranger
) -> None:
    _, wanted = Stranger(101).seals(entry(1))
    name = take(tablet, stranger.acknowledges(wanted), stranger.identity)

    assert tablet.acknowledged() == {name}


def test_what_this_tablet_acknowledges_it_states_in_entries_of_its_own(
    tablet: Tablet, stranger: Stranger
) -> None:
    say(tablet, enrolled(tablet.tablet_key()))
    names = [stranger.seals(entry(number))[1] for number in range(450)]
    tablet.acknowledge(names)
    tablet.seal()

    stated = [it for it in tablet.entries if it.kind == "receipt"]
    (held,) = tablet.rows()[own_id(tablet)]
    assert tablet.acknowledged() == {*names, held.name}
    assert [len(list(it.body["holds"])) for it in stated] == [200, 200, 50]  # type: ignore[arg-type]


def test_an_own_segment_with_anything_else_in_it_waits_for_somebody(tablet: Tablet) -> None:
    tablet.state_something()
    tablet.seal()

    assert tablet.acknowledged() == frozenset()


# --- the share ------------------------------------------------------------------------------


def test_when_segments_were_put_is_kept_until_they_have_to_be_put_again(tablet: Tablet) -> None:
    names = [Stranger(it).seals(entry(it))[1] for it in (1, 2, 3)]
    tablet.set_published(names, 10.5)
    tablet.set_published(names[:1], 20)
    tablet.set_published(names[1:2], None)

    assert tablet.published() == {names[0]: 20, names[2]: 10.5}


def test_a_bad_file_is_remembered_since_it_was_first_seen_until_it_is_good(tablet: Tablet) -> None:
    tablet.note_bad(["a"], "torn", 5)
    tablet.note_bad(["a"], "empty", 9)
    tablet.note_bad(["b"], "torn", 7)
    tablet.note_good("b")
    tablet.note_good("never bad")

    assert tablet.bad_files() == {"a": MetBad("a", "empty", 2, 5)}


# --- a new key ------------------------------------------------------------------------------


def test_a_tablet_that_begins_anew_keeps_its_row_and_starts_another(tablet: Tablet) -> None:
    before = tablet.tablet_key()
    said = [tablet.state_something() for _ in range(201)]
    tablet.seal()
    old = tablet.rows()[own_id(tablet)]
    contents = [tablet.content(it.name) for it in old]
    waiting = tablet.state_something()

    tablet.begin_anew()
    tablet.seal()

    assert tablet.own_tablets() == (tablet_id(before.public_key), own_id(tablet))
    assert tablet.rows()[tablet_id(before.public_key)] == old
    assert [tablet.content(it.name) for it in old] == contents
    (new,) = tablet.rows()[own_id(tablet)]
    opened = open_segment(
        new.name.file,
        tablet.content(new.name) or b"",
        public_key=tablet.tablet_key().public_key,
    )
    assert (new.name.seq, new.before, opened.lines) == (1, None, (waiting.line,))
    assert set(tablet.entries) == {*said, waiting}


def test_the_new_key_is_handed_on_by_the_old_one(tablet: Tablet) -> None:
    old = own_id(tablet)
    tablet.begin_anew()
    tablet.begin_anew()
    first, second, third = tablet.own_tablets()
    certificates = [tablet.identity(it) for it in (first, second, third)]

    assert first == old
    assert all(it and it.is_genuine() for it in certificates)
    assert [it.predecessor_id for it in certificates if it] == [None, first, second]


def test_what_another_of_us_sealed_counts_though_nobody_is_enrolled(tablet: Tablet) -> None:
    tablet.state_something()
    clone = tablet.copied()
    theirs = clone.state_something()
    clone.seal()
    (held,) = clone.rows()[own_id(clone)]
    certificate = TabletIdentity.of_key(clone.tablet_key())
    content = clone.content(held.name) or b""
    segment = open_segment(held.name.file, content, public_key=clone.tablet_key().public_key)

    tablet.keep_identity(certificate)
    tablet.take_in(segment, held.name)
    assert theirs in tablet.entries
    tablet.begin_anew()
    tablet.seal()

    assert theirs in tablet.entries
    assert len(tablet.rows()[own_id(clone)]) == 1
