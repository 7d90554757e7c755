"""Joining a site, choosing a sign code and sharing, by hand, on tablets and an office's folder."""

import os
from collections.abc import Iterator
from pathlib import Path
from threading import Event

import pytest

from fieldapp.report.square_code import square_code_png
from fieldapp.start import open_site
from fieldapp.work.enrol.key_requests import certify_key, waiting_keys
from fieldapp.work.enrol.office import enrol_tablet, start_share
from fieldapp.work.headings import heading
from fieldapp.work.mine import start_mine
from fieldapp.work.people import enrol, person
from fieldapp.work.share.disputes import disputes
from fieldapp.work.share.exchange import share
from fieldapp.work.site import Session, Site
from fieldapp.work.withdrawals import withdraw
from fieldapp.work.writing import state, stated_now
from schemas.bodies.bad_file import BadFile
from schemas.bodies.heading import Heading
from schemas.bodies.receipt import HeldSegment
from schemas.check_number import check_number, in_groups
from schemas.entry import corrected
from sync.local_folder import LocalFolder
from sync.pairing import read_request
from tests.demo_mine import SetClock
from tests.ui.harness import LANDSCAPE, PORTRAIT, Tablet
from tests.ui.mine import Hands, at_a_mine, at_the_demo
from tests.ui.uilint import faults, faults_both_ways

pytestmark = pytest.mark.window

both_ways = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])
SITE_CODE, SUPERVISOR, ENGINEER = "4155", "Shift supervisor", "Geotechnical engineer"


class Office:
    """The office's machine, its share, and a stick that lies between it and the tablet."""

    def __init__(self, folder: Path) -> None:
        self.share, self.stick = folder / "share", folder / "stick"
        self.share.mkdir()
        self.stick.mkdir()
        site = open_site(folder / "office", now=SetClock())
        site = start_mine(site, "Our mine", site_code=SITE_CODE)
        self.site: Site = start_share(site, str(self.share), site_code=SITE_CODE)
        enrol(
            self.site, SUPERVISOR, ("shift supervisor",), sign_code="222222", site_code=SITE_CODE
        )
        self.exchange()

    def heading(self) -> str:
        """Enrol an engineer who enters a heading; give its id."""
        who = enrol(
            self.site,
            ENGINEER,
            ("geotechnical engineer",),
            sign_code="333333",
            site_code=SITE_CODE,
        )
        place = Heading(name="North drive", support_class="D1", face_m="10.00", last_row_m="9.00")
        entry = state(self.site, "heading", place, author=who.id)
        self.exchange()
        return entry.id

    def exchange(self) -> None:
        share(self.site, str(self.share))

    def answer(self) -> str:
        """Enrol the tablet whose request lies on the stick; give the site's check number."""
        (asked,) = self.stick.glob("tablet-*.json")
        request = read_request(asked.read_bytes(), source=asked.name)
        given = enrol_tablet(
            self.site, request, "Tablet 3", check=check_number(request.public_key),
            site_code=SITE_CODE,
        )  # fmt: skip
        (self.stick / "answer.json").write_bytes(given.content())
        return in_groups(check_number(given.root_key))

    def certify(self) -> None:
        self.exchange()
        (asked,) = waiting_keys(self.site)
        who = person(self.site, SUPERVISOR)
        number = check_number(asked.body.public_key)
        certify_key(self.site, who, check=number, site_code=SITE_CODE)


@pytest.fixture
def office(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Office]:
    monkeypatch.setattr("fieldapp.work.own_keys.COST", 2**10)
    monkeypatch.setattr(Path, "home", lambda: tmp_path / "stick")
    monkeypatch.setattr("fieldapp.ui.panels.folder_panel.MEDIA", ())
    office = Office(tmp_path)
    with office.site.store:
        yield office


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path, office: Office) -> Iterator[Hands]:  # noqa: ARG001
    """A new tablet on which nothing was started; the stick is in it."""
    with at_a_mine(tablet, tmp_path / "new") as hands:
        yield hands


def says(hands: Hands, words: str) -> None:
    """Wait until a sentence with these words is on the glass."""
    hands.tablet.until(
        lambda: any(words in text.replace("\n", "") for text in hands.tablet.texts()), seconds=20
    )


def join(hands: Hands, office: Office) -> None:
    hands.tap("Join a site", "Save as a file", "Take this folder")
    number = office.answer()
    hands.tap("Take the answer", "answer.json")
    says(hands, number)
    hands.hold("It is the same")


def share_by_hand(hands: Hands) -> None:
    hands.tap("Share")
    if not hands.site.settings.share:
        hands.tap("Choose the folder", "Up", "share", "Take this folder")
    hands.tap("Share now")
    says(hands, "Went out")


def test_a_new_tablet_joins_chooses_a_code_and_signs_in(hands: Hands, office: Office) -> None:
    join(hands, office)
    assert hands.site.mine.name == "Our mine"
    share_by_hand(hands)
    hands.tap("Return")
    hands.tap(SUPERVISOR)
    for _ in range(2):
        hands.type("135790")
        hands.rest()
    says(hands, "waits for the office")
    hands.tap("Understood")
    share_by_hand(hands)
    office.certify()
    hands.tap("Share now", "Return", SUPERVISOR)
    hands.type("135790")
    hands.rest()

    assert hands.is_at("shift_board")
    assert any(text.startswith("as heard") for text in hands.tablet.texts())


def test_two_codes_that_differ_are_asked_for_again(hands: Hands, office: Office) -> None:
    join(hands, office)
    share_by_hand(hands)
    hands.tap("Return", SUPERVISOR)
    hands.type("135790")
    hands.rest()
    hands.type("111111")
    hands.rest()

    says(hands, "choose a sign code")
    assert hands.site.store.keys.waiting(person(hands.site, SUPERVISOR).id) is None


def test_what_two_machines_state_differently_is_settled_side_by_side(
    hands: Hands, office: Office
) -> None:
    place = office.heading()
    join(hands, office)
    share_by_hand(hands)
    engineer = person(hands.site, ENGINEER)
    for site, face_m in ((office.site, "12.00"), (hands.site, "15.00")):
        known = heading(site, place)
        made = corrected(known.entry, {"face_m": face_m}, stated_now(site, engineer.id))
        site.store.ledger.add([made])
    office.exchange()
    session = Session(engineer.id, ENGINEER, ("geotechnical engineer",))
    hands.shell.signed_in(session)
    hands.go("share_folder")
    hands.tap("Share now")
    says(hands, "Stated differently on two tablets: heading North drive.")
    (differ,) = disputes(hands.site)
    right = str(differ.right.body["face_m"])
    hands.tap("Settle")
    for text in ("face m", "12.00", "15.00"):
        hands.sees(text)
    assert faults(hands.tablet) == []
    hands.tablet.turn(PORTRAIT)
    hands.rest()
    assert faults(hands.tablet) == []
    hands.hold("The right one stands")

    assert str(heading(hands.site, place).body.face_m) == right
    assert not any("Stated differently" in text for text in hands.tablet.texts())
    hands.tap("Share now")
    office.exchange()
    assert str(heading(office.site, place).body.face_m) == right

    settled = heading(office.site, place).entry
    made = corrected(settled, {"face_m": "16.00"}, stated_now(hands.site, engineer.id))
    hands.site.store.ledger.add([made])
    withdraw(office.site, settled.revision, session, reason="another heading's face")
    office.exchange()
    hands.tap("Share now", "Settle")
    hands.sees("withdrawn: another heading's face")
    assert faults_both_ways(hands.tablet) == []
    hands.hold("The left one stands")

    assert str(heading(hands.site, place).body.face_m) == "16.00"
    assert disputes(hands.site) == ()


def test_another_number_joins_nothing(hands: Hands, office: Office) -> None:
    hands.tap("Join a site", "Save as a file", "Take this folder")
    office.answer()
    hands.tap("Take the answer", "answer.json", "Another number")

    assert hands.site.mine.name == ""


def test_the_office_s_answer_is_photographed_from_its_screen(hands: Hands, office: Office) -> None:
    named = hands.site.settings.model_copy(update={"camera_folder": office.stick})
    hands.shell.site = hands.site.with_settings(named)
    hands.tap("Join a site", "Save as a file", "Take this folder")
    number = office.answer()
    hands.tap("Take the answer", "Photograph it")
    says(hands, "Take the photo now")
    photo = office.stick / "screen.png"
    photo.write_bytes(square_code_png((office.stick / "answer.json").read_text()))
    os.utime(photo, (hands.clock.at.timestamp(),) * 2)
    says(hands, number)
    hands.hold("It is the same")

    assert hands.site.mine.name == "Our mine"


def test_what_is_no_answer_is_told_and_joins_nothing(hands: Hands, office: Office) -> None:
    (office.stick / "torn.json").write_bytes(b'{"pairing":')
    hands.tap("Join a site", "Take the answer")
    assert "Take this folder" not in hands.tablet.texts(), "a file is asked for"
    hands.tap("torn.json")

    says(hands, "is no answer of the office")
    assert hands.site.mine.name == ""


def test_a_share_that_went_away_is_told_and_comes_back(hands: Hands, office: Office) -> None:
    join(hands, office)
    share_by_hand(hands)
    office.share.rename(office.share.with_name("away"))
    hands.tap("Share now")
    says(hands, "can't be reached")

    office.share.with_name("away").rename(office.share)
    hands.tap("Share now")
    says(hands, "Went out")


def test_the_demo_mine_shares_with_nobody(tablet: Tablet, tmp_path: Path) -> None:
    with at_the_demo(tablet, tmp_path) as hands:
        hands.signed_in()
        hands.tap("Settings", "Share folder")

        says(hands, "The demo mine is invented")


@both_ways
def test_a_month_without_news_from_the_office_is_told_on_the_board_and_on_its_screen(
    hands: Hands, office: Office, size: tuple[int, int]
) -> None:
    hands.tablet.turn(size)
    office.heading()
    join(hands, office)
    share_by_hand(hands)
    who = person(hands.site, ENGINEER)
    hands.shell.signed_in(Session(who.id, ENGINEER, who.body.roles))
    hands.go("shift_board")
    assert "Who is believed here may be out of date" not in hands.tablet.texts()
    hands.clock.go_on(days=31)
    hands.shell.signed_in(Session(who.id, ENGINEER, who.body.roles))
    hands.go("shift_board")
    assert faults(hands.tablet) == []

    hands.tap("Who is believed here may be out of date")

    says(hands, "31 days ago")
    says(hands, "ask the records keeper: lastrow enrol renew")
    assert faults(hands.tablet) == []


@both_ways
def test_what_another_machine_reports_of_a_bad_file_is_told(
    hands: Hands, office: Office, size: tuple[int, int]
) -> None:
    hands.tablet.turn(size)
    join(hands, office)
    share_by_hand(hands)
    office.exchange()
    holdings, at = hands.site.store.holdings, office.site.now()
    name = holdings.rows()[holdings.own_tablets()[-1]][0].name
    segment = HeldSegment(tablet=name.tablet, seq=name.seq, hash16=name.hash16)
    met_bad = BadFile(segment=segment, since=at, tries=4)
    office.site.store.holdings.say_bad([met_bad], ())
    office.exchange()
    hands.rest()
    hands.tap("Share now")

    says(hands, "Segment 1 of this machine was bad or missing in the shared folder when office")
    says(hands, "It is good again: office read it")
    assert faults(hands.tablet) == []


def test_every_step_is_laid_out_for_a_glove(hands: Hands, office: Office) -> None:
    hands.rest()
    found = [*faults_both_ways(hands.tablet)]
    hands.tap("Join a site")
    found += faults_both_ways(hands.tablet)
    hands.tap("Save as a file")
    found += faults_both_ways(hands.tablet)
    hands.tap("Take this folder")
    office.answer()
    hands.tap("Take the answer", "answer.json")
    found += faults_both_ways(hands.tablet)
    hands.hold("It is the same")
    found += faults_both_ways(hands.tablet)
    share_by_hand(hands)
    found += faults_both_ways(hands.tablet)
    hands.tap("Return", SUPERVISOR)
    hands.type("135790")
    hands.rest()
    hands.type("135790")
    says(hands, "waits for the office")
    found += faults_both_ways(hands.tablet)

    assert found == []


def test_it_is_stopped_at_once_and_goes_on_later(
    hands: Hands, office: Office, monkeypatch: pytest.MonkeyPatch
) -> None:
    join(hands, office)
    share_by_hand(hands)
    slow, listing = Event(), LocalFolder.listing
    monkeypatch.setattr(
        LocalFolder, "listing", lambda folder, path: slow.wait(20) and listing(folder, path)
    )
    hands.tablet.tap("Share now")
    hands.sees("Stop")
    hands.tablet.tap("Stop")
    slow.set()
    says(hands, "Stopped by hand")

    hands.tap("Share now")
    says(hands, "Went out")
