"""What must hold of the assessment of any round."""

import json

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fieldapp.assess import assess
from fieldapp.assess.mesh.placed import placed_sheets
from fieldapp.assess.seen import seen_in
from schemas.bodies.round import BoltSeen, FaceReading, Round, RowSeen
from schemas.bundle import Bundle
from schemas.canonical import canonical_bytes
from schemas.findings import Assessment, Verdict
from schemas.standard import Limits
from tests.property.assess.rounds import Defect, blanks, bundles, defects
from tests.unit.assess.conforming import conforming, with_round

SLOW = [HealthCheck.too_slow, HealthCheck.large_base_example, HealthCheck.data_too_large]


def as_bytes(assessment: Assessment) -> bytes:
    return canonical_bytes(assessment.model_dump(mode="json"))


@settings(max_examples=150, deadline=None, suppress_health_check=SLOW)
@given(bundles)
def test_any_round_gets_a_clear_finding_from_every_check_the_worst_first(bundle: Bundle) -> None:
    assessment = assess(bundle)
    limits = bundle.standard.support_class(bundle.round.support_class)
    assert limits is not None
    asked = {name for name in Limits.model_fields if getattr(limits.limits, name) is not None}

    if not placed_sheets(seen_in(bundle)):
        asked -= {"mesh_cover"}  # mesh is judged by its taped laps where nobody placed a sheet
    assert {finding.check for finding in assessment.findings} >= asked
    for finding in assessment.findings:
        assert finding.title
        assert finding.how
        assert finding.because
        assert finding.places or finding.verdict is Verdict.ACCEPT
        assert finding.check in asked or not finding.lets_sign, "only what contradicts itself"
        if finding.verdict is Verdict.ACCEPT:
            assert finding.holds is Verdict.ACCEPT
        else:
            assert finding.holds is not Verdict.ACCEPT
    assert_the_worst_comes_first_and_the_headline_says_it(assessment)


def assert_the_worst_comes_first_and_the_headline_says_it(assessment: Assessment) -> None:
    gravities = [finding.verdict.gravity for finding in assessment.findings]

    assert gravities == sorted(gravities, reverse=True)
    assert str(assessment.verdict) in assessment.headline


@settings(max_examples=30, deadline=None, suppress_health_check=SLOW)
@given(bundles)
def test_one_bundle_always_comes_to_the_same_bytes(bundle: Bundle) -> None:
    again = Bundle.model_validate(json.loads(bundle.model_dump_json()))

    assert as_bytes(assess(bundle)) == as_bytes(assess(again))


CODES = st.sampled_from(["D1", "O2", "W3"])


def spoiled(code: str, by: list[Defect]) -> Bundle:
    bundle = conforming(code)
    for defect in by:
        bundle = defect(bundle)
    return bundle


def reaches_no_farther(then: Assessment, first: Assessment) -> bool:
    if then.rows_complete_to_m is None:
        return True
    return first.rows_complete_to_m is not None and (
        then.rows_complete_to_m <= first.rows_complete_to_m
    )


@settings(max_examples=150, deadline=None)
@given(CODES, st.lists(defects | blanks, max_size=3), defects)
def test_one_more_defect_never_makes_the_whole_milder(
    code: str, before: list[Defect], another: Defect
) -> None:
    bundle = spoiled(code, before)
    first, then = assess(bundle), assess(another(bundle))

    assert then.verdict.gravity >= first.verdict.gravity
    assert then.held_at.gravity >= first.held_at.gravity
    assert reaches_no_farther(then, first)


@settings(max_examples=150, deadline=None)
@given(CODES, st.lists(defects | blanks, max_size=3), blanks)
def test_not_looking_never_lets_people_farther_in(
    code: str, before: list[Defect], blank: Defect
) -> None:
    bundle = spoiled(code, before)
    first, then = assess(bundle), assess(blank(bundle))

    assert then.held_at.gravity >= first.held_at.gravity
    assert then.may_be_accepted <= first.may_be_accepted
    assert reaches_no_farther(then, first)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(["D1", "O2"]), st.lists(defects, min_size=1, max_size=3))
def test_a_defect_is_never_accepted(code: str, wrong: list[Defect]) -> None:
    assert assess(spoiled(code, wrong)).verdict is not Verdict.ACCEPT


@settings(max_examples=60, deadline=None)
@given(CODES, st.lists(defects | blanks, max_size=4))
def test_left_and_right_exchanged_come_to_the_same_verdicts(code: str, by: list[Defect]) -> None:
    bundle = without_torque(spoiled(code, by))
    mirrored = with_round(bundle, **_mirrored(bundle.round))

    here, there = assess(bundle), assess(mirrored)

    assert [(f.check, f.verdict, f.holds, f.measured) for f in here.findings] == [
        (f.check, f.verdict, f.holds, f.measured) for f in there.findings
    ]
    assert here.rows_complete_to_m == there.rows_complete_to_m


def without_torque(bundle: Bundle) -> Bundle:
    """The bolts to read are counted from the left: their sample has no mirror image."""
    classes = tuple(
        it.model_copy(update={"limits": it.limits.model_copy(update={"torque": None})})
        for it in bundle.standard.classes
    )
    standard = bundle.standard.model_copy(update={"classes": classes})
    return bundle.model_copy(update={"standard": standard})


def _mirrored(seen: Round) -> dict[str, object]:
    offset = seen.support_class == "O2" and bool(seen.old_rows) and seen.old_rows[-1].staggered
    return {
        "rows": tuple(_mirrored_row(row, _places(seen, row.number, offset)) for row in seen.rows),
        "face_readings": tuple(_mirrored_face(face) for face in seen.face_readings),
        "torques": seen.torques,
    }


def _places(seen: Round, number: int, last_old_is_offset: bool) -> int:  # noqa: FBT001
    full = {"D1": 9, "O2": 7, "W3": 9}[seen.support_class]
    offset = seen.support_class == "O2" and (number % 2 == 1) != last_old_is_offset
    return full - 1 if offset else full


def _mirrored_row(row: RowSeen, places: int) -> RowSeen:
    spacings = tuple(
        one.model_copy(
            update={
                "from_position": places + 1 - one.to_position,
                "to_position": places + 1 - one.from_position,
            }
        )
        for one in row.spacings
    )
    bolts = tuple(_mirrored_bolt(bolt, places) for bolt in row.bolts)
    return row.model_copy(update={"bolts": bolts, "spacings": spacings})


def _mirrored_bolt(bolt: BoltSeen, places: int) -> BoltSeen:
    if bolt.position is None:
        return bolt
    return bolt.model_copy(update={"position": places + 1 - bolt.position})


def _mirrored_face(face: FaceReading) -> FaceReading:
    other = {"left": "right", "right": "left", "middle": "middle"}[face.where]
    return face.model_copy(update={"where": other})
