"""The demo's past: rounds that every check accepts, and crews that are told apart by them.

The truth stands in `fieldapp/work/demo/history/truth.py`. It is found again from what people
stated, and from nothing else.
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from statistics import fmean

import pytest

from fieldapp.assess import assess, judged_by
from fieldapp.start import open_site
from fieldapp.work.demo import make_demo
from fieldapp.work.demo.history import History
from fieldapp.work.demo.history.truth import CREW_A, CREW_B, CREW_C, CREWS, Crew
from fieldapp.work.demo.story import CUDDY, HEADINGS, DemoHeading
from fieldapp.work.entry import entry
from fieldapp.work.heading_record import heading_record
from fieldapp.work.headings import heading, headings
from fieldapp.work.judging import judged_bundle
from fieldapp.work.known import stated
from fieldapp.work.sign import assessment_hash
from fieldapp.work.signatures import signatures_that_do_not_fit
from fieldapp.work.signed import sign_offs
from schemas.bodies.round import Round
from schemas.bodies.sign_off import SignOff
from schemas.standard import Standard
from tests.demo_mine import SetClock
from tests.past import Past, holds, share

IN_HASTE = timedelta(seconds=6)
WHOLE = History.of


@pytest.mark.parametrize("place", HEADINGS, ids=lambda it: it.name)
def test_each_heading_stands_where_the_story_of_the_last_days_begins(
    place: DemoHeading, past: Past
) -> None:
    known = heading(past.site, place.name)
    record, state = heading_record(past.site, known.id), entry(past.site, known.id, past.now)

    assert (state.state, state.because) == ("entry allowed", ())
    assert (record.face_m, state.line_m) == (Decimal(place.face_m), Decimal(place.last_row_m))
    assert max([record.place.last_round, *(it.number for it in record.rounds)]) == place.last_round


def test_everything_that_was_fired_in_it_lies_under_accepted_rounds(past: Past) -> None:
    for place in headings(past.site):
        covered = entry(past.site, place.id, past.now).coverage

        assert covered.signed_m == covered.fired_m, place.body.name
    assert len(past.rounds) >= 200


def test_its_records_are_sound_sealed_and_signed(past: Past) -> None:
    assert past.site.store.check().waiting == 0
    assert signatures_that_do_not_fit(past.site) == ()


def test_a_round_that_is_judged_again_comes_to_what_was_signed(past: Past) -> None:
    for known in past.rounds[::20]:
        signed = sign_offs(past.site, known.id)[-1]
        assessment = assess(judged_bundle(past.site, known, signed, past.now))

        assert assessment_hash(assessment) == signed.body.assessment
        assert assessment.may_be_accepted


def test_some_checks_alone_find_what_the_whole_assessment_says_of_them(past: Past) -> None:
    """As trends judge rounds: what is followed of them is what was signed."""
    followed = ("largest_gap", "last_row_to_face", "mesh_lap")
    for known in past.rounds[::20]:
        bundle = judged_bundle(past.site, known, sign_offs(past.site, known.id)[0], past.now)
        whole = assess(bundle).findings

        assert judged_by(bundle, followed) == tuple(it for it in whole if it.check in followed)


def test_the_same_seed_tells_the_same_past_entry_for_entry(tmp_path: Path) -> None:
    """As far as one heading's rounds and walks show it."""
    told = [list(_lines_of_a_part(tmp_path / name)) for name in ("first", "second")]

    assert told[0] == told[1]
    assert len(told[0]) > 80


def _lines_of_a_part(home: Path) -> Iterator[bytes]:
    site = open_site(home, now=SetClock())
    with site.store, pytest.MonkeyPatch.context() as patch:
        patch.setattr(History, "of", _a_part)
        make_demo(site, past=lambda _: None, story=())
        yield from (it.line for it in site.store.ledger.all() if it.kind != "tablet")


def _a_part(standard: Standard) -> History:
    whole = WHOLE(standard)
    rounds = {name: of if name == CUDDY else () for name, of in whole.rounds.items()}
    return replace(
        whole, rounds=rounds, damages=(), events=(), tests=(), cores=(), walked=(CUDDY,)
    )


# --- crews -------------------------------------------------------------------------------------


def passes_first(past: Past, crew: Crew) -> list[bool]:
    """Tell of each round of a crew whether the first sign-off accepted it."""
    first: dict[str, bool] = {}
    for it in sorted(stated(past.site, "sign_off", SignOff), key=lambda it: it.entry.clock):
        first.setdefault(it.body.round, it.body.decision == "accepted")
    return [first[it.id] for it in past.of(crew)]


@pytest.mark.parametrize("crew", CREWS, ids=lambda it: it.name)
def test_a_crew_s_rounds_are_accepted_first_as_often_as_it_works_well(
    crew: Crew, past: Past
) -> None:
    assert holds(share(passes_first(past, crew)), 1 - crew.not_right_first)


def test_the_crew_in_a_hurry_is_told_from_the_others_by_what_is_sent_back(past: Past) -> None:
    others = [*passes_first(past, CREW_A), *passes_first(past, CREW_B)]

    assert share(passes_first(past, CREW_C)).high < share(others).low


def counted_in_haste(seen: Round) -> bool:
    at = [row.counted.at for row in seen.rows if row.counted is not None]
    return at[2] - at[0] < IN_HASTE


@pytest.mark.parametrize("crew", CREWS, ids=lambda it: it.name)
def test_rows_answered_in_seconds_are_the_hurried_crew_s(crew: Crew, past: Past) -> None:
    long_enough = [it for it in past.of(crew) if len(it.body.rows) >= 3]
    looked_at_once = [it.body for it in long_enough if not it.entry.parents]

    assert holds(share(bool(it.body.hasty) for it in long_enough), crew.in_haste)
    for seen in looked_at_once:
        assert counted_in_haste(seen) is bool(seen.hasty), "whoever hurries is asked about it"


def laps_more(past: Past, crew: Crew) -> float:
    """Give how many openings the shortest lap of a crew's rounds has beyond what is demanded."""
    more = []
    for it in past.of(crew):
        limit = past.limits(it.body).mesh_lap
        if limit is not None:
            more += [min(lap.openings or 0 for lap in it.body.laps) - limit.at_least_openings]
    return fmean(more)


def to_face(past: Past, crew: Crew) -> float:
    """Give how far a crew's last row stands from the face, as a share of what is allowed."""
    shares = []
    for it in past.of(crew):
        largest = max(face.reading.value_m for face in it.body.face_readings)
        shares += [float(largest / past.limits(it.body).last_row_to_face.at_most_m)]
    return fmean(shares)


def test_the_hurried_crew_laps_shortest_and_stays_farthest_from_the_face(past: Past) -> None:
    for other in (CREW_A, CREW_B):
        assert laps_more(past, CREW_C) < laps_more(past, other) - 0.4
        assert to_face(past, CREW_C) > to_face(past, other) + 0.04
