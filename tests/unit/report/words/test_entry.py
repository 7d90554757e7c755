"""An entry in words: the line first, what is left before the face, then the way in."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

from fieldapp.assess.entry.facts import NoticeFact
from fieldapp.assess.entry.state import EntryState, HeadingFacts, RoundFact, entry_state
from fieldapp.report.words.entry import EntrySaid, entry_said
from fieldapp.report.words.lengths import FEET
from schemas.bodies.entry_notice import EntryNotice
from schemas.findings import Verdict

AT = datetime(2031, 5, 6, 9, 30, tzinfo=UTC)
NO_BREAK = "\N{NO-BREAK SPACE}"
SIGNED = RoundFact("87", 87, Decimal("607.60"), Decimal("611.28"), "accepted", Decimal("611.28"))


def state(*notices: EntryNotice, face_m: str = "612.02", known: bool = True) -> EntryState:
    """A heading accepted up to its last row at 611.28 m."""
    facts = HeadingFacts(
        last_row_m=Decimal("607.60"),
        face_m=Decimal(face_m),
        fired_from_m=Decimal("607.60"),
        face_allowance_m=Decimal("0.9"),
        two_rows_m=Decimal("1.8"),
        rounds=(SIGNED,),
        notices=tuple(map(NoticeFact, notices)),
        supported_before=not known,
    )
    return entry_state(facts, AT)


def said(*notices: EntryNotice, face_m: str = "612.02", known: bool = True) -> EntrySaid:
    return entry_said(state(*notices, face_m=face_m, known=known), "metres")


def restricted(from_m: str) -> EntryNotice:
    return EntryNotice(
        heading="4180 Main",
        what="restricted",
        from_m=Decimal(from_m),
        restricted_to="bolting crew only",
        until=AT + timedelta(hours=2),
    )


def test_the_line_is_said_in_metres_and_nobody_beyond() -> None:
    assert said().line == "to 611.2 m, nobody beyond"


def test_the_last_metres_are_no_entry_of_their_own() -> None:
    """Accepted or not: past the last row there is no support."""
    assert said().rest == (
        "from there to the face at 612.0 m: no accepted support, the next round supports it"
    )


def test_a_face_at_the_last_row_leaves_nothing_and_bears_the_tick() -> None:
    at_the_face = state(face_m="611.28")

    assert entry_said(at_the_face, "metres").line == "to 611.2 m, the face itself"
    assert entry_said(at_the_face, "metres").rest == ""
    assert at_the_face.mark is Verdict.ACCEPT


def test_a_face_beyond_the_last_row_bears_no_tick() -> None:
    assert state(face_m="611.29").mark is None


def test_what_closes_the_last_metres_is_said_with_its_reason() -> None:
    """More metres than the standard lets the face stand from the last row: not signed."""
    assert said(face_m="615.00").rest == (
        "from there to the face at 615.0 m: no entry, barrier not yet up, 3.72 m are not signed"
    )


def test_a_reason_that_begins_with_the_state_is_not_said_twice() -> None:
    notice = EntryNotice(heading="x", what="no entry", from_m=Decimal(600), reason="loose rock")
    barred = notice.model_copy(update={"what": "barrier up"})

    assert said(notice).rest.endswith("no entry, barrier not yet up, loose rock")
    assert said(barred).rest.endswith("612.0 m: barricaded: loose rock")
    assert said(notice).line == said(barred).line == "to 600.0 m, nobody beyond"


def test_a_restriction_on_the_way_in_is_said_of_the_way_in() -> None:
    """It restricts the ground up to the line; beyond it nobody goes as before."""
    words = said(restricted("590.00"))

    assert words.outbye == (
        "on the way in, outbye: restricted to bolting crew only until 11:30 UTC"
    )
    assert "no accepted support" in words.rest
    assert words.brief[0] == "nobody beyond, restricted until 11:30 UTC"


def test_a_restriction_from_the_line_on_opens_no_ground_without_accepted_support() -> None:
    """Whoever it names goes no farther than the line; up to there it restricts nobody."""
    words = said(restricted("611.28"))

    assert words.rest == (
        "from there to the face at 612.0 m: no accepted support, the next round supports it; "
        "restricted to bolting crew only until 11:30 UTC"
    )
    assert words.outbye == ""
    assert words.brief == ("nobody beyond",)


def test_ground_without_a_record_is_said_to_be_outbye() -> None:
    assert said(known=False).outbye == (
        "on the way in, outbye: not known, supported before this record"
    )


def test_however_little_room_there_is_it_says_why_nobody_goes_on() -> None:
    closed = said(face_m="615.00")

    assert closed.brief == ("nobody beyond, no barrier yet", "no barrier yet")
    assert said().brief == ("nobody beyond",)


def test_a_mine_that_reads_feet_is_told_no_metre() -> None:
    """611.28 m is 2005 ft 6.1 in, 615 m is 2017 ft 8.6 in, 3.72 m is 12 ft 2.5 in."""
    words = entry_said(state(face_m="615.00"), FEET)

    told = f"{words.line}; {words.rest}".replace(NO_BREAK, " ")
    assert told == (
        "to 2 005 ft 6 in, nobody beyond; from there to the face at 2 017 ft 9 in: no entry, "
        "barrier not yet up, 12 ft 2.5 in are not signed"
    )
