"""Whoever shares with a server is asked for its password once, and again where it was wrong."""

import pytest

from fieldapp.work.share_passwords import SharePasswords
from sync.places import PasswordWanted

PLACE, OTHER = "smb://mia@server/support", "smb://mia@server/other"


def test_a_password_is_asked_for_once_a_place() -> None:
    asked: list[str] = []

    def ask(place: str) -> str:
        asked.append(place)
        return f"for {place}"

    passwords = SharePasswords(ask)

    assert [passwords(it) for it in (PLACE, PLACE, OTHER)] == [
        f"for {PLACE}",
        f"for {PLACE}",
        f"for {OTHER}",
    ]
    assert asked == [PLACE, OTHER]


def test_what_the_surroundings_hold_is_asked_of_nobody() -> None:
    assert SharePasswords(given="held")(PLACE) == "held"


def test_where_nobody_is_there_to_ask_it_is_wanted_until_somebody_types_it() -> None:
    passwords = SharePasswords()
    with pytest.raises(PasswordWanted):
        passwords(PLACE)

    passwords.take(PLACE, "typed")

    assert passwords(PLACE) == "typed"


@pytest.mark.parametrize("given", ["", "held"])
def test_what_a_server_did_not_take_is_wanted_anew(given: str) -> None:
    passwords = SharePasswords(given=given)
    passwords.take(OTHER, "typed elsewhere")
    passwords.take(PLACE, "wrong")

    passwords.forget(PLACE)

    with pytest.raises(PasswordWanted):
        passwords(PLACE)
    assert passwords(OTHER) == "typed elsewhere"


def test_a_password_shows_itself_in_no_log() -> None:
    passwords = SharePasswords(given="held")
    passwords.take(PLACE, "typed")

    assert "held" not in repr(passwords)
    assert "typed" not in repr(passwords)
