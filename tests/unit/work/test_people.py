"""Who is believed: people certified by this mine's site key, and nobody else."""

from datetime import timedelta

import pytest

from fieldapp.store.codes import SignCodeDelayed
from fieldapp.work.own_keys import (
    NotHere,
    NotLetIn,
    NotSigned,
    WeakCode,
    WrongSiteCode,
    site_key_with,
)
from fieldapp.work.people import (
    IDLE_LOCK,
    NameTaken,
    NoSuchPerson,
    enrol,
    is_idle,
    people,
    person,
    reset_code,
    revoke,
    sign_in,
)
from fieldapp.work.sign import Signing, sign_round
from fieldapp.work.signatures import signature_fits, signatures_that_do_not_fit
from fieldapp.work.writing import new_thing_id, state
from schemas.bodies.deviation import Deviation
from schemas.bodies.person import Person, Role
from schemas.signatures import Certificate, SigningKey, sign
from schemas.wrapped_key import WrongSignCode
from tests.demo_mine import CODES
from tests.unit.work.conftest import Shift

STRANGER = SigningKey(b"\x07" * 32)
SITE_CODE = CODES["site"]


def names(shift: Shift) -> list[str]:
    return [known.body.name for known in people(shift.site)]


def test_somebody_enrolled_signs_in_with_their_code(shift: Shift) -> None:
    enrol(shift.site, "New one", ("shift supervisor",), sign_code="918273", site_code=SITE_CODE)
    session = sign_in(shift.site, person(shift.site, "new ONE"), "918273")

    assert [session.name, session.roles] == ["New one", ("shift supervisor",)]


def test_without_the_site_code_nobody_is_enrolled(shift: Shift) -> None:
    with pytest.raises(WrongSignCode):
        enrol(shift.site, "New one", ("bolter",), sign_code="918273", site_code="9999")

    assert "New one" not in names(shift)


def test_a_certificate_of_another_key_enrols_nobody(shift: Shift) -> None:
    """Anyone can write an entry that says they are an engineer; the site's key has not."""
    forger = SigningKey(b"\x09" * 32)
    person_id = new_thing_id(shift.site)
    forged = Certificate.issue(
        forger,
        holder=person_id,
        public_key=STRANGER.public_key,
        roles=("geotechnical engineer",),
    )
    body = Person(
        name="Forged engineer",
        roles=("geotechnical engineer",),
        public_key=STRANGER.public_key,
        certificate=forged.signature,
    )
    state(shift.site, "person", body, author=person_id, thing_id=person_id)

    assert "Forged engineer" not in names(shift)


@pytest.mark.parametrize(
    "change",
    [{"roles": ("geotechnical engineer",)}, {"public_key": STRANGER.public_key}],
    ids=["a higher role", "another key"],
)
def test_what_was_changed_after_certifying_is_not_believed(
    shift: Shift, change: dict[str, object]
) -> None:
    known = person(shift.site, "Bolter, crew A")
    state(
        shift.site,
        "person",
        known.body.model_copy(update=change),
        author=known.id,
        thing_id=known.id,
        parents=(known.entry.revision,),
    )

    assert person(shift.site, "Bolter, crew A").body == known.body


@pytest.mark.parametrize("code", ["", "123", "abcd", "12 34", "1" * 13, "１２３４"])
def test_a_code_is_4_to_12_digits(shift: Shift, code: str) -> None:
    with pytest.raises(WeakCode):
        enrol(shift.site, "New one", ("bolter",), sign_code=code, site_code=SITE_CODE)


def test_a_name_is_given_once(shift: Shift) -> None:
    with pytest.raises(NameTaken):
        enrol(shift.site, "DAY supervisor", ("bolter",), sign_code="1234", site_code=SITE_CODE)


def test_a_new_code_replaces_the_old_one(shift: Shift) -> None:
    known = person(shift.site, "Day supervisor")
    reset_code(shift.site, known, sign_code="7777", site_code=SITE_CODE)
    again = person(shift.site, "Day supervisor")

    assert sign_in(shift.site, again, "7777").person_id == known.id
    with pytest.raises(WrongSignCode):
        sign_in(shift.site, again, CODES["Day supervisor"])


def test_what_was_signed_before_a_new_code_stays_signed(shift: Shift) -> None:
    signed = shift.sign(shift.look()).sign_off.entry
    reset_code(
        shift.site, person(shift.site, "Day supervisor"), sign_code="7777", site_code=SITE_CODE
    )

    assert signature_fits(shift.site, signed)


def test_who_was_revoked_is_not_enrolled_and_what_they_signed_stays_signed(
    shift: Shift,
) -> None:
    signed = shift.sign(shift.look()).sign_off.entry
    revoke(shift.site, person(shift.site, "Day supervisor"), site_code=SITE_CODE)

    assert signature_fits(shift.site, signed)
    with pytest.raises(NoSuchPerson):
        person(shift.site, "Day supervisor")


def test_every_signature_of_the_demo_fits(shift: Shift) -> None:
    assert signatures_that_do_not_fit(shift.site) == ()


def test_a_sign_off_with_a_stranger_s_key_does_not_fit(shift: Shift) -> None:
    known = shift.sign(shift.look()).sign_off
    body = known.body.model_copy(update={"public_key": STRANGER.public_key, "signature": None})
    entry = state(shift.site, "sign_off", body, author=known.entry.author)
    forged = sign(entry, STRANGER)
    shift.site.store.ledger.add([forged])

    assert forged in signatures_that_do_not_fit(shift.site)


def test_an_unsigned_deviation_does_not_fit(shift: Shift) -> None:
    body = Deviation(
        round=new_thing_id(shift.site),
        check="mesh_lap",
        row=1,
        reason="no code was asked for",
        ends_at=shift.clock() + timedelta(hours=1),
    )
    engineer = shift.who("Geotechnical engineer").person_id
    unsigned = state(shift.site, "deviation", body, author=engineer)

    assert unsigned in signatures_that_do_not_fit(shift.site)


def test_a_wrong_code_says_what_it_kept(shift: Shift) -> None:
    """Who is not let in signed nothing and left no draft; who signs wants to know of the round."""
    work = shift.look()
    known = person(shift.site, "Day supervisor")
    with pytest.raises(NotLetIn) as at_the_door:
        sign_in(shift.site, known, "0000")
    signing = Signing(work, "accepted", shift.clock())
    with pytest.raises(NotSigned) as at_the_sheet:
        sign_round(shift.site, shift.who(), signing, "0000")
    with pytest.raises(WrongSignCode) as in_the_office:
        reset_code(shift.site, known, sign_code="7777", site_code="0000")

    assert {type(it.value) for it in (at_the_door, at_the_sheet, in_the_office)} == {
        NotLetIn,
        NotSigned,
        WrongSiteCode,
    }
    assert "Nobody is signed in" in str(at_the_door.value)
    assert "Nothing was signed" in str(at_the_sheet.value)
    assert "signed" not in in_the_office.value.sentences()[1]


def test_somebody_enrolled_elsewhere_has_no_key_here(shift: Shift) -> None:
    roles: tuple[Role, ...] = ("bolter",)
    person_id = new_thing_id(shift.site)
    certificate = Certificate.issue(
        site_key_with(shift.site, SITE_CODE),
        holder=person_id,
        public_key=STRANGER.public_key,
        roles=roles,
    )
    body = Person(
        name="From afar",
        roles=roles,
        public_key=STRANGER.public_key,
        certificate=certificate.signature,
    )
    state(shift.site, "person", body, author=person_id, thing_id=person_id)
    with pytest.raises(NotHere):
        sign_in(shift.site, person(shift.site, "From afar"), "1234")


def test_wrong_codes_slow_the_next_try_also_after_switching_off(shift: Shift) -> None:
    known = person(shift.site, "Day supervisor")
    for _ in range(10):
        with pytest.raises((WrongSignCode, SignCodeDelayed)):
            sign_in(shift.site, known, "0000")
    shift.reopened()
    with pytest.raises(SignCodeDelayed):
        sign_in(shift.site, known, CODES["Day supervisor"])


def test_who_waits_long_enough_gets_in(shift: Shift) -> None:
    known = person(shift.site, "Day supervisor")
    for _ in range(10):
        with pytest.raises((WrongSignCode, SignCodeDelayed)):
            sign_in(shift.site, known, "0000")
    shift.wait(days=2)

    assert sign_in(shift.site, known, CODES["Day supervisor"]).person_id == known.id


@pytest.mark.parametrize(
    ("after", "idle"),
    [
        (timedelta(minutes=9, seconds=59), False),
        (IDLE_LOCK, True),
        (timedelta(hours=3), True),
        (timedelta(seconds=-1), True),
    ],
    ids=str,
)
def test_the_tablet_locks_after_ten_minutes_or_a_clock_set_back(
    shift: Shift, after: timedelta, *, idle: bool
) -> None:
    assert is_idle(shift.clock(), shift.clock() + after) is idle
