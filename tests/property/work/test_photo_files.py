"""Whatever bytes a file holds, reading what its camera tells comes to an end and to an answer."""

from hypothesis import given
from hypothesis import strategies as st

from fieldapp.work.photo.exif import Told, kept_of, told_in
from fieldapp.work.photo.picture_parts import JPEG_START, PNG_START, ends

HEADS = st.sampled_from((b"II*\0", b"MM\0*", b"Exif\0\0II*\0\x08\0\0\0", b""))


@given(HEADS, st.binary(max_size=400))
def test_nothing_that_a_camera_tells_is_too_odd(head: bytes, rest: bytes) -> None:
    told = told_in(head + rest)

    assert told.orientation in range(1, 9)


@given(st.integers(1, 8), st.none() | st.integers(8, 200))
def test_what_stays_with_a_picture_reads_back(orientation: int, focal_mm: int | None) -> None:
    told = Told(orientation, focal_mm)

    assert told_in(kept_of(told)) == told


@given(st.sampled_from((JPEG_START, PNG_START, b"RIFF\0\0\0\0WEBP")), st.binary(max_size=600))
def test_looking_for_a_picture_s_end_comes_to_an_end(start: bytes, rest: bytes) -> None:
    assert ends(start + rest) in (True, False)
