"""A new revision of the standard: made from the last, checked as it is edited, signed."""

from collections.abc import Iterator
from datetime import timedelta
from typing import Any

import pytest

from fieldapp.start import open_site
from fieldapp.work.own_keys import NotSigned
from fieldapp.work.roles import NotYours
from fieldapp.work.signatures import signature_fits
from fieldapp.work.standard_editing import (
    NotYetSound,
    StandardWork,
    TooEarly,
    begin_revision,
    changes,
    discard,
    groups_of_class,
    groups_of_mine,
    judged_differently,
    open_revision,
    put_in,
    rounds_of_the_past_year,
    set_field,
    sign_revision,
    take_away,
    undo,
)
from fieldapp.work.standard_editing.fields import NOT_EDITED
from fieldapp.work.standard_in_force import in_force, to_come
from schemas.findings import Verdict
from schemas.standard import Standard
from tests.demo_mine import CODES
from tests.unit.work.conftest import Shift

ENGINEER = "Geotechnical engineer"
PATTERN = ("classes", 0, "pattern")
SPACING = (*PATTERN, "bolt_spacing_m")
TO_FACE = ("classes", 0, "limits", "last_row_to_face", "at_most_m")


def begun(shift: Shift) -> StandardWork:
    return begin_revision(shift.site, shift.who(ENGINEER))


def changed(shift: Shift, steps: tuple[str | int, ...], value: Any) -> StandardWork:
    return set_field(shift.site, begun(shift), steps, value, None)


def test_only_a_geotechnical_engineer_changes_the_standard(shift: Shift) -> None:
    with pytest.raises(NotYours):
        begin_revision(shift.site, shift.who())


def test_a_new_revision_begins_as_the_one_before(shift: Shift) -> None:
    work = begun(shift)

    assert changes(work.base, work.document) == ()
    assert work.document["revision"] == work.base["revision"] + 1
    assert work.refusals == ()


def test_what_was_changed_is_said_beside_what_it_was(shift: Shift) -> None:
    work = changed(shift, SPACING, "1.25")

    (change,) = changes(work.base, work.document)
    assert change.sentence == "Classes D1, pattern, bolt spacing (m): 1.25, was 1.3"


def test_a_touch_is_there_after_a_restart_and_can_be_taken_back(shift: Shift) -> None:
    work = changed(shift, SPACING, "1.25")
    shift.site.store.close()
    site = open_site(shift.home, now=shift.clock)
    again = open_revision(site)

    assert again is not None
    assert again.document == work.document
    assert undo(site, again, None).document == begun_document(again)
    site.store.close()


def begun_document(work: StandardWork) -> dict[str, Any]:
    return {**work.base, "revision": work.base["revision"] + 1}


def test_a_pattern_that_its_own_gap_limit_would_rework_is_refused_as_it_is_edited(
    shift: Shift,
) -> None:
    work = changed(shift, (*PATTERN, "row_spacing_m"), "1.2")

    assert "$.classes[0].limits.largest_gap.at_most_m" in [it.path for it in work.refusals]
    with pytest.raises(NotYetSound):
        sign(shift, work)


def test_a_part_that_is_put_in_is_refused_until_its_figures_are_there(shift: Shift) -> None:
    steps = ("classes", 0, "shotcrete")
    work = put_in(shift.site, begun(shift), steps, None)

    assert work.refusals[0].path.startswith("$.classes[0].shotcrete")
    assert work.document["classes"][0]["shotcrete"]["thickness_mm"] is None


def test_one_more_of_a_list_begins_as_the_last_and_one_may_be_taken_away(shift: Shift) -> None:
    work = put_in(shift.site, begun(shift), ("classes", 0, "bolts"), None)
    bolts = work.document["classes"][0]["bolts"]

    assert bolts[-1] == bolts[-2]
    less = take_away(shift.site, work, ("classes", 0, "bolts", len(bolts) - 1), None)
    assert changes(less.base, less.document) == ()


def test_a_signed_revision_is_in_force_and_bears_the_engineer_s_signature(shift: Shift) -> None:
    before = in_force(shift.site, shift.clock()).body
    signed = sign(shift, changed(shift, TO_FACE, "0.9"))

    now = in_force(shift.site, shift.clock())
    assert now.entry.revision == signed.entry.revision
    assert (now.body.revision, now.body.approved_by) == (before.revision + 1, ENGINEER)
    assert signature_fits(shift.site, now.entry)
    assert open_revision(shift.site) is None


def test_a_revision_comes_into_force_on_its_day_and_not_before(shift: Shift) -> None:
    before = in_force(shift.site, shift.clock()).entry.revision
    since = shift.clock() + timedelta(days=3)
    signed = sign(shift, changed(shift, TO_FACE, "0.9"), since)

    assert in_force(shift.site, shift.clock()).entry.revision == before
    assert in_force(shift.site, since).entry.revision == signed.entry.revision
    coming = to_come(shift.site, shift.clock())
    assert coming is not None
    assert coming.entry.revision == signed.entry.revision
    assert to_come(shift.site, since) is None


def test_no_revision_is_in_force_before_it_was_signed(shift: Shift) -> None:
    with pytest.raises(TooEarly):
        sign(shift, changed(shift, TO_FACE, "0.9"), shift.clock() - timedelta(hours=1))


def test_another_code_signs_nothing(shift: Shift) -> None:
    work = changed(shift, TO_FACE, "0.9")
    with pytest.raises(NotSigned):
        sign_revision(shift.site, work, None, shift.who(ENGINEER), CODES["Day supervisor"])

    assert open_revision(shift.site) is not None


def test_what_is_let_go_is_begun_anew(shift: Shift) -> None:
    discard(shift.site, changed(shift, TO_FACE, "0.9"))

    assert changes(begun(shift).base, begun(shift).document) == ()


def test_a_stricter_limit_says_which_rounds_of_the_past_year_it_would_have_judged_otherwise(
    shift: Shift,
) -> None:
    work = changed(shift, TO_FACE, "0.4")
    assert isinstance(work.standard, Standard)
    past = rounds_of_the_past_year(shift.site)
    found = [judged_differently(shift.site, it, work.base_revision, work.standard) for it in past]
    named = [it for it in found if it is not None]

    assert named
    assert all("Last row to face" in [one.title for one in it.checks] for it in named)
    assert any(
        (one.before, one.after) == (Verdict.ACCEPT, Verdict.REWORK)
        for it in named
        for one in it.checks
    )


def test_the_same_standard_judges_no_round_differently(shift: Shift) -> None:
    work = begun(shift)
    assert isinstance(work.standard, Standard)
    past = rounds_of_the_past_year(shift.site)

    assert past
    assert not any(
        judged_differently(shift.site, it, work.base_revision, work.standard) for it in past
    )


def test_every_figure_of_the_standard_can_be_edited(shift: Shift) -> None:
    document = begun(shift).document
    groups = [*groups_of_mine(document)]
    for number in range(len(document["classes"])):
        groups += groups_of_class(document, number)
    editable = {it.steps for group in groups for it in group.fields}
    of_the_whole = {(it,) for it in NOT_EDITED}

    assert set(leaves(document, ())) - editable <= of_the_whole


def leaves(value: Any, steps: tuple[str | int, ...]) -> Iterator[tuple[str | int, ...]]:
    """Yield the place of everything that is no part of its own; words in a list are one."""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from leaves(inner, (*steps, name))
    elif isinstance(value, list) and value and isinstance(value[0], dict):
        for number, inner in enumerate(value):
            yield from leaves(inner, (*steps, number))
    else:
        yield steps


def sign(shift: Shift, work: StandardWork, since: Any = None) -> Any:
    return sign_revision(shift.site, work, since, shift.who(ENGINEER), CODES[ENGINEER])
