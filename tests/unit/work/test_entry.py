"""Where people may go: the strictest fact wins."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from shutil import copytree

from fieldapp.assess.readings import last_row_m
from fieldapp.start import open_site
from fieldapp.work.batches import doubt_batch
from fieldapp.work.demo.story import CUDDY, MAIN, ORE_N
from fieldapp.work.record import record
from fieldapp.work.rounds import look_again, rounds
from schemas.findings import Verdict
from tests.unit.work.conftest import Shift


def test_an_accepted_round_opens_the_heading_to_its_face(shift: Shift) -> None:
    assert [shift.entry(MAIN).state, shift.entry(MAIN).verdict] == [
        "entry allowed",
        Verdict.ACCEPT,
    ]


def test_the_entry_line_is_never_beyond_the_last_accepted_row(shift: Shift) -> None:
    accepted = rounds(shift.site, shift.place(MAIN).id)[-1].body

    assert shift.entry(MAIN).line_m <= last_row_m(accepted)


def test_a_round_sent_back_holds_entry_at_its_joint(shift: Shift) -> None:
    sent_back = rounds(shift.site, shift.place(ORE_N).id)[-1].body
    state = shift.entry(ORE_N)

    assert [state.line_m, state.verdict] == [sent_back.joint_m, Verdict.REWORK]


def test_a_round_that_was_never_signed_is_shown_as_such(shift: Shift) -> None:
    state = shift.entry(CUDDY)

    assert state.verdict is Verdict.NOT_LOOKED_AT
    assert state.metres_not_signed > Decimal("2.1")
    assert shift.row(CUDDY).last_round == "Not signed"


def test_a_draft_opens_nothing(shift: Shift) -> None:
    before = shift.entry().line_m
    shift.look()

    assert shift.entry().line_m == before


def test_accepting_a_round_moves_the_line_to_its_last_row(shift: Shift) -> None:
    work = shift.look()
    shift.sign(work)

    assert shift.entry().line_m == last_row_m(work.seen)
    assert shift.entry().state == "entry allowed"


def test_looking_again_ends_what_was_signed_before(shift: Shift) -> None:
    """A new revision that nobody signed is not covered by an older signature."""
    known = rounds(shift.site, shift.place(MAIN).id)[-1]
    work = look_again(shift.site, known.id, shift.who())
    record(shift.site, work, shift.who())
    state = shift.entry(MAIN)

    assert state.verdict is Verdict.NOT_LOOKED_AT
    assert state.line_m <= known.body.joint_m
    assert shift.row(MAIN).last_round == "Not signed"


def test_a_bad_batch_closes_no_heading(shift: Shift) -> None:
    before = shift.entry(MAIN)
    doubt_batch(shift.site, "RB24-0731", shift.who(), reason="sets too slowly")
    after = shift.entry(MAIN)

    assert replace(after, doubts=()) == before
    assert before.doubts == ()
    assert [it.title for it in after.doubts] == ["batch RB24-0731 in doubt, round 87"]


def second_tablet(shift: Shift, folder: Path) -> Shift:
    """Give a tablet that was set up from the same image."""
    shift.site.store.close()
    copytree(shift.home, folder)
    shift.reopened()
    return Shift(folder, shift.clock, open_site(folder, now=shift.clock))


def test_two_sign_offs_that_differ_stand_side_by_side_and_the_stricter_holds(
    shift: Shift, tmp_path: Path
) -> None:
    work = shift.look()
    other = second_tablet(shift, tmp_path / "other")
    shift.sign(work)
    other.sign(work, "sent back", "Night supervisor")
    shift.site.store.ledger.add(other.site.store.ledger.all())
    other.site.store.close()
    state = shift.entry()

    assert state.verdict is Verdict.NO_ENTRY
    assert state.line_m == work.seen.joint_m
    assert "stated differently by two people" in state.because[0]


def test_metres_signed_on_two_tablets_count_once(shift: Shift, tmp_path: Path) -> None:
    work = shift.look()
    other = second_tablet(shift, tmp_path / "other")
    shift.sign(work)
    once = shift.entry().coverage
    other.sign(work, "accepted", "Night supervisor")
    shift.site.store.ledger.add(other.site.store.ledger.all())
    other.site.store.close()

    assert shift.entry().coverage == once
