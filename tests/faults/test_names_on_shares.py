"""What shares and people do to names: ours stay what they are, whatever stands beside or above.

Names in whichever case on a real stick and a real server: `test_exfat.py`, `test_samba.py`.
"""

import unicodedata
from collections.abc import Callable, Iterable
from pathlib import Path

import pytest

from schemas.canonical import JsonValue
from sync.folder import Listed
from sync.local_folder import LocalFolder
from sync.names import LONGEST, ROOT
from tests.faults.share_at_hand import AtHand, Watched, share_at_hand
from tests.share.samba import samba

RESERVED = ("con", "NUL.txt", "aux", "lpt1", "COM9.seg")
"""No file of Windows may be called so, whatever its ending."""
HARD_NAMES = (
    *RESERVED,
    unicodedata.normalize("NFC", "Strecke Süd – Ñandú"),
    unicodedata.normalize("NFD", "Strecke Süd – Ñandú"),
    "x" * 255,
    "trailing dot.",
    "../../etc/passwd",
    "heads/mine",
    "İstanbul ß ﬁ",
)
PLACES = tuple(it for it in HARD_NAMES if "/" not in it and len(it) < 200)


@pytest.fixture
def at(tmp_path: Path) -> AtHand:
    return share_at_hand(tmp_path)


def named(name: str) -> dict[str, JsonValue]:
    return {"name": name, "tablet": name, "photo": f"photos/{name}"}


def test_whatever_people_call_things_becomes_no_name_in_the_share(
    at: AtHand, tmp_path: Path
) -> None:
    said = [at.one.state_something(body=named(name)) for name in HARD_NAMES]

    at.met(at.one, deep=True)
    at.met(at.other, deep=True)

    assert set(said) <= set(at.other.entries)
    assert [it.name for it in tmp_path.iterdir()] == [ROOT]
    for path in (tmp_path / ROOT).rglob("*"):
        below = path.relative_to(tmp_path).as_posix()
        assert len(below) <= LONGEST
        assert below.isascii()
        assert all(below == change(below) for change in CHANGES)
        assert path.name.partition(".")[0] not in {"con", "nul", "aux", "lpt1", "com9"}


CHANGES: tuple[Callable[[str], str], ...] = (
    str.casefold,
    str.lower,
    lambda name: unicodedata.normalize("NFC", name),
    lambda name: unicodedata.normalize("NFD", name),
)
"""What file systems do to names that they keep."""


@pytest.mark.parametrize("change", CHANGES)
def test_a_share_that_folds_case_or_composes_letters_shows_our_names_as_they_are(
    at: AtHand, change: Callable[[str], str]
) -> None:
    class Changing(Watched):
        def listing(self, path: str) -> Iterable[Listed]:
            return [Listed(change(it.name), it.size) for it in super().listing(change(path))]

        def read(self, path: str, *, at_most: int) -> bytes:
            return super().read(change(path), at_most=at_most)

        def put(self, path: str, content: bytes) -> None:
            super().put(change(path), content)

    ours, theirs = at.one.state_something(), at.other.state_something()
    folder = Changing(LocalFolder(at.place))

    for tablet in (at.one, at.other, at.one):
        at.met(tablet, folder=folder, deep=True)

    assert ours in at.other.entries
    assert theirs in at.one.entries


@pytest.mark.parametrize("place", PLACES)
def test_a_shared_folder_may_be_called_what_a_person_likes(tmp_path: Path, place: str) -> None:
    (tmp_path / place).mkdir()
    at = share_at_hand(tmp_path / place)
    said = at.one.state_something()

    at.met(at.one)
    at.met(at.other)

    assert said in at.other.entries


def test_a_folder_of_a_server_may_be_called_what_a_person_likes(tmp_path: Path) -> None:
    called = [it for it in PLACES if it not in RESERVED and not it.endswith(".")]
    (tmp_path / "share").mkdir()
    with samba(tmp_path / "own", tmp_path / "share") as server:
        for name in called:
            (server.folder / name).mkdir()
            at = share_at_hand(server.folder / name)
            said = at.one.state_something()

            at.met(at.one, folder=server.connected(name))
            at.met(at.other, folder=server.connected(name))

            assert said in at.other.entries
