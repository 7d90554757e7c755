"""Stripping takes the support of a stretch away: what was signed for it counts no longer."""

from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal

import pytest
from pydantic import ValidationError

from fieldapp.assess.entry.facts import EventFact, HeadingFacts, RoundFact
from fieldapp.assess.entry.state import EntryState, entry_state
from schemas.bodies.event import Event, Stripped
from schemas.bodies.sign_off import Decision

AT = datetime(2031, 5, 6, 9, tzinfo=UTC)


def round_of(
    joint: str, last_row: str, *, over: str = "", decision: Decision | None = "accepted"
) -> RoundFact:
    """Give a round of the advance, or one over old support up to the row where that ends."""
    return RoundFact(
        round_id=f"{joint} {over}",
        number=1 if over else int(Decimal(joint)),
        joint_m=Decimal(joint),
        last_row_m=Decimal(last_row),
        decision=decision,
        entry_line_m=Decimal(last_row),
        face_m=Decimal(over) if over else Decimal("110.0"),
        over_old=bool(over),
        after=("stripping",) if over else (),
    )


def stripping(from_m: str, to_m: str, *zones: str) -> EventFact:
    body = Event.model_validate(
        {
            "heading": "h",
            "what": "stripped",
            "at": AT,
            "chainage_m": from_m,
            "radius_m": "0",
            "excluded_until": AT,
            "stripped": {"to_m": to_m, "zones": zones},
        }
    )
    return EventFact("stripping", body)


ADVANCE = round_of("100.0", "109.4")
FACTS = HeadingFacts(
    last_row_m=Decimal("100.0"),
    face_m=Decimal("110.0"),
    fired_from_m=Decimal("100.0"),
    face_allowance_m=Decimal("1.0"),
    two_rows_m=Decimal("2.4"),
    rounds=(ADVANCE,),
)
STRIPPED = replace(FACTS, events=(stripping("104.0", "107.0", "left wall"),))


def after(*rounds: RoundFact) -> EntryState:
    return entry_state(replace(STRIPPED, rounds=(ADVANCE, *rounds)), AT)


def test_entry_ends_two_rows_before_stripped_ground_at_once() -> None:
    """104.0 less two rows of 1.2 m, which the stripping may have loosened."""
    assert entry_state(FACTS, AT).line_m == Decimal("109.4")

    assert (after().line_m, after().state) == (Decimal("101.6"), "no entry, barrier not yet up")
    assert after().because[0] == (
        "left wall stripped from 104.0 to 107.0 m: no new support is accepted"
    )


def test_stripped_metres_are_not_signed_any_more() -> None:
    """Of 10.0 m fired and signed 3.0 m are stripped; 0.6 m lie before the face anyhow."""
    before, now = entry_state(FACTS, AT), after()

    assert (before.coverage.signed_m, now.coverage.signed_m) == (Decimal(10), Decimal(7))
    assert now.metres_not_signed - before.metres_not_signed == Decimal(3)


def test_new_support_over_all_of_it_gives_entry_and_metres_back_counted_once() -> None:
    now = after(round_of("103.0", "106.5", over="107.0"))

    assert (now.line_m, now.state) == (Decimal("109.4"), entry_state(FACTS, AT).state)
    assert now.coverage == entry_state(FACTS, AT).coverage


def test_new_support_over_the_outbye_part_opens_that_part() -> None:
    assert after(round_of("103.0", "105.0", over="105.4")).line_m == Decimal("105.4")


def test_rows_that_end_too_far_from_the_old_row_inbye_leave_the_rest_bare() -> None:
    """The last row at 105.4 m is 1.6 m from the row at 107.0 m; 1.0 m is allowed."""
    assert after(round_of("103.0", "105.4", over="107.0")).line_m == Decimal("105.4")


@pytest.mark.parametrize("decision", ["sent back", "barricaded", None])
def test_new_support_that_was_not_accepted_gives_nothing_back(decision: Decision | None) -> None:
    now = after(round_of("103.0", "106.5", over="107.0", decision=decision))

    assert now.line_m <= Decimal("101.6")
    assert now.coverage.signed_m == Decimal(7)


def test_a_round_that_was_begun_before_the_stripping_answers_it_never() -> None:
    before = replace(round_of("103.0", "106.5", over="107.0"), after=())

    assert after(before).line_m == Decimal("101.6")


def test_no_round_of_the_advance_gives_it_back_nor_any_clock_or_look() -> None:
    later = replace(STRIPPED, rounds=(replace(ADVANCE, after=("stripping",)),))
    looked = replace(
        later, events=(replace(STRIPPED.events[0], inspected_at=AT.replace(year=2032)),)
    )

    assert entry_state(looked, AT.replace(year=2033)).line_m == Decimal("101.6")


def test_a_stripping_that_was_typed_beyond_the_face_closes_what_lies_before_it() -> None:
    typed = replace(FACTS, events=(stripping("904.0", "907.0"),))

    assert entry_state(typed, AT).line_m == Decimal("107.0")
    assert entry_state(typed, AT).because[0].startswith("all around stripped from 904.0")


def test_new_support_over_old_takes_the_heading_no_step_inbye() -> None:
    beyond = round_of("109.4", "113.0", over="113.4")
    now = entry_state(replace(FACTS, rounds=(ADVANCE, beyond)), AT)

    assert now.line_m == Decimal("109.4")


def test_an_old_drive_is_known_once_all_of_it_is_supported_anew() -> None:
    old = replace(FACTS, supported_before=True)
    half, rest = round_of("0", "49.6", over="50.0"), round_of("50.0", "99.6", over="100.0")
    rest = replace(rest, number=2, round_id="rest")

    assert entry_state(replace(old, rounds=(ADVANCE, half)), AT).outbye == "not known"
    assert entry_state(replace(old, rounds=(ADVANCE, half, rest)), AT).outbye == "entry allowed"


@pytest.mark.parametrize(
    "said",
    [
        {"what": "stripped"},
        {"what": "fired", "stripped": {"to_m": "107.0"}},
        {"what": "stripped", "stripped": {"to_m": "104.0"}},
    ],
)
def test_a_stripping_without_a_stretch_is_none(said: dict[str, object]) -> None:
    good = STRIPPED.events[0].event.model_dump(exclude={"stripped", "what"})

    with pytest.raises(ValidationError):
        Event.model_validate(good | said)


def test_a_stretch_of_several_walls_names_each() -> None:
    both = Stripped(to_m=Decimal(107), zones=("left wall", "right wall"))

    assert both.zones == ("left wall", "right wall")
