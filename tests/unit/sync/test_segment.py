import gzip
import json
from collections.abc import Callable

import pytest

from schemas.canonical import JsonValue, canonical_bytes, revision_of
from schemas.signatures import SigningKey
from sync.segment import (
    FIRST_PREVIOUS,
    BrokenSegment,
    Header,
    Segment,
    check_chain,
    how_many_fit,
    open_segment,
    seal,
    segment_name,
    tablet_id,
)
from tests.made import TABLET_KEY, entry

PUBLIC = TABLET_KEY.public_key
LINES = tuple(entry(number).line for number in range(3))
SEALED = seal(LINES, key=TABLET_KEY, seq=7, prev="a" * 64)


def resealed(packed: bytes, **header: JsonValue) -> tuple[str, bytes]:
    """Seal other bytes under an honest signature, as a tablet gone wrong might."""
    fields = {**SEALED.header.model_dump(), **header}
    signed = Header.model_validate(fields).signed(TABLET_KEY)
    content = canonical_bytes(signed.model_dump(mode="json")) + b"\n" + packed
    return segment_name(signed.seq, content), content


def test_what_was_sealed_opens_to_the_same_lines() -> None:
    opened = open_segment(SEALED.name, SEALED.content, public_key=PUBLIC)

    assert opened == SEALED
    assert opened.lines == LINES
    assert opened.entries == tuple(entry(number) for number in range(3))


def test_the_name_carries_the_number_and_the_hash_of_the_bytes() -> None:
    assert SEALED.name == f"00000007-{SEALED.sha256[:16]}.seg"


def test_sealing_again_gives_the_same_bytes() -> None:
    assert seal(LINES, key=TABLET_KEY, seq=7, prev="a" * 64) == SEALED


def test_a_tablet_is_called_by_eighty_bits_of_its_public_key() -> None:
    assert len(tablet_id(PUBLIC)) == 16
    assert tablet_id(PUBLIC) == SEALED.header.tablet


def test_every_flipped_bit_is_noticed() -> None:
    for place in range(0, len(SEALED.content), 7):
        torn = bytearray(SEALED.content)
        torn[place] ^= 1

        with pytest.raises(BrokenSegment):
            open_segment(SEALED.name, bytes(torn), public_key=PUBLIC)
        with pytest.raises(BrokenSegment):  # the name made to fit as well
            open_segment(segment_name(7, bytes(torn)), bytes(torn), public_key=PUBLIC)


@pytest.mark.parametrize("kept", [0, 1, 100, 400, len(SEALED.content) - 1])
def test_a_torn_segment_is_noticed(kept: int) -> None:
    torn = SEALED.content[:kept]

    with pytest.raises(BrokenSegment):
        open_segment(segment_name(7, torn), torn, public_key=PUBLIC)


def test_another_tablets_key_does_not_open_it() -> None:
    stranger = SigningKey(b"x" * 32).public_key

    with pytest.raises(BrokenSegment) as caught:
        open_segment(SEALED.name, SEALED.content, public_key=stranger)

    assert "another key" in caught.value.reason


def test_few_bytes_that_unpack_to_many_are_stopped_at_what_the_header_says() -> None:
    bomb = gzip.compress(bytes(50_000_000), mtime=0)
    name, content = resealed(bomb, raw=1000, sha=revision_of(bomb))

    with pytest.raises(BrokenSegment) as caught:
        open_segment(name, content, public_key=PUBLIC)

    assert "unpack to 1000 bytes" in caught.value.reason


@pytest.mark.parametrize(
    ("header", "reason"),
    [
        ({"n": 2}, "holds 3 entries, not 2"),
        ({"raw": 10}, "unpack to 10 bytes"),
    ],
)
def test_a_header_that_does_not_fit_its_entries_is_named(
    header: dict[str, JsonValue], reason: str
) -> None:
    name, content = resealed(SEALED.content.partition(b"\n")[2], **header)

    with pytest.raises(BrokenSegment) as caught:
        open_segment(name, content, public_key=PUBLIC)

    assert reason in caught.value.reason


@pytest.mark.parametrize(
    "change",
    [
        {"seq": 0},
        {"seq": "7"},
        {"raw": 5 * 1024 * 1024},
        {"lastrow": 2},
        {"tablet": "../../etc/passwd"},
        {"more": 1},
    ],
)
def test_a_header_that_says_nonsense_is_refused(change: dict[str, JsonValue]) -> None:
    head, _, packed = SEALED.content.partition(b"\n")
    content = canonical_bytes({**json.loads(head), **change}) + b"\n" + packed

    with pytest.raises(BrokenSegment) as caught:
        open_segment(segment_name(7, content), content, public_key=PUBLIC)

    assert next(iter(change)) in caught.value.reason


@pytest.mark.parametrize(
    "packed", [b"", b"no gzip", gzip.compress(b"\n".join(LINES)) + b"more", b"\x1f\x8b"]
)
def test_what_is_no_gzip_or_more_than_one_is_refused(packed: bytes) -> None:
    name, content = resealed(packed, sha=revision_of(packed))

    with pytest.raises(BrokenSegment):
        open_segment(name, content, public_key=PUBLIC)


def test_a_line_that_is_no_entry_is_named() -> None:
    sealed = seal((LINES[0], b'{"kind":1}'), key=TABLET_KEY, seq=1, prev=FIRST_PREVIOUS)

    with pytest.raises(BrokenSegment) as caught:
        _ = sealed.entries

    assert "entry 2: at $.kind" in caught.value.reason


def row_of(count: int) -> list[Segment]:
    made: list[Segment] = []
    for seq in range(1, count + 1):
        prev = made[-1].sha256 if made else FIRST_PREVIOUS
        made.append(seal((entry(seq).line,), key=TABLET_KEY, seq=seq, prev=prev))
    return made


def test_a_whole_row_of_segments_follows() -> None:
    check_chain(row_of(4))
    check_chain([])


@pytest.mark.parametrize(
    ("spoil", "place"),
    [
        (lambda row: row[1:], 0),
        (lambda row: [row[0], *row[2:]], 1),
        (lambda row: [row[1], row[0], *row[2:]], 0),
        (lambda row: [row[0], seal(LINES, key=TABLET_KEY, seq=2, prev="b" * 64), *row[2:]], 1),
    ],
    ids=["first gone", "second gone", "swapped", "second retold"],
)
def test_a_row_with_a_hole_or_another_segment_in_it_is_named(
    spoil: Callable[[list[Segment]], list[Segment]], place: int
) -> None:
    spoiled = spoil(row_of(4))

    with pytest.raises(BrokenSegment) as caught:
        check_chain(spoiled)

    assert caught.value.segment == spoiled[place].name


def test_a_segment_ends_at_200_entries_or_256_kib() -> None:
    assert how_many_fit([100] * 1000) == 200
    assert how_many_fit([100] * 5) == 5
    assert how_many_fit([60_000] * 10) == 4  # 5 × 60,001 > 262,144
    assert how_many_fit([3_000_000, 1]) == 1


def test_an_empty_segment_is_a_bug() -> None:
    with pytest.raises(ValueError, match="make no segment"):
        seal((), key=TABLET_KEY, seq=1, prev=FIRST_PREVIOUS)
