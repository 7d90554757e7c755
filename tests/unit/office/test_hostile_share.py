"""Whatever lies in a share, the good in it is taken in, and the bad is named and set aside."""

import gzip
import hashlib
import json
from collections.abc import Callable
from pathlib import Path

import pytest

from fieldapp.store.office import open_office
from schemas.canonical import canonical_bytes
from sync.collate import AnotherMine
from sync.names import SegmentName, identity
from sync.segment import FIRST_PREVIOUS, Header, seal, segment_name
from sync.share_identity import NoShareHere
from tests.made import entry
from tests.office import Share, ask, column, everything, fill
from tests.share.strangers import Stranger, enrolled

BAD = "SELECT path, reason FROM bad_files ORDER BY path"
Harm = Callable[[Share, Stranger], None]
DEEP = b'{"a":' * 100_000 + b"1" + b"}" * 100_000


def put(share: Share, tablet: Stranger, content: bytes, seq: int = 2) -> None:
    """Lay bytes where a tablet's next segment would lie, under the name that fits them."""
    name = SegmentName.of_file(tablet.id, segment_name(seq, content))
    assert name is not None
    share.folder.put(name.path, content)


def packed(
    tablet: Stranger, body: bytes, *, raw: int | None = None, key: Stranger | None = None
) -> bytes:
    """Seal any bytes as a segment, by the tablet's key or another's."""
    squeezed = gzip.compress(body, mtime=0)
    header = Header(
        tablet=tablet.id,
        seq=2,
        prev="1" * 64,
        n=body.count(b"\n") + 1,
        raw=len(body) if raw is None else raw,
        sha=hashlib.sha256(squeezed).hexdigest(),
        sig="",
    ).signed((key or tablet).key)
    return canonical_bytes(header.model_dump(mode="json")) + b"\n" + squeezed


def torn(share: Share, tablet: Stranger) -> None:
    file = share.seal(tablet, entry(2))
    file.write_bytes(file.read_bytes()[:50])


def zeros(share: Share, tablet: Stranger) -> None:
    file = share.seal(tablet, entry(2))
    file.write_bytes(bytes(file.stat().st_size))


def emptied(share: Share, tablet: Stranger) -> None:
    share.seal(tablet, entry(2)).write_bytes(b"")


def flipped(share: Share, tablet: Stranger) -> None:
    file = share.seal(tablet, entry(2))
    content = bytearray(file.read_bytes())
    content[-20] ^= 1
    file.write_bytes(content)


def forged(share: Share, tablet: Stranger) -> None:
    put(share, tablet, packed(tablet, entry(2).line, key=Stranger(66)))


def bomb(share: Share, tablet: Stranger) -> None:
    put(share, tablet, packed(tablet, bytes(50_000_000), raw=1000))


def too_deep(share: Share, tablet: Stranger) -> None:
    put(share, tablet, packed(tablet, DEEP))


def no_entries(share: Share, tablet: Stranger) -> None:
    put(share, tablet, packed(tablet, entry(2).line + b"\n" + b'{"kind":"round"}'))


def a_header_that_leads_elsewhere(share: Share, tablet: Stranger) -> None:
    head = {**json.loads(packed(tablet, b"{}").partition(b"\n")[0]), "tablet": "../../etc/passwd"}
    put(share, tablet, canonical_bytes(head) + b"\n" + gzip.compress(b"{}"))


def of_another_tablet(share: Share, tablet: Stranger) -> None:
    """Replayed under another tablet's name."""
    put(share, tablet, seal([entry(2).line], key=Stranger(66).key, seq=2, prev="1" * 64).content)


HARM = (
    torn,
    zeros,
    emptied,
    flipped,
    forged,
    bomb,
    too_deep,
    no_entries,
    a_header_that_leads_elsewhere,
    of_another_tablet,
)


@pytest.fixture
def tablet(share: Share) -> Stranger:
    tablet = Stranger(1)
    share.enrol(tablet)
    return tablet


@pytest.mark.parametrize("harm", HARM, ids=lambda harm: harm.__name__)
def test_a_bad_segment_is_set_aside_and_named_and_the_others_are_taken_in(
    address: str, share: Share, tablet: Stranger, harm: Harm
) -> None:
    share.seal(tablet, entry(1))
    harm(share, tablet)
    other = Stranger(2)
    share.enrol(other)
    share.seal(other, entry(3))

    outcome = fill(address, share.place).collated.outcome

    (bad,) = ask(address, BAD).rows
    assert bad[0].startswith(f"tablets/{tablet.id}/")
    assert bad[0] in outcome.waiting or outcome.refused[bad[0]] == bad[1]
    assert len(column(address, "SELECT revision FROM entries")) == 2


def test_a_file_that_was_bad_and_is_mended_is_taken_in_and_named_no_more(
    address: str, share: Share, tablet: Stranger
) -> None:
    file = share.seal(tablet, entry(1))
    whole = file.read_bytes()
    file.write_bytes(whole[:-1])
    fill(address, share.place)
    assert column(address, BAD)

    file.write_bytes(whole)
    fill(address, share.place)

    assert not column(address, BAD)
    assert len(column(address, "SELECT revision FROM entries")) == 1


def test_a_bad_file_that_stays_bad_is_refused_by_name(
    address: str, share: Share, tablet: Stranger
) -> None:
    share.seal(tablet, entry(1))
    forged(share, tablet)
    (path,) = fill(address, share.place).collated.outcome.refused

    assert "signature is not the tablet's" in dict(ask(address, BAD).rows)[path]


def test_a_record_of_trust_that_no_root_key_signed_makes_nobody_believed(
    address: str, share: Share
) -> None:
    stranger = Stranger(1)
    name, content = share.trust.next_record([enrolled(stranger.key)], stranger.key)
    share.folder.put(name.path, content)
    share.seal(stranger, entry(1))

    outcome = fill(address, share.place).collated.outcome

    assert outcome.refused == {name.path: "no root key of the site signed it"}
    assert outcome.unverified == {stranger.id}


def test_a_share_set_back_unbelieves_nobody_and_is_told(
    address: str, share: Share, tablet: Stranger
) -> None:
    share.seal(tablet, entry(1))
    fill(address, share.place)
    for record in share.file("trust").iterdir():
        record.unlink()

    outcome = fill(address, share.place).collated.outcome

    assert outcome.trust_set_back
    assert column(address, "SELECT verified FROM entries") == [True]
    assert not list(share.file("trust").iterdir()), "a share is only read"


def test_what_is_no_tablets_certificate_makes_its_segments_wait(
    address: str, share: Share, tablet: Stranger
) -> None:
    share.seal(tablet, entry(1))
    share.file(identity(tablet.id)).write_bytes(b'{"tablet":"somebody"}')

    outcome = fill(address, share.place).collated.outcome

    assert len(set(outcome.waiting)) == 1
    assert not column(address, "SELECT revision FROM entries")


def test_files_of_others_are_left_alone(address: str, share: Share, tablet: Stranger) -> None:
    file = share.seal(tablet, entry(1))
    for name in ("desktop.ini", ".DS_Store", "~$x", "00000009-xyz.seg", "t-0123456789abcdef.tmp"):
        (file.parent / name).write_bytes(b"?")
    (share.file("tablets") / "..evil").mkdir()
    (share.file("tablets") / ("a" * 16)).write_bytes(b"a file, not a folder")

    outcome = fill(address, share.place).collated.outcome

    assert not outcome.refused
    assert len(outcome.received) == 1


def test_a_conflicted_copy_is_taken_in_where_its_bytes_are_right(
    address: str, share: Share, tablet: Stranger
) -> None:
    file = share.seal(tablet, entry(1))
    file.rename(file.with_name(f"{file.stem} (conflicted copy).seg"))

    fill(address, share.place)

    assert len(column(address, "SELECT revision FROM entries")) == 1


def test_two_rows_under_one_key_are_both_kept_and_told(
    address: str, share: Share, tablet: Stranger
) -> None:
    share.seal(tablet, entry(1))
    clone = seal([entry(2).line], key=tablet.key, seq=1, prev=FIRST_PREVIOUS)
    put(share, tablet, clone.content, seq=1)

    outcome = fill(address, share.place).collated.outcome

    assert outcome.forks == [tablet.id]
    assert len(column(address, "SELECT revision FROM entries")) == 2
    assert column(address, "SELECT two_rows FROM tablets") == [True]


def test_a_hole_in_a_row_is_counted_until_it_is_filled(
    address: str, share: Share, tablet: Stranger
) -> None:
    files = [share.seal(tablet, entry(number)) for number in range(3)]
    middle = files[1].read_bytes()
    files[1].unlink()
    fill(address, share.place)
    assert column(address, "SELECT missing_segments FROM tablets") == [1]

    files[1].write_bytes(middle)
    fill(address, share.place)

    assert column(address, "SELECT missing_segments FROM tablets") == [0]


@pytest.mark.parametrize(
    "content",
    [b"", b"{", b"[]", b'{"store":1}', b"\xff\xfe", DEEP],
)
def test_a_folder_that_is_no_share_leaves_the_database_as_it_was(
    address: str, share: Share, tablet: Stranger, content: bytes
) -> None:
    share.seal(tablet, entry(1))
    fill(address, share.place)
    before = everything(address)
    share.file("store.json").write_bytes(content)

    with pytest.raises(NoShareHere):
        fill(address, share.place)

    assert everything(address) == before


def test_a_share_made_anew_by_somebody_else_is_refused(
    address: str, share: Share, tmp_path: Path
) -> None:
    """The same id under another key: whoever does that can read the id off the share."""
    fill(address, share.place)
    forger = Share(tmp_path / "forged", Stranger(5).key)
    assert forger.trust.store == share.trust.store

    with pytest.raises(AnotherMine):
        fill(address, forger.place)


def test_nothing_is_written_into_the_share(address: str, share: Share, tablet: Stranger) -> None:
    share.seal(tablet, entry(1))
    torn(share, tablet)
    before = {it: it.read_bytes() for it in share.place.rglob("*") if it.is_file()}

    fill(address, share.place)

    assert {it: it.read_bytes() for it in share.place.rglob("*") if it.is_file()} == before


def test_the_ledger_of_a_hostile_share_can_be_read_again(
    address: str, share: Share, tablet: Stranger
) -> None:
    share.seal(tablet, entry(1))
    for number, harm in enumerate(HARM):
        stranger = Stranger(10 + number)
        share.enrol(stranger)
        harm(share, stranger)

    fill(address, share.place)

    with open_office(address) as office:
        assert len(list(office.ledger.all())) == len(column(address, "SELECT * FROM entries"))
