"""Who bolted a round: asked once, named where it matters, and never its signer."""

from dataclasses import replace

import pytest

from fieldapp.work.people import enrol, person
from fieldapp.work.picked_from import picked_from
from fieldapp.work.questions import Asker, Known, Question, next_question, questions
from fieldapp.work.round import RoundWork
from fieldapp.work.sign import STATES, OwnWork
from fieldapp.work.touches import BolterAnswered, InstallerNamed
from fieldapp.work.withdrawals import withdraw
from fieldapp.work.writing import written
from schemas.bodies.sign_off import Decision
from schemas.findings import Verdict
from schemas.signatures import sign
from tests.demo_mine import CODES
from tests.unit.work.conftest import Shift

DAY, NIGHT = "Day supervisor", "Night supervisor"


def asked(shift: Shift, work: RoundWork) -> tuple[Question, ...]:
    return questions(work, Asker(shift.clock(), shift.who().person_id), picked_from(shift.site))


def touched(shift: Shift, work: RoundWork, key: str, *labels: str) -> RoundWork:
    """Touch these chips of one question, one after the other."""
    for label in labels:
        found = next(it for it in asked(shift, work) if it.key == key)
        work = work.touched(next(it.touch for it in found.choices if it.label == label))
    return work


def not_said(shift: Shift) -> RoundWork:
    """Give a conforming round of which nobody has said who bolted it."""
    work = shift.look()
    others = tuple(it for it in work.touches if not isinstance(it, BolterAnswered))
    return replace(work, touches=others)


def bolted_by(shift: Shift, *names: str) -> RoundWork:
    work = touched(shift, not_said(shift), "bolter", "By name")
    return touched(shift, work, "installers", *names, "Nobody else")


def test_a_crew_that_checked_its_own_work_is_one_touch(shift: Shift) -> None:
    work = touched(shift, not_said(shift), "bolter", "crew B")

    assert (work.seen.bolter.crew, work.seen.bolter.done) == ("crew B", True)
    assert next_question(asked(shift, work)) is None


def test_people_who_bolted_it_are_named_one_by_one(shift: Shift) -> None:
    work = bolted_by(shift, "Bolter, crew A", NIGHT)
    ids = tuple(person(shift.site, name).id for name in ("Bolter, crew A", NIGHT))

    assert work.seen.installed_by == ids
    assert work.seen.bolter.done is True
    assert next_question(asked(shift, work)) is None


def test_whoever_was_named_is_not_offered_again(shift: Shift) -> None:
    work = touched(shift, not_said(shift), "bolter", "By name")
    first = next_question(asked(shift, work))
    then = next_question(asked(shift, touched(shift, work, "installers", NIGHT)))
    assert first is not None
    assert then is not None

    assert first.ask == "Who bolted it?"
    assert "Nobody else" not in [it.label for it in first.choices]
    assert then.ask == "Who else bolted it?"
    assert then.choices[0].label == "Nobody else"
    assert NIGHT not in [it.label for it in then.choices]


def test_bolters_are_offered_first_then_those_who_sign(shift: Shift) -> None:
    enrol(shift.site, "A bolter", ("bolter",), sign_code="918273", site_code=CODES["site"])
    names = [it.name for it in picked_from(shift.site).installers]

    assert names[:2] == ["A bolter", "Bolter, crew A"]
    assert set(names[2:5]) == {DAY, NIGHT, "Geotechnical engineer"}


def test_a_name_begun_and_not_given_leaves_the_round_not_to_be_accepted(shift: Shift) -> None:
    work = touched(shift, not_said(shift), "bolter", "By name")

    assert work.seen.bolter.done is None
    waiting = next_question(asked(shift, work))
    assert waiting is not None
    assert waiting.key == "installers"


def test_naming_again_begins_anew(shift: Shift) -> None:
    wrong = bolted_by(shift, NIGHT)
    work = touched(shift, wrong, "bolter", "By name")
    work = touched(shift, work, "installers", "Bolter, crew A", "Nobody else")

    assert work.seen.installed_by == (person(shift.site, "Bolter, crew A").id,)


def test_a_crew_that_was_helped_keeps_its_helper_s_name(shift: Shift) -> None:
    work = touched(shift, bolted_by(shift, NIGHT), "bolter", "crew A")

    assert work.seen.bolter.crew == "crew A"
    assert work.seen.installed_by == (person(shift.site, NIGHT).id,)


def test_who_bolted_it_is_asked_also_where_nobody_checked_it(shift: Shift) -> None:
    work = touched(shift, not_said(shift), "bolter", "Not checked")
    by_crew = touched(shift, work, "bolted by", "crew A")
    by_name = touched(shift, work, "bolted by", "By name")
    by_name = touched(shift, by_name, "installers", NIGHT)

    assert (by_crew.seen.bolter.crew, by_crew.seen.bolter.done) == ("crew A", False)
    assert by_name.seen.installed_by == (person(shift.site, NIGHT).id,)
    assert by_name.seen.bolter.done is False


def test_a_tablet_that_knows_nobody_offers_crews_alone(shift: Shift) -> None:
    known = Known(crews=("crew A",))
    found = questions(not_said(shift), Asker(shift.clock(), None), known)
    bolter = next(it for it in found if it.key == "bolter")

    assert [it.label for it in bolter.choices] == ["crew A", "Not checked"]


# --- signing ----------------------------------------------------------------------------------


@pytest.mark.parametrize("decision", ["accepted", "sent back", "barricaded"])
def test_a_supervisor_who_was_named_can_t_sign(shift: Shift, decision: Decision) -> None:
    with pytest.raises(OwnWork) as caught:
        shift.sign(bolted_by(shift, DAY), decision)

    assert (
        caught.value.sentences()[0] == "Day supervisor installed this round and can't sign it off."
    )


def test_another_supervisor_signs_it(shift: Shift) -> None:
    signed = shift.sign(bolted_by(shift, DAY), who=NIGHT)

    assert signed.sign_off.body.decision == "accepted"
    assert signed.round.body["installed_by"] == [person(shift.site, DAY).id]


def test_the_signer_states_that_they_did_not_install_it(shift: Shift) -> None:
    body = shift.sign(shift.look()).sign_off.body

    assert body.states == STATES
    assert STATES.endswith("I did not install this round.")


def accepted_by_an_installer(shift: Shift, decision: Decision) -> None:
    """Sign a round past the rule, as another program could: by the one who is named."""
    known = shift.sign(bolted_by(shift, NIGHT), "sent back").sign_off
    withdraw(shift.site, known.entry.revision, shift.who(), reason="by mistake")
    night = person(shift.site, NIGHT)
    key = shift.site.store.keys.unlock(night.id, CODES[NIGHT], now=shift.clock())
    changes = {"public_key": key.public_key, "signature": None, "decision": decision}
    body = known.body.model_copy(update=changes)
    entry = sign(written(shift.site, "sign_off", body, author=night.id), key)
    shift.site.store.ledger.add([entry])


def test_an_acceptance_by_who_installed_it_counts_as_none(shift: Shift) -> None:
    accepted_by_an_installer(shift, "accepted")
    state = shift.entry()

    assert state.verdict is not Verdict.ACCEPT
    assert any("the signer installed it" in why for why in state.because)


def test_what_makes_entry_stricter_an_installer_may_say(shift: Shift) -> None:
    accepted_by_an_installer(shift, "barricaded")

    assert not any("the signer installed it" in why for why in shift.entry().because)


def test_a_touch_of_an_older_draft_reads_as_before(shift: Shift) -> None:
    work = not_said(shift).touched(
        BolterAnswered(at=shift.clock(), by=None, done=True, crew="crew A")
    )
    named = work.touched(InstallerNamed(at=shift.clock(), person="x", checked=True))

    assert work.seen.bolter.crew == "crew A"
    assert named.touched(named.touches[-1]).seen.installed_by == ("x",)
