"""`smb://…` is read as it is written, and becomes the server's own name for a folder."""

import pytest

from sync.smb_place import SmbPlace


@pytest.mark.parametrize(
    ("place", "below"),
    [
        ("smb://server/support", r"\\server\support"),
        ("smb://mia@server:4455/support/level%2012/share", r"\\server\support\level 12\share"),
        (r"smb://WRENFALL%5Cmia@server/support", r"\\server\support"),
    ],
)
def test_a_place_is_read_as_it_is_written(place: str, below: str) -> None:
    read = SmbPlace.read(place)

    assert read
    assert str(read) == place
    assert read.below() == below
    assert SmbPlace.read(str(read)) == read


def test_a_user_of_a_domain_is_named_with_it() -> None:
    read = SmbPlace.read("smb://WRENFALL%5Cmia@server/support")

    assert read
    assert read.user == r"WRENFALL\mia"


def test_what_lies_below_is_named_from_the_share_on() -> None:
    assert SmbPlace("server", "support", ("a",)).below("b/c") == r"\\server\support\a\b\c"
