"""A repair that was verified here and refused, or said to be done anew, on another tablet."""

import pytest

from fieldapp.work.demo.story import MAIN
from fieldapp.work.known import Known, current
from fieldapp.work.rehab.steps import Done, finish, start
from fieldapp.work.rehab.troubles import SignedForOneSide
from fieldapp.work.share.disputes import disputes, settle
from fieldapp.work.writing import state
from schemas.bodies.rehab import Rehab, RehabState
from tests.unit.work.conftest import Shift
from tests.unit.work.damage.test_stating import BOLTER, TECHNICIAN
from tests.unit.work.rehab.test_steps import BARRIER, DAY, done, verified


def beside(shift: Shift, before: Known[Rehab], said: RehabState) -> None:
    """State what another tablet does that has not heard of what was stated here."""
    shift.wait(hours=1)
    body = before.body.model_copy(update={"state": said, "refused_because": "a plate is loose"})
    author, parents = shift.who(DAY).person_id, (before.entry.revision,)
    state(shift.site, "rehab", body, author=author, thing_id=before.id, parents=parents)


def refused_to_choose(shift: Shift) -> tuple[str, str, str]:
    """Choose the side that is verified."""
    (found,) = disputes(shift.site)
    sides = (found.left, found.right)
    chosen = next(it for it in sides if it.body["state"] == "verified")
    with pytest.raises(SignedForOneSide) as trouble:
        settle(shift.site, found, chosen, shift.who(TECHNICIAN))
    return trouble.value.sentences()


def test_the_verified_side_is_not_chosen_but_verified_once_more(shift: Shift) -> None:
    finished = done(shift)
    verified(shift, finished)
    beside(shift, finished, "refused")

    happened, kept, do_next = refused_to_choose(shift)
    assert "whoever signed it had not seen the other side" in happened
    assert kept == "Both sides stand, and the stricter entry with them."
    assert "go on with it on the rehab list (refused)" in do_next
    assert shift.entry(MAIN).state == "barricaded"

    start(shift.site, finished.id, shift.who(BOLTER), barricade=BARRIER)
    again = Done("restored", lap_openings=3, after=("photo",))
    verified(shift, finish(shift.site, finished.id, shift.who(BOLTER), again))
    assert disputes(shift.site) == ()
    assert [it.body.state for it in current(shift.site, "rehab", Rehab)] == ["verified"]


def test_beside_work_that_is_done_it_is_verified_once_more_at_once(shift: Shift) -> None:
    finished = done(shift)
    verified(shift, finished)
    beside(shift, finished, "done")

    assert "then verify it once more on the rehab list" in refused_to_choose(shift)[2]
    verified(shift, finished)
    assert disputes(shift.site) == ()
