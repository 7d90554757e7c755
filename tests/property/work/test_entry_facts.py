"""Whatever is known of a heading: more said never opens ground, nor does time alone."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from random import Random
from typing import Any, get_args

from hypothesis import given
from hypothesis import strategies as st

from fieldapp.assess.entry.facts import CablesFact, DamageFact, NoticeFact, RepairFact
from fieldapp.assess.entry.state import (
    STRICTNESS,
    EntryState,
    EventFact,
    HeadingFacts,
    RoundFact,
    entry_state,
)
from schemas.bodies.entry_notice import EntryNotice
from schemas.bodies.event import Event
from schemas.bodies.intersection import CableStep
from schemas.bodies.rehab import RehabState

AT = datetime(2031, 5, 6, 9, tzinfo=UTC)
START_M = 100
CLOSED = STRICTNESS[3:]

metres = st.integers(0, 1300).map(lambda tenths: Decimal(tenths) / 10)
hours = st.integers(-48, 48).map(lambda of: AT + timedelta(hours=of))
seldom = st.integers(0, 11).map(lambda drawn: drawn == 0)
decisions = st.sampled_from([*["accepted"] * 12, "sent back", "barricaded", None])
HOLES_M = (*[Decimal(0)] * 9, Decimal("0.6"))
"""Between a round and the next: most of what is drawn stays open, or nothing could open it."""


@st.composite
def rounds(draw: Any) -> tuple[RoundFact, ...]:
    """Give rounds that follow each other, now and then with a hole between them."""
    joint, facts = Decimal(START_M), []
    for number in range(draw(st.integers(0, 4))):
        joint += draw(st.sampled_from(HOLES_M))
        last = joint + draw(st.sampled_from([Decimal("2.4"), Decimal("3.6")]))
        decision = draw(decisions)
        line = last - draw(st.sampled_from([Decimal(0), Decimal("0.1")]))
        facts.append(
            RoundFact(
                round_id=str(number),
                number=number + draw(seldom),
                joint_m=joint,
                last_row_m=last,
                decision=decision,
                entry_line_m=None
                if decision is None
                else line
                if decision == "accepted"
                else joint,
                permitted_until=draw(st.none() | hours),
                in_dispute=draw(seldom),
                looked_at_again=draw(seldom),
            )
        )
        joint = last
    return tuple(facts)


@st.composite
def events(draw: Any) -> EventFact:
    at = draw(hours)
    until = at + timedelta(hours=draw(st.integers(0, 24)))
    what = draw(st.sampled_from(["fired", "seismic", "fall of ground", "vehicle strike"]))
    inspected = draw(st.none() | hours)
    event = Event(
        heading="heading",
        what=what,
        at=at,
        chainage_m=draw(metres),
        radius_m=Decimal(draw(st.sampled_from([0, 5, 30]))),
        excluded_until=until,
        fired_m=draw(st.sampled_from([None, Decimal("3.6")])) if what == "fired" else None,
    )
    known = inspected if inspected is not None and inspected <= AT else None
    return EventFact(str(at), event, known, draw(st.none() | metres))


@st.composite
def notices(draw: Any) -> EntryNotice:
    what = draw(st.sampled_from(["no entry", "barrier up", *["restricted"] * 4]))
    return EntryNotice(
        heading="heading",
        what=what,
        from_m=draw(metres),
        restricted_to="light vehicles" if what == "restricted" else None,
        until=draw(st.none() | hours) if what == "restricted" else None,
    )


@st.composite
def damages(draw: Any) -> DamageFact:
    holds = draw(st.sampled_from(["no entry", "restricted", "restricted"]))
    return DamageFact("damage", draw(metres), holds, "torn mesh")


@st.composite
def repairs(draw: Any) -> RepairFact:
    how_far = draw(st.sampled_from(get_args(RehabState)))
    from_m = draw(metres)
    barrier_m = draw(st.none() | metres)
    return RepairFact("repair", from_m, from_m + 4, how_far, "", barrier_m)


@st.composite
def cables(draw: Any) -> CablesFact:
    """Give cables after any steps, in any order, at any time that has come."""
    come = st.integers(-48, 0).map(lambda of: AT + timedelta(hours=of))
    from_m = draw(metres)
    counts = st.sampled_from([12, 12, 12, 12, 3, 0])
    return CablesFact(
        "junction",
        from_m,
        from_m + 8,
        cables=12,
        done={step: draw(counts) for step in get_args(CableStep)[1:]},
        grouted_at=draw(come),
        plated_at=draw(come),
        stands_plated=not draw(seldom),
        cures_h=draw(st.sampled_from([None, Decimal(0), Decimal(24)])),
    )


@st.composite
def headings(draw: Any) -> HeadingFacts:
    seen = draw(rounds())
    last = max([Decimal(START_M), *(fact.last_row_m for fact in seen)])
    return HeadingFacts(
        last_row_m=Decimal(START_M),
        face_m=last + draw(st.sampled_from([Decimal("0.8"), Decimal("4.0")])),
        fired_from_m=Decimal(START_M) + Decimal("0.8"),
        face_allowance_m=Decimal(1),
        two_rows_m=Decimal("1.8"),
        rounds=seen,
        events=tuple(draw(st.lists(events(), max_size=1))),
        notices=tuple(map(NoticeFact, draw(st.lists(notices(), max_size=2)))),
        damages=tuple(draw(st.lists(damages(), max_size=2))),
        repairs=tuple(draw(st.lists(repairs(), max_size=1))),
        cables=tuple(draw(st.lists(cables(), max_size=1))),
        newest_at=draw(st.none() | hours),
        supported_before=draw(st.booleans()),
        other_way_out=draw(st.booleans()),
    )


def no_milder(after: EntryState, before: EntryState) -> bool:
    """Whether nobody is let farther in, or told less of why not."""
    held = before.state not in CLOSED or after.state in CLOSED
    opened = after.state == "entry allowed" and before.state != "entry allowed"
    graver = after.verdict.gravity >= before.verdict.gravity
    return after.line_m <= before.line_m and graver and held and not opened


@given(headings(), notices())
def test_a_notice_more_never_lets_anybody_farther_in(
    facts: HeadingFacts, more: EntryNotice
) -> None:
    said = replace(facts, notices=(*facts.notices, NoticeFact(more)))

    assert no_milder(entry_state(said, AT), entry_state(facts, AT))


@given(headings(), events())
def test_an_event_more_never_lets_anybody_farther_in(facts: HeadingFacts, more: EventFact) -> None:
    happened = replace(facts, events=(*facts.events, more))

    assert no_milder(entry_state(happened, AT), entry_state(facts, AT))


@given(headings(), damages())
def test_damage_more_never_lets_anybody_farther_in(facts: HeadingFacts, more: DamageFact) -> None:
    seen = replace(facts, damages=(*facts.damages, more))

    assert no_milder(entry_state(seen, AT), entry_state(facts, AT))


@given(headings(), repairs())
def test_a_repair_more_never_lets_anybody_farther_in(
    facts: HeadingFacts, more: RepairFact
) -> None:
    begun = replace(facts, repairs=(*facts.repairs, more))

    assert no_milder(entry_state(begun, AT), entry_state(facts, AT))


@given(headings(), cables())
def test_an_intersection_more_never_lets_anybody_farther_in(
    facts: HeadingFacts, more: CablesFact
) -> None:
    opened = replace(facts, cables=(*facts.cables, more))

    assert no_milder(entry_state(opened, AT), entry_state(facts, AT))


@given(headings(), st.sampled_from(("not_whole", "revoked")))
def test_records_that_nobody_can_go_by_let_nobody_in(facts: HeadingFacts, why: str) -> None:
    changed: dict[str, Any] = {why: True}
    state = entry_state(replace(facts, **changed), AT)

    assert no_milder(state, entry_state(facts, AT))
    assert state.state != "entry allowed"
    assert state.line_m == 0


@given(headings(), st.integers(0, 400))
def test_time_alone_lifts_nothing(facts: HeadingFacts, minutes: int) -> None:
    later = AT + timedelta(minutes=minutes)

    assert no_milder(entry_state(facts, later), entry_state(facts, AT))


@given(headings(), st.integers(0, 10_000))
def test_a_clock_set_back_lifts_nothing(facts: HeadingFacts, minutes: int) -> None:
    """What was known at a time is known before it too."""
    known = replace(facts, newest_at=max(AT, facts.newest_at or AT))
    back = AT - timedelta(minutes=minutes)

    assert no_milder(entry_state(known, back), entry_state(known, AT))


@given(headings())
def test_a_permission_never_outlives_its_end(facts: HeadingFacts) -> None:
    said = [it.notice for it in facts.notices]
    ended = [it for it in said if it.until is not None and it.until <= AT]
    state = entry_state(facts, AT)
    lapsed = [
        fact
        for fact in facts.rounds
        if fact.decision == "accepted" and fact.permitted_until and fact.permitted_until <= AT
    ]

    assert all(state.line_m <= it.from_m for it in ended)
    assert all(state.line_m <= fact.joint_m for fact in lapsed)
    assert state.state in CLOSED or not (ended or lapsed)
    assert state.until is None or state.until > AT


@given(headings(), st.randoms(use_true_random=False))
def test_the_order_of_facts_never_matters(facts: HeadingFacts, chance: Random) -> None:
    shuffled = replace(
        facts,
        rounds=tuple(chance.sample(facts.rounds, len(facts.rounds))),
        events=tuple(chance.sample(facts.events, len(facts.events))),
        notices=tuple(chance.sample(facts.notices, len(facts.notices))),
        damages=tuple(chance.sample(facts.damages, len(facts.damages))),
    )
    state, other = entry_state(facts, AT), entry_state(shuffled, AT)

    assert replace(state, reasons=(), doubts=()) == replace(other, reasons=(), doubts=())
    assert set(state.reasons) == set(other.reasons)


@given(headings())
def test_nobody_is_let_past_the_last_accepted_row(facts: HeadingFacts) -> None:
    rows = [fact.last_row_m for fact in facts.rounds if fact.decision == "accepted"]

    assert entry_state(facts, AT).line_m <= max([facts.last_row_m, *rows])
