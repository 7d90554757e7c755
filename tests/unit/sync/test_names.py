"""Names in the share: ours are read back as they were written, everybody else's are left alone."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sync.names import (
    IN_ONE_BUCKET,
    LONGEST,
    ROOT,
    HeadName,
    PhotoName,
    SegmentName,
    TrustName,
    identity,
    is_bucket,
    is_tablet,
    is_temporary,
)

RESERVED = {
    "con",
    "prn",
    "aux",
    "nul",
    *(f"{port}{n}" for port in ("com", "lpt") for n in range(10)),
}
tablets = st.text("abcdefghijklmnopqrstuvwxyz234567", min_size=16, max_size=16)
seqs = st.integers(1, 99_999_999)
hashes = st.text("0123456789abcdef", min_size=16, max_size=16)
segments = st.builds(SegmentName, tablets, seqs, hashes)
heads = st.builds(HeadName, tablets, seqs, hashes)
records = st.builds(TrustName, st.integers(1, 999_999), hashes)
photos = st.builds(
    PhotoName,
    st.from_regex("20[0-9]{2}(0[1-9]|1[0-2])", fullmatch=True),
    st.text("0123456789abcdef", min_size=64, max_size=64),
    st.sampled_from(("jpg", "png", "webp")),
)


def file_of(path: str) -> str:
    return path.rpartition("/")[2]


@given(segments, heads, records, photos)
def test_a_name_is_read_back_as_it_was_written(
    segment: SegmentName, head: HeadName, record: TrustName, photo: PhotoName
) -> None:
    assert SegmentName.of_file(segment.tablet, file_of(segment.path)) == segment
    assert HeadName.of_file(file_of(head.path)) == head
    assert TrustName.of_file(file_of(record.path)) == record
    assert PhotoName.of_file(photo.month, file_of(photo.path)) == photo


@given(segments, heads, records, photos)
def test_no_system_folds_reserves_or_cuts_a_name(
    segment: SegmentName, head: HeadName, record: TrustName, photo: PhotoName
) -> None:
    """Published: Microsoft, "Naming Files, Paths, and Namespaces" (reserved names)."""
    for path in (segment.path, head.path, record.path, photo.path, identity(segment.tablet)):
        assert len(f"{ROOT}/{path}") <= LONGEST
        for part in path.split("/"):
            assert re.fullmatch(r"[a-z0-9._-]+", part)
            assert part.partition(".")[0] not in RESERVED
            assert not part.endswith((".", " "))


@given(segments)
def test_no_folder_holds_more_than_a_thousand_segments(segment: SegmentName) -> None:
    same = SegmentName(segment.tablet, segment.seq - segment.seq % IN_ONE_BUCKET, "0" * 16)

    assert same.path.rpartition("/")[0] == segment.path.rpartition("/")[0]


@given(st.text(max_size=60))
def test_whatever_else_lies_there_is_nobody_s_of_ours(name: str) -> None:
    for found in (HeadName.of_file(name), TrustName.of_file(name)):
        assert found is None or file_of(found.path) == name


@pytest.mark.parametrize(
    "name",
    [
        "desktop.ini",
        "Thumbs.db",
        ".DS_Store",
        "._00000001-0123456789abcdef.seg",
        "00000001-0123456789abcdef (1).seg",
        "00000001-0123456789abcdef (conflicted copy).seg",
        "00000001-0123456789ABCDEF.seg",
        "00000001-0123456789abcdef.seg\n",
        "../../etc/passwd",
        "t-0123456789abcdef.tmp",
    ],
)
def test_what_clients_and_systems_leave_behind_is_left_alone(name: str) -> None:
    assert SegmentName.of_file("a" * 16, name) is None
    assert HeadName.of_file(name) is None
    assert not is_tablet(name)
    assert not is_bucket(name)
    assert is_temporary(name) == name.endswith(".tmp")
