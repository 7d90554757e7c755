"""Who reports a bad file of the share, who mends it, and what a report can't do."""

from collections.abc import Sequence
from pathlib import Path

import pytest

from schemas.bodies.bad_file import BadFile
from schemas.entry import Entry
from sync.local_folder import LocalFolder
from sync.mending import LOOKED_AT_ONCE, MOST_REPORTED
from sync.names import SegmentName, short_hash
from sync.pulling import ARRIVING_S, MISSED_S
from sync.pushing import AUDITED_AFTER_S
from sync.reports import named
from sync.trust import Act
from tests.faults.share_at_hand import AtHand, sealed_by, share_at_hand
from tests.made import STARTED_AT
from tests.share.holdings import ListHoldings
from tests.share.mine import ROOT, TRUST
from tests.share.strangers import enrolled, revoked

OFTEN = (0.0, 300.0, 600.0, ARRIVING_S + 1)
"""When a tablet reads a bad file until it is none that is arriving."""
LATER = 5000.0
LONG = (0.0, 3600.0, 7200.0, MISSED_S - 1.0, MISSED_S + 1.0)
"""When a tablet looks for a missing file until none is on its way any more."""


@pytest.fixture
def at(tmp_path: Path) -> AtHand:
    """A share with a segment that both tablets hold; a third one is new."""
    return share_at_hand(tmp_path)


def say(at: AtHand, *acts: Act) -> None:
    """Let the site say something, in the folder."""
    at.met(at.one)
    name, content = at.one.trust().next_record(acts, ROOT)
    LocalFolder(at.place).put(name.path, content)


def newcomer(at: AtHand) -> ListHoldings:
    third = ListHoldings(3, TRUST)
    say(at, enrolled(third.tablet_key()))
    return third


def held_by_both(at: AtHand, count: int = 1) -> list[SegmentName]:
    """Have the first tablet seal so many segments, which the other holds and says so."""
    for _ in range(count):
        at.one.state_something()
        at.one.seal()
    for tablet in (at.one, at.other, at.one):
        at.met(tablet)
    return sealed_by(at.one)[:count]


def spoil(at: AtHand, name: SegmentName) -> None:
    at.file(name.path).write_bytes(bytes(len(at.file(name.path).read_bytes())))


def said(tablet: ListHoldings) -> list[Entry]:
    """Give what a tablet has heard, and said, of bad files."""
    return [entry for _, entry in tablet.said_bad()]


def read_often(at: AtHand, tablet: ListHoldings) -> None:
    for now_s in OFTEN:
        at.met(tablet, now_s)


def test_where_the_owner_is_lost_any_holder_mends_what_is_reported(at: AtHand) -> None:
    reader = newcomer(at)
    (name,) = held_by_both(at)
    spoil(at, name)
    read_often(at, reader)

    assert at.met(at.other, LATER).repaired == [name.path]
    at.met(reader, LATER)

    assert name in {it.name for it in reader.rows()[name.tablet]}
    assert not reader.bad_files()


def test_a_bad_file_is_reported_once_and_once_that_it_is_read(at: AtHand) -> None:
    reader = newcomer(at)
    (name,) = held_by_both(at)
    spoil(at, name)
    read_often(at, reader)
    for more in range(4):
        at.met(reader, LATER + more)
    assert len(said(reader)) == 1
    for now_s in (LATER, LATER + 100):
        for tablet in (at.one, reader):
            at.met(tablet, now_s)

    assert [it.body.get("good_again", False) for it in said(at.one)] == [False, True]


def miss_often(at: AtHand, tablet: ListHoldings) -> None:
    for now_s in LONG:
        at.met(tablet, now_s)


def test_a_file_that_is_missing_for_a_day_is_told_of_once_and_any_holder_puts_it_back(
    at: AtHand,
) -> None:
    """Its owner was told that it was delivered, and looks no more."""
    reader = newcomer(at)
    (name,) = held_by_both(at)
    at.file(name.path).unlink()
    for now_s in LONG[:-1]:
        at.met(reader, now_s)
    assert not said(reader), "a cloud's client may bring it later than what leads to it"

    at.met(reader, LONG[-1])
    at.met(reader, LONG[-1] + 1)
    assert len(said(reader)) == 1
    assert at.met(at.other, LONG[-1] + 100).repaired == [name.path]
    at.met(reader, LONG[-1] + 200)

    assert name in {it.name for it in reader.rows()[name.tablet]}
    assert not reader.bad_files()


def test_a_missing_segment_with_nothing_but_receipts_is_put_back_by_its_owner(
    at: AtHand,
) -> None:
    """Nobody says that they hold it, or that would never end: it is looked for by its readers."""
    held_by_both(at)
    reader = newcomer(at)
    words = sealed_by(at.other)[-1]
    at.file(words.path).unlink()
    miss_often(at, reader)

    assert at.met(at.other, LONG[-1] + 100).repaired == [words.path]


def test_a_missed_file_that_comes_torn_may_be_still_arriving(at: AtHand) -> None:
    reader = newcomer(at)
    (name,) = held_by_both(at)
    whole = at.file(name.path).read_bytes()
    at.file(name.path).unlink()
    for now_s in LONG[:-1]:
        at.met(reader, now_s)
    at.file(name.path).write_bytes(whole[:100])

    at.met(reader, LONG[-1])

    assert not said(reader)
    assert reader.bad_files()[name.path].tries == 1


def test_what_a_lying_head_names_is_missed_by_nobody(at: AtHand) -> None:
    reader = newcomer(at)
    (name,) = held_by_both(at)
    made_up = SegmentName(name.tablet, 90, short_hash(b"never sealed"))
    head = f"heads/mine/{name.tablet}.00000090.{made_up.hash16}.head"
    LocalFolder(at.place).put(head, b"{}")
    miss_often(at, reader)

    assert made_up.path in reader.bad_files()
    assert not said(reader)


def test_a_file_that_is_put_again_and_lost_again_is_put_once_more(at: AtHand) -> None:
    reader = newcomer(at)
    (name,) = held_by_both(at)
    spoil(at, name)
    read_often(at, reader)
    at.met(at.other, LATER)
    spoil(at, name)

    assert not at.met(at.other, LATER + AUDITED_AFTER_S - 1).repaired, "from its own memory"
    assert at.met(at.other, LATER + AUDITED_AFTER_S).repaired == [name.path]


def test_a_file_of_which_no_tablet_signed_anything_is_refused_and_not_reported(
    at: AtHand,
) -> None:
    reader = newcomer(at)
    (name,) = held_by_both(at)
    made_up = SegmentName(name.tablet, 90, short_hash(b"never sealed"))
    LocalFolder(at.place).put(made_up.path, b"junk")
    head = f"heads/mine/{name.tablet}.00000090.{made_up.hash16}.head"
    LocalFolder(at.place).put(head, b"{}")
    read_often(at, reader)

    assert made_up.path in at.met(reader, LATER, deep=True).refused
    assert not said(reader)


def test_what_a_tablet_sealed_after_its_cut_is_not_reported(at: AtHand) -> None:
    reader = newcomer(at)
    held_by_both(at)
    say(at, revoked(at.one.own_tablets()[0], 1))
    at.one.state_something()
    at.met(at.one)
    spoil(at, sealed_by(at.one)[-1])
    read_often(at, reader)

    assert sealed_by(at.one)[-1].path in reader.bad_files()
    assert not said(reader)


def test_a_stranger_reports_nothing_and_its_reports_move_nobody(at: AtHand) -> None:
    stranger = ListHoldings(4, TRUST)
    (name,) = held_by_both(at)
    spoil(at, name)
    read_often(at, stranger)
    assert not said(stranger)

    lie(stranger, name)
    at.met(stranger, LATER)
    at.met(at.other, LATER)

    assert not said(at.other)
    assert not at.other.looks()


class Liar(ListHoldings):
    """Never takes back what it reported, though it could read the file at any time."""

    def said_bad(self) -> Sequence[tuple[str, Entry]]:
        return ()


def liar(at: AtHand) -> ListHoldings:
    made = Liar(6, TRUST)
    say(at, enrolled(made.tablet_key()))
    return made


def lie(tablet: ListHoldings, *names: SegmentName) -> None:
    """State that files are bad, whatever they are."""
    bodies = ({**named(it), "since": STARTED_AT, "tries": 9} for it in names)
    tablet.say_bad([BadFile.model_validate(body) for body in bodies], ())


def test_a_lie_about_many_files_is_looked_into_a_few_at_a_time(at: AtHand) -> None:
    reporter = liar(at)
    lie(reporter, *held_by_both(at, LOOKED_AT_ONCE + 5))
    at.met(reporter, LATER)

    at.met(at.one, LATER)
    assert len(at.one.looks()) == LOOKED_AT_ONCE

    at.met(at.one, LATER)
    assert len(at.one.looks()) == LOOKED_AT_ONCE + 5
    assert len(said(at.one)) == LOOKED_AT_ONCE + 5, "whoever looks says nothing"


def test_who_lied_before_the_file_was_bad_keeps_nobody_from_hearing_of_it(at: AtHand) -> None:
    reader, reporter = newcomer(at), liar(at)
    (name,) = held_by_both(at)
    lie(reporter, name)
    at.met(reporter, LATER)
    at.met(at.one, LATER)
    assert at.one.looks()
    spoil(at, name)
    read_often(at, reader)

    assert at.met(at.one, LATER).repaired == [name.path]


def test_only_who_reported_a_file_can_say_that_it_reads_it_again(at: AtHand) -> None:
    reader = newcomer(at)
    (name,) = held_by_both(at)
    spoil(at, name)
    read_often(at, reader)
    at.met(at.other, LATER)
    at.other.say_bad((), said(at.other))
    at.met(at.other, LATER)
    spoil(at, name)

    assert at.met(at.one, LATER).repaired == [name.path]


def test_a_reporter_that_took_a_new_key_says_by_it_that_it_reads_the_file(at: AtHand) -> None:
    reader = newcomer(at)
    (name,) = held_by_both(at)
    spoil(at, name)
    read_often(at, reader)
    reader.begin_anew()
    at.met(at.other, LATER)
    at.met(reader, LATER)
    spoil(at, name)

    assert not at.met(at.one, LATER).repaired, "its report has ended"
    assert len(said(at.one)) == 2


def test_a_share_full_of_bad_files_is_told_of_in_a_few_entries(at: AtHand) -> None:
    reader = newcomer(at)
    for name in held_by_both(at, MOST_REPORTED + 10):
        at.file(name.path).write_bytes(b"")
    read_often(at, reader)
    at.met(reader, LATER)

    assert len(said(reader)) == MOST_REPORTED


def test_once_two_others_report_a_file_nobody_else_does(at: AtHand) -> None:
    readers = [ListHoldings(number, TRUST) for number in (3, 4, 5)]
    say(at, *(enrolled(it.tablet_key()) for it in readers))
    (name,) = held_by_both(at)
    spoil(at, name)
    for reader in readers:
        read_often(at, reader)

    assert len(said(readers[2])) == 2


def test_an_answer_that_is_no_proof_ends_no_report(at: AtHand) -> None:
    """A file that can't be read now is looked at again the next time."""
    from sync.folder import NotYet
    from tests.faults.share_at_hand import Watched

    class Held(Watched):
        def read(self, path: str, *, at_most: int) -> bytes:
            if path == name.path:
                raise NotYet(path)
            return super().read(path, at_most=at_most)

    reader = newcomer(at)
    (name,) = held_by_both(at)
    spoil(at, name)
    read_often(at, reader)
    assert not at.met(at.other, LATER, folder=Held(LocalFolder(at.place))).repaired

    assert at.met(at.other, LATER).repaired == [name.path]
