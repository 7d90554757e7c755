"""Damage found on a walk: what it means at once, and what two tablets make of one tear."""

from datetime import timedelta
from typing import Any

import pytest

from fieldapp.work.damage.stating import (
    DamageRefused,
    NoSuchDamage,
    correction_entry,
    damage_known,
    damages,
    decide_priority,
    preview,
    record_damage,
)
from fieldapp.work.demo.story import MAIN
from fieldapp.work.known import Known
from fieldapp.work.roles import NotYours
from fieldapp.work.share.disputes import disputes
from fieldapp.work.writing import state
from schemas.bodies.damage import Damage, DecidedPriority
from tests.unit.work.conftest import Shift

TECHNICIAN, ENGINEER, BOLTER = (
    "Geotechnical technician",
    "Geotechnical engineer",
    "Bolter, crew A",
)
AT_M = "590.4"
"""Outbye of the last accepted row of the heading."""


def tear(shift: Shift, **said: Any) -> Damage:
    body = {
        "heading": shift.place(MAIN).id,
        "seen_at": shift.clock(),
        "chainage_m": AT_M,
        "zone": "right shoulder",
        "kind": "torn mesh",
        "severity": "S3",
        "exposure": "E3",
        "extent": {"openings": 6, "above_floor": {"value_m": "2.4", "how": "tape"}},
    }
    return Damage.model_validate(body | said)


def record(shift: Shift, who: str | None = TECHNICIAN, **said: Any) -> Known[Damage]:
    return record_damage(shift.site, tear(shift, **said), shift.who(who) if who else None)


def because(shift: Shift) -> str:
    return "; ".join(shift.entry(MAIN).because)


def test_a_tear_over_a_travelway_restricts_entry_the_moment_it_is_kept(shift: Shift) -> None:
    before = shift.entry(MAIN)
    record(shift)
    after = shift.entry(MAIN)

    assert (before.outbye, after.outbye) == ("not known", "restricted")
    assert "restricted: torn mesh at 590.4 m, right shoulder, P2" in because(shift)
    assert "nobody on foot beneath until patched: hole of 6 openings" in because(shift)


def test_damage_that_closes_the_place_stops_everybody_short_of_it(shift: Shift) -> None:
    record(shift, severity="S5")
    entry = shift.entry(MAIN)

    assert str(entry.line_m) == AT_M
    assert entry.state == "no entry, barrier not yet up"


def test_anyone_states_damage_signed_in_or_not(shift: Shift) -> None:
    record(shift, who=None)

    assert shift.entry(MAIN).outbye == "restricted"


def test_it_names_the_standard_by_which_it_was_judged(shift: Shift) -> None:
    assert record(shift).body.standard is not None


def test_what_is_about_to_be_kept_is_ranked_before_it_is_kept(shift: Shift) -> None:
    shown = preview(shift.site, tear(shift))

    assert (shown.priority, shown.due_at) == ("P2", shift.clock() + timedelta(days=7))
    assert damages(shift.site, shift.clock()) == ()


def test_two_tablets_that_see_one_tear_agree_on_one_damage_with_two_observations(
    shift: Shift,
) -> None:
    first = record(shift)
    shift.wait(days=30)
    again = record(shift, again=first.id, extent={"openings": 9})
    (known,) = damages(shift.site, shift.clock())

    assert (known.id, len(known.damage.seen)) == (first.id, 2)
    assert "hole grown from 6 to 9 openings, by 50 %" in known.ranked.because
    assert known.ranked.priority == "P1", "P2 by the table, raised by one for its growth"
    assert disputes(shift.site) == ()
    assert damage_known(shift.site, again.id, shift.clock()).id == first.id


def test_seeing_an_observation_again_is_seeing_the_damage_again(shift: Shift) -> None:
    first = record(shift)
    second = record(shift, again=first.id)

    assert record(shift, again=second.id).body.again == first.id


def test_what_is_seen_again_must_be_known_in_that_heading(shift: Shift) -> None:
    with pytest.raises(NoSuchDamage):
        record(shift, again="0197b0aa-0000-7000-8000-000000000000")


@pytest.mark.parametrize(
    ("said", "reason"),
    [
        ({"chainage_m": "5904"}, "the face is at"),
        ({"to_m": "590"}, "it would end at 590 m"),
        ({"severity": "R3"}, "has no severity R3"),
        ({"exposure": "sometimes"}, "has no exposure sometimes"),
    ],
)
def test_damage_that_can_t_be_there_is_refused(
    shift: Shift, said: dict[str, str], reason: str
) -> None:
    with pytest.raises(DamageRefused, match=reason):
        record(shift, **said)


def test_a_correction_by_who_may_makes_it_milder(shift: Shift) -> None:
    known = record(shift, severity="S5")
    milder = tear(shift, severity="S1", kind="plate gone", extent={})
    entry, _ = correction_entry(shift.site, known.id, milder, shift.who(TECHNICIAN))
    shift.site.store.ledger.add([entry])

    assert shift.entry(MAIN).outbye == "not known"


def test_a_bolter_corrects_nothing(shift: Shift) -> None:
    known = record(shift)

    with pytest.raises(NotYours):
        correction_entry(shift.site, known.id, known.body, shift.who(BOLTER))


def test_a_milder_revision_from_who_may_not_counts_as_not_said(shift: Shift) -> None:
    """As another program could write it."""
    known = record(shift, severity="S5")
    milder = tear(shift, severity="S0", kind="other", extent={})
    parents = (known.entry.revision,)
    author = shift.who(BOLTER).person_id
    state(shift.site, "damage", milder, author=author, thing_id=known.id, parents=parents)

    assert shift.entry(MAIN).state == "no entry, barrier not yet up"


BULKHEAD = DecidedPriority(priority="P3", because="behind the bulkhead from tonight")


def test_an_engineer_decides_in_place_of_the_table(shift: Shift) -> None:
    first = record(shift, severity="S5", kind="plate gone", extent={})
    shift.wait(minutes=5)
    decide_priority(shift.site, first.id, BULKHEAD, shift.who(ENGINEER))
    (known,) = damages(shift.site, shift.clock())

    assert known.ranked.priority == "P3"
    assert known.ranked.because[0] == (
        "P3, decided by an engineer: behind the bulkhead from tonight"
    )
    assert shift.entry(MAIN).outbye == "not known"


def test_a_decision_opens_no_ground_beneath_a_hole(shift: Shift) -> None:
    first = record(shift)
    shift.wait(minutes=5)
    decide_priority(shift.site, first.id, BULKHEAD, shift.who(ENGINEER))

    assert shift.entry(MAIN).outbye == "restricted"


def test_nobody_but_an_engineer_decides_and_only_on_a_priority_that_there_is(
    shift: Shift,
) -> None:
    first = record(shift)
    nowhere = DecidedPriority(priority="P9", because="as agreed")

    with pytest.raises(NotYours):
        decide_priority(shift.site, first.id, BULKHEAD, shift.who(TECHNICIAN))
    with pytest.raises(DamageRefused, match="has no priority P9"):
        decide_priority(shift.site, first.id, nowhere, shift.who(ENGINEER))


def test_the_list_begins_where_nobody_may_be_then_with_what_is_overdue(shift: Shift) -> None:
    mild = record(shift, severity="S2", exposure="E4", kind="plate gone", extent={})
    shift.wait(days=8)
    later = record(shift, severity="S2", exposure="E4", kind="plate gone", extent={})
    grave = record(shift, severity="S5")
    known = damages(shift.site, shift.clock())

    assert [it.id for it in known] == [grave.id, mild.id, later.id]
    assert "overdue by 1 day, escalated" in known[1].ranked.because
