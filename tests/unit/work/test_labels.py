"""What bears a label is found by its short id, or the tablet says that it isn't known here."""

from datetime import UTC, timedelta
from decimal import Decimal
from uuid import UUID

import pytest

from fieldapp.report.words.label import date_words, title_words
from fieldapp.work.demo.story import MAIN
from fieldapp.work.labels import (
    Labelled,
    NothingLabelled,
    NotKnownHere,
    SeveralLabelled,
    labelled,
    thing_named,
)
from fieldapp.work.pegs import PegStandsAlready, add_peg, pegs
from fieldapp.work.withdrawals import withdraw
from fieldapp.work.writing import new_thing_id, state
from schemas.bodies.bolt_test import BoltTest
from schemas.bodies.damage import Damage
from schemas.bodies.survey_peg import SurveyPeg
from schemas.short_id import ShortId, scanned, short_id, typed
from tests.unit.work.conftest import Shift

KEEPER = "Records keeper"


def torn(shift: Shift, *, again: str | None = None, thing_id: str | None = None) -> str:
    """State torn mesh in the demo's main heading, and give the observation's id."""
    body = Damage(
        heading=shift.place(MAIN).id,
        seen_at=shift.clock(),
        chainage_m=Decimal("38.4"),
        zone="back",
        kind="torn mesh",
        again=again,
    )
    return state(shift.site, "damage", body, author=None, thing_id=thing_id).id


def peg(shift: Shift, name: str = "P41", at: str = "38.25") -> str:
    body = SurveyPeg(
        heading=shift.place(MAIN).id, name=name, chainage_m=Decimal(at), s_m=Decimal("-1.2")
    )
    return add_peg(shift.site, body, shift.who(KEEPER)).id


def same_end(thing_id: str) -> str:
    """Give another id with the same last 40 bits: chance had it so."""
    return str(UUID(int=UUID(thing_id).int ^ 1 << 62 - 1))


def test_a_bolt_that_was_pulled_bears_a_label_of_its_own_letter(shift: Shift) -> None:
    body = BoltTest(
        heading=shift.place(MAIN).id,
        kind="proof pull",
        tested_at=shift.clock(),
        why="suspected",
        chainage_m=Decimal("588.2"),
        zone="back",
        bolt="row 3, bolt 2",
    )
    test = state(shift.site, "bolt_test", body, author=None).id
    code = short_id("bolt_test", test)
    (found,) = labelled(shift.site, scanned(code.payload))

    assert code.payload.startswith("LR1:B/")
    assert (found.kind, found.id, found.name) == ("bolt_test", test, "row 3, bolt 2")
    assert title_words(found) == "Tested bolt: row 3, bolt 2"
    assert date_words(found, UTC) == "tested 6 May 2031"


def test_a_label_leads_to_the_damage_that_it_is_on(shift: Shift) -> None:
    damage = torn(shift)
    (found,) = labelled(shift.site, scanned(short_id("damage", damage).payload))

    assert (found.kind, found.id, found.name) == ("damage", damage, "torn mesh")
    assert (found.heading, found.chainage_m) == (MAIN, Decimal("38.4"))


def test_damage_that_is_seen_again_keeps_its_label_and_says_when_it_was_seen_last(
    shift: Shift,
) -> None:
    first = torn(shift)
    shift.wait(days=30)
    torn(shift, again=first)
    (found,) = labelled(shift.site, typed(short_id("damage", first).readable))

    assert found.id == first
    assert found.at == shift.clock()


def test_two_things_of_one_short_id_are_both_given(shift: Shift) -> None:
    damage = torn(shift)
    other = torn(shift, thing_id=same_end(damage))
    found = labelled(shift.site, typed(short_id("damage", damage).readable))

    assert {it.id for it in found} == {damage, other}


def test_a_square_code_means_its_own_kind_of_thing(shift: Shift) -> None:
    damage = torn(shift)

    with pytest.raises(NotKnownHere):
        labelled(shift.site, scanned(short_id("survey_peg", damage).payload))


def test_a_label_of_another_mine_is_not_known_and_says_what_to_do(shift: Shift) -> None:
    with pytest.raises(NotKnownHere) as caught:
        labelled(shift.site, ShortId("7K3Q9XTR", "damage"))

    assert "7K3Q-9XTR-5" not in caught.value.sentences()[2]
    assert "not known on this tablet" in caught.value.sentences()[0]


@pytest.mark.parametrize("name", ["P41", "p41"])
def test_a_peg_is_found_by_its_name(shift: Shift, name: str) -> None:
    entered = peg(shift)

    found = thing_named(shift.site, name)
    assert found == thing_named(shift.site, found.code.readable.lower())
    assert (found.id, found.s_m) == (entered, Decimal("-1.2"))


def test_a_heading_bears_a_label_too(shift: Shift) -> None:
    place = shift.place(MAIN)

    assert thing_named(shift.site, MAIN).id == place.id
    assert isinstance(thing_named(shift.site, place.id), Labelled)


def test_a_name_of_two_things_asks_which(shift: Shift) -> None:
    peg(shift, name=MAIN)

    with pytest.raises(SeveralLabelled) as caught:
        thing_named(shift.site, MAIN)

    assert caught.value.several.count(MAIN) == 2


@pytest.mark.parametrize("name", ["P99", "7K3Q-9XTR-5", "torn mesh", "https://example.invalid"])
def test_what_bears_no_label_is_refused(shift: Shift, name: str) -> None:
    torn(shift)

    with pytest.raises(NothingLabelled):
        thing_named(shift.site, name)


def test_a_peg_s_name_stands_once_in_the_mine(shift: Shift) -> None:
    peg(shift)

    with pytest.raises(PegStandsAlready) as caught:
        peg(shift, name="p41", at="52.00")

    assert caught.value.place == f"{MAIN}, 38.25 m"


def test_a_peg_that_was_wrong_is_withdrawn_and_its_name_is_free(shift: Shift) -> None:
    peg(shift)
    (wrong,) = pegs(shift.site)
    shift.wait(minutes=1)
    withdraw(
        shift.site, wrong.entry.revision, shift.who("Geotechnical engineer"), reason="misread"
    )
    peg(shift, at="39.25")

    assert [it.body.chainage_m for it in pegs(shift.site)] == [Decimal("39.25")]


def test_pegs_are_listed_from_the_origin_to_the_face(shift: Shift) -> None:
    for name, at in (("B", "52.0"), ("A", "9.5"), ("C", "38.25")):
        peg(shift, name, at)

    assert [it.body.name for it in pegs(shift.site)] == ["A", "C", "B"]


def test_ids_made_at_one_moment_have_short_ids_of_their_own(shift: Shift) -> None:
    made = [new_thing_id(shift.site) for _ in range(50)]

    assert len({short_id("damage", it).digits for it in made}) == len(made)
    assert shift.clock() - shift.site.now() == timedelta()
