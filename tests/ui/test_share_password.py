"""The password of a share on a server, typed with gloves on and kept nowhere; a real Samba."""

import logging
import string
from collections.abc import Iterator
from pathlib import Path
from time import sleep

import pytest

from fieldapp.start import SETTINGS_FILE, write_settings
from fieldapp.ui.panels.letters_panel import PAGES
from fieldapp.ui.panels.password_panel import PasswordPanel
from fieldapp.work.enrol.joining import join, request
from fieldapp.work.enrol.office import enrol_tablet
from schemas.check_number import check_number
from tests.share.samba import PASSWORD, Samba, samba
from tests.ui.harness import BOUNCE_S, Tablet
from tests.ui.mine import Hands, at_a_mine
from tests.ui.test_share_folder import SITE_CODE, Office, office, says

__all__ = ["office"]

pytestmark = pytest.mark.window


@pytest.fixture
def server(tmp_path: Path, office: Office) -> Iterator[Samba]:
    with samba(tmp_path / "samba", office.share) as started:
        yield started


@pytest.fixture
def hands(
    tablet: Tablet, tmp_path: Path, office: Office, server: Samba, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Hands]:
    """A tablet of the site that shares with the server."""
    monkeypatch.delenv("LASTROW_SHARE_PASSWORD", raising=False)
    with at_a_mine(tablet, tmp_path / "new") as hands:
        enrol(office, hands)
        settings = hands.site.settings.model_copy(update={"share": str(server.where())})
        write_settings(hands.home / SETTINGS_FILE, settings)
        hands.switch_off_and_on()
        yield hands


def enrol(office: Office, hands: Hands) -> None:
    asked = request(hands.site)
    number = check_number(asked.public_key)
    answer = enrol_tablet(office.site, asked, "Tablet 3", check=number, site_code=SITE_CODE)
    join(hands.site, answer, check=check_number(answer.root_key))


def type_password(hands: Hands, password: str) -> None:
    """Type with the panel's own keys, turning its pages."""
    sleep(BOUNCE_S)
    panel = hands.tablet.find(PasswordPanel)
    assert isinstance(panel, PasswordPanel)
    for letter in password:
        while letter not in PAGES[int(panel.page)][1]:
            hands.tap(panel.turns_to)
        hands.tablet.tap("space" if letter == " " else letter)
    hands.tap("Share now")


def test_a_password_is_typed_once_and_lies_nowhere_on_the_disk(
    hands: Hands, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.DEBUG)
    hands.tap("Share", "Share now")
    type_password(hands, PASSWORD)
    says(hands, "Went out")
    hands.tap("Share now")
    says(hands, "Went out")

    assert not hands.tablet.find_all(PasswordPanel)
    files = [path for path in hands.home.rglob("*") if path.is_file()]
    assert files
    assert [path for path in files if PASSWORD.encode() in path.read_bytes()] == []
    assert PASSWORD not in caplog.text


def test_it_is_asked_for_again_when_the_app_was_switched_off(hands: Hands) -> None:
    hands.tap("Share", "Share now")
    type_password(hands, PASSWORD)
    says(hands, "Went out")
    hands.switch_off_and_on()

    hands.tap("Share", "Share now")

    assert hands.tablet.find_all(PasswordPanel)


def test_a_wrong_password_is_said_so_and_asked_for_again(hands: Hands, office: Office) -> None:
    before = sorted(path for path in office.share.rglob("*"))
    hands.tap("Share", "Share now")
    type_password(hands, "wrong")
    says(hands, "the name or the password is not right")
    says(hands, "Everything is kept on this tablet and waits.")
    assert sorted(path for path in office.share.rglob("*")) == before

    hands.tap("Share now")
    type_password(hands, PASSWORD)
    says(hands, "Went out")


def test_who_leaves_without_typing_is_told_what_is_wanted(hands: Hands) -> None:
    hands.tap("Share", "Share now")
    sleep(BOUNCE_S)
    hands.tap("Return")

    says(hands, "asks for a password")


def test_what_is_typed_shows_as_dots_until_somebody_wants_to_see_it(hands: Hands) -> None:
    hands.tap("Share", "Share now")
    sleep(BOUNCE_S)
    panel = hands.tablet.find(PasswordPanel)
    assert isinstance(panel, PasswordPanel)
    for letter in "abc":
        hands.tablet.tap(letter)
    hands.tap("Erase")
    assert panel.shown == "••"

    hands.tap("Show")
    assert panel.shown == "ab"
    hands.tap("Hide")
    assert panel.shown == "••"


def test_every_letter_of_a_plain_keyboard_has_a_key() -> None:
    letters = set(string.ascii_letters + string.digits + string.punctuation + " ")

    assert {letter for _name, some in PAGES for letter in some} == letters
