"""An office, two tablets and a folder between them, all typed on a terminal."""

import json
import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.demo_mine import PRESENT, SetClock
from tests.share.samba import PASSWORD, Samba, samba
from tests.standards import DEMO
from tests.unit.cli.conftest import Terminal, Told

SITE, ENGINEER, SUPERVISOR, ON_TABLET = "40404040", "11112222", "33334444", "55556666"
NUMBER = re.compile(r"\d{4} \d{4} \d{4}")


@dataclass
class Place:
    """What stands around: the share, the office's home and the tablets'."""

    folder: Path
    lastrow: Terminal

    @property
    def share(self) -> Path:
        return self.folder / "share"

    def at(self, machine: str, *words: str | Path, typed: str = "") -> Told:
        return self.lastrow(*words, "--home", self.folder / machine, typed=typed)

    def office(self, *words: str | Path, typed: str = "") -> Told:
        return self.at("office", *words, typed=typed)

    def start(self, name: str = "Our mine") -> Told:
        self.share.mkdir(exist_ok=True)
        words = ("office", "start", name, "--share", self.share)
        return self.office(*words, typed=f"{SITE}\n")

    def pair(self, tablet: str, ending: str = ".png") -> Told:
        asked, answer = (self.folder / f"{tablet}-{it}{ending}" for it in ("asks", "answer"))
        number = number_in(self.at(tablet, "pair", "ask", asked))
        told = self.office(
            "enrol", "tablet", asked, "--name", tablet, "--answer", answer,
            typed=f"{number}\n{SITE}\n",
        )  # fmt: skip
        return self.at(tablet, "pair", "take", answer, typed=f"{number_in(told)}\n")

    def decline(self) -> None:
        """Have the engineer adopt a standard and enter a heading, in the office."""
        file = self.folder / "standard.json"
        file.write_text(json.dumps({**json.loads(DEMO), "mine": "Our mine", "demo": False}))
        engineer = ("--as", "Geotechnical engineer")
        adopted = self.office("standard", "adopt", file, *engineer, typed=f"{ENGINEER}\n")
        assert adopted.code == 0, adopted.err
        where = ("--class", "D1", "--face", "10", "--last-row", "9")
        added = self.office("heading", "add", "Decline", *where, *engineer, typed=f"{ENGINEER}\n")
        assert added.code == 0, added.err
        self.office("share")


def number_in(told: Told) -> str:
    assert told.code == 0, told.err
    found = NUMBER.search(told.out)
    assert found
    return found[0]


@pytest.fixture
def place(tmp_path: Path, lastrow: Terminal) -> Place:
    return Place(tmp_path, lastrow)


@pytest.fixture
def joined(place: Place) -> Place:
    """An office with an engineer and a supervisor, and one tablet that has shared."""
    place.start()
    for name, code in (("geotechnical engineer", ENGINEER), ("shift supervisor", SUPERVISOR)):
        words = ("enrol", "person", name.capitalize(), "--role", name)
        assert place.office(*words, typed=f"{SITE}\n{code}\n").code == 0
    place.pair("tablet 1")
    assert place.at("tablet 1", "share", place.share).code == 0
    return place


def test_what_the_office_states_arrives_on_the_tablet(joined: Place) -> None:
    joined.decline()
    told = joined.at("tablet 1", "share")

    assert "from office" in told.out
    assert "Shift supervisor: shift supervisor" in joined.at("tablet 1", "person", "list").out
    assert "Decline" in joined.at("tablet 1", "board").out


@pytest.mark.parametrize("ending", [".png", ".json"])
def test_a_tablet_joins_by_a_square_code_or_a_file(place: Place, ending: str) -> None:
    place.start()

    assert "belongs to Our mine" in place.pair("tablet 1", ending).out
    assert "tablet 1 " in place.office("enrol", "list").out


def test_a_wrong_check_number_enrols_no_tablet(place: Place) -> None:
    place.start()
    asked = place.folder / "asks.json"
    place.at("tablet 1", "pair", "ask", asked)
    told = place.office("enrol", "tablet", asked, "--name", "T", typed=f"1234 1234 1234\n{SITE}\n")

    assert told.code == 2
    assert told.sentence == "The check number is not the one of the tablet."
    number = number_in(place.at("tablet 1", "pair", "ask", place.folder / "again.json"))
    wrong = place.office(
        "enrol", "tablet", asked, "--name", "T", "--check", number, typed=f"{SITE}1\n"
    )
    assert wrong.sentence == "This is not the site code."
    assert "T (" not in place.office("enrol", "list").out


def test_an_answer_of_another_office_is_refused_by_its_number(place: Place) -> None:
    place.start()
    asked, answer = place.folder / "asks.json", place.folder / "answer.json"
    number = number_in(place.at("tablet 1", "pair", "ask", asked))
    place.office(
        "enrol", "tablet", asked, "--name", "T", "--answer", answer, typed=f"{number}\n{SITE}\n"
    )
    told = place.at("tablet 1", "pair", "take", answer, typed="1234 1234 1234\n")

    assert told.sentence == "The check number is not the one of the site."
    assert "in the office once more" in told.err
    assert place.at("tablet 1", "share", place.share).code == 2


def test_an_answer_for_another_tablet_is_refused(place: Place) -> None:
    place.start()
    place.pair("tablet 1", ".json")
    told = place.at("tablet 2", "pair", "take", place.folder / "tablet 1-answer.json")

    assert told.sentence.startswith("The answer is for tablet ")


def test_somebody_signs_on_a_tablet_once_the_office_has_certified_the_key(joined: Place) -> None:
    from fieldapp.start import open_site
    from fieldapp.work.enrol.key_requests import ask_for_key
    from fieldapp.work.own_keys import NotHere
    from fieldapp.work.people import person, sign_in
    from schemas.check_number import check_number

    home = joined.folder / "tablet 1"
    with (site := open_site(home)).store:
        who = person(site, "Shift supervisor")
        asked = ask_for_key(site, who, sign_code=ON_TABLET)
        with pytest.raises(NotHere):
            sign_in(site, who, ON_TABLET)
    joined.at("tablet 1", "share")
    joined.office("share")
    assert "Shift supervisor asks for a key on tablet 1" in joined.office("enrol", "list").out

    words = ("enrol", "person", "Shift supervisor")
    wrong = joined.office(*words, typed=f"0000 0000 0000\n{SITE}\n")
    assert wrong.sentence == "The check number is not the one of Shift supervisor."
    told = joined.office(*words, typed=f"{check_number(asked.public_key)}\n{SITE}\n")
    assert told.code == 0, told.err
    joined.at("tablet 1", "share")

    with (site := open_site(home)).store:
        signed_in = sign_in(site, person(site, "Shift supervisor"), ON_TABLET)
    with (site := open_site(joined.folder / "office")).store:
        assert sign_in(site, person(site, "Shift supervisor"), SUPERVISOR) == signed_in


def test_without_the_share_at_hand_nobody_is_enrolled(joined: Place) -> None:
    joined.share.rename(joined.folder / "elsewhere")
    words = ("enrol", "person", "New one", "--role", "bolter")
    told = joined.office(*words, typed=f"{SITE}\n1234\n")

    assert told.code != 0
    assert "New one" not in joined.office("person", "list").out
    (joined.folder / "elsewhere").rename(joined.share)
    assert joined.office(*words, typed=f"{SITE}\n1234\n").code == 0


def test_a_revoked_tablet_is_believed_up_to_what_was_here(joined: Place) -> None:
    joined.office("share")
    told = joined.office(
        "enrol", "revoke-tablet", "tablet 1", "--reason", "lost", typed=f"{SITE}\n"
    )

    assert told.code == 0, told.err
    assert "revoked after segment 1" in joined.office("enrol", "list").out


def test_a_revoked_tablet_that_hears_of_it_says_so_and_lets_nobody_in(joined: Place) -> None:
    joined.decline()
    joined.at("tablet 1", "share")
    assert "to 9.0 m" in joined.at("tablet 1", "board").out
    joined.office("enrol", "revoke-tablet", "tablet 1", "--reason", "lost", typed=f"{SITE}\n")

    assert "The office has revoked this tablet" in joined.at("tablet 1", "share").out
    told = joined.at("tablet 1", "board").out
    assert "to 9.0 m" not in told
    assert "not known" in told
    assert "the office has revoked this tablet" in told
    assert "to 9.0 m" in joined.office("board").out


def test_who_is_believed_is_told_to_have_gone_out_and_come_in(
    joined: Place, clock: SetClock
) -> None:
    """The office wrote it into the folder when it was stated: nothing is left to exchange."""
    joined.office("share")
    clock.go_on(minutes=1)
    joined.office("person", "revoke", "Shift supervisor", typed=f"{SITE}\n")

    out = joined.office("share").out
    assert "Went out: nothing.\nWent out when it was stated: who is believed (record 5).\n" in out
    assert "Came in: who is believed (record 5).\n" in joined.at("tablet 1", "share").out
    clock.go_on(minutes=1)
    assert "who is believed" not in joined.office("share").out
    assert "who is believed" not in joined.at("tablet 1", "share").out


def test_records_that_are_a_month_old_are_warned_of_until_the_office_renews_them(
    joined: Place, clock: SetClock
) -> None:
    clock.go_on(days=31)
    assert "the records keeper: lastrow enrol renew" in joined.at("tablet 1", "share").out
    assert "Tablets warn after 30 days" in joined.office("share").out

    told = joined.office("enrol", "renew", typed=f"{SITE}\n")

    assert told.out == "The records of trust are renewed: tablets hear of it when they share.\n"
    assert "enrol renew" not in joined.office("share").out
    assert "enrol renew" not in joined.at("tablet 1", "share").out


def test_two_offices_that_went_apart_are_settled_by_the_keeper(joined: Place) -> None:
    """The office machine was restored from a copy while its folder was another one."""
    assert "there is nothing to settle" in joined.office("enrol", "settle").sentence
    stick = joined.folder / "stick"
    shutil.copytree(joined.folder / "office", joined.folder / "office again")
    shutil.copytree(joined.share, stick)
    joined.at("office again", "share", stick)
    for office, name in (("office", "Ann"), ("office again", "Ben")):
        words = ("enrol", "person", name, "--role", "shift supervisor")
        assert joined.at(office, *words, typed=f"{SITE}\n{ENGINEER}\n").code == 0
    shutil.copytree(stick, joined.share, dirs_exist_ok=True)
    assert "go apart at record 5" in joined.at("tablet 1", "share").out
    assert "go apart at record 5" in joined.office("share").out

    told = joined.office("enrol", "settle", typed=f"{SITE}\n")

    for line in ("Record 5 (", "  enrols Ann as shift supervisor", "  enrols Ben as shift super"):
        assert line in told.out
    assert "go apart" not in joined.at("tablet 1", "share").out
    known = joined.at("tablet 1", "person", "list").out
    assert "Ann: shift supervisor" in known
    assert "Ben: shift supervisor" in known


def test_nobody_renews_the_records_without_the_site_code(joined: Place) -> None:
    assert joined.office("enrol", "renew", typed="11111111\n").sentence == (
        "This is not the site code."
    )
    assert "has no key on this tablet" in joined.at("tablet 1", "enrol", "renew", typed="1\n").err


def test_whoever_watches_a_quiet_folder_is_warned_too(
    joined: Place, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    def a_month_later_stop(_seconds: float) -> None:
        if clock() > PRESENT:
            raise KeyboardInterrupt
        clock.go_on(days=31)

    monkeypatch.setattr("fieldapp.cli.share.time.sleep", a_month_later_stop)
    told = joined.at("tablet 1", "share", "--watch")

    assert told.out.count("lastrow enrol renew") == 1


def test_an_ended_enrolment_ends_on_the_tablets(joined: Place) -> None:
    joined.office("person", "revoke", "Shift supervisor", typed=f"{SITE}\n")
    joined.at("tablet 1", "share")

    assert "Shift supervisor" not in joined.at("tablet 1", "person", "list").out


def test_starting_the_office_again_changes_nothing(joined: Place) -> None:
    trust = sorted((joined.share / "lastrow1" / "trust").iterdir())
    told = joined.start()

    assert told.code == 0, told.err
    assert sorted((joined.share / "lastrow1" / "trust").iterdir()) == trust
    assert "Our mine was started" in joined.start("Other mine").sentence


def test_whoever_was_enrolled_before_there_was_a_share_is_believed_after(place: Place) -> None:
    assert place.office("mine", "start", "Our mine", typed=f"{SITE}\n").code == 0
    words = ("person", "add", "Shift supervisor", "--role", "shift supervisor")
    assert place.office(*words, typed=f"{SITE}\n{SUPERVISOR}\n").code == 0

    assert place.start().code == 0

    assert "Shift supervisor" in place.office("person", "list").out
    place.pair("tablet 1")
    place.at("tablet 1", "share", place.share)
    assert "Shift supervisor" in place.at("tablet 1", "person", "list").out


def test_an_emptied_share_is_made_anew_and_everybody_puts_back(joined: Place) -> None:
    shutil.rmtree(joined.share)
    assert joined.at("tablet 1", "share").code != 0
    joined.start()
    told = joined.at("tablet 1", "share")

    assert "Went out: 1 segment." in told.out


def test_another_sites_folder_is_no_place_for_a_share(joined: Place) -> None:
    words = ("office", "start", "Second", "--share", joined.share)
    told = joined.at("office 2", *words, typed="9090909\n")

    assert "belongs to share" in told.sentence
    assert told.code == 2


def test_a_share_that_is_not_there_is_told_and_everything_waits(joined: Place) -> None:
    joined.share.rename(joined.folder / "elsewhere")
    told = joined.at("tablet 1", "share")

    assert told.code == 5
    assert told.err.splitlines()[1] == "Everything is kept on this tablet and waits."


@pytest.fixture
def server(joined: Place) -> Iterator[Samba]:
    with samba(joined.folder / "samba", joined.share) as started:
        yield started


def test_a_server_is_shared_with_by_a_password_that_is_typed_and_kept_nowhere(
    joined: Place, server: Samba
) -> None:
    where = str(server.where())

    told = joined.at("tablet 1", "share", where, typed=f"{PASSWORD}\n")

    assert told.code == 0, told.err
    home = joined.folder / "tablet 1"
    files = [it.read_bytes() for it in home.rglob("*") if it.is_file()]
    assert any(where.encode() in it for it in files)
    assert not any(PASSWORD.encode() in it for it in files)
    assert PASSWORD not in told.out + told.err


def test_the_password_of_a_server_may_come_from_the_surroundings(
    joined: Place, server: Samba, monkeypatch: pytest.MonkeyPatch
) -> None:
    where = str(server.where())

    missing = joined.at("tablet 1", "share", where)
    monkeypatch.setenv("LASTROW_SHARE_PASSWORD", PASSWORD)
    told = joined.at("tablet 1", "share", where)

    assert missing.sentence == f"The password for {where} is missing."
    assert told.code == 0, told.err
