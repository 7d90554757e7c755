from datetime import timedelta

from fieldapp.assess import assess
from schemas.bodies.deviation import Deviation
from schemas.bodies.round import SpacingSeen
from schemas.bundle import Bundle
from schemas.findings import Finding, Verdict
from tests.unit.assess.conforming import (
    LOOKED,
    conforming,
    finding,
    length,
    missing,
    with_bolts,
    with_row,
)


def granted(check: str, row: int | None, position: int | None = None, hours: int = 5) -> Deviation:
    return Deviation(
        round="round",
        check=check,
        row=row,
        position=position,
        reason="fault, extra bolts beside it",
        ends_at=LOOKED + timedelta(hours=hours),
    )


def under(bundle: Bundle, *deviations: Deviation) -> Bundle:
    return bundle.model_copy(update={"round_id": "round", "deviations": deviations})


def bolts(bundle: Bundle) -> Finding:
    return finding(bundle, "bolts_present")


ONE_MISSING = with_bolts(conforming(), 2, missing(7))


def test_a_deviation_for_the_place_covers_the_finding() -> None:
    found = bolts(under(ONE_MISSING, granted("bolts_present", 2, 7)))

    assert found.verdict is Verdict.REWORK
    assert found.lets_sign
    assert found.holds is Verdict.ACCEPT


def test_with_every_finding_covered_the_round_may_be_accepted_and_the_row_is_complete() -> None:
    holes = granted("largest_gap", 2), granted("mesh_panel", 2)
    each = granted("bolts_present", 2, 7), *holes, granted("load", 2, 7)
    assessment = assess(under(ONE_MISSING, *each))

    assert assessment.may_be_accepted
    assert str(assessment.rows_complete_to_m) == "1389.10"


def test_another_place_or_another_check_is_not_covered() -> None:
    assert not bolts(under(ONE_MISSING, granted("bolts_present", 2, 5))).lets_sign
    assert not bolts(under(ONE_MISSING, granted("bolts_present", 1))).lets_sign
    assert not bolts(under(ONE_MISSING, granted("largest_gap", 2))).lets_sign


def test_every_place_needs_its_deviation() -> None:
    two = with_bolts(ONE_MISSING, 3, missing(1))
    first, second = granted("bolts_present", 2), granted("bolts_present", 3)

    assert not bolts(under(two, first)).lets_sign
    assert bolts(under(two, first, second)).lets_sign


def test_a_deviation_that_has_ended_covers_nothing() -> None:
    assert not bolts(under(ONE_MISSING, granted("bolts_present", 2, hours=0))).lets_sign


def test_never_for_two_neighbouring_bolts_nor_for_the_last_row() -> None:
    two = with_bolts(conforming(), 3, missing(4), missing(5))
    bundle = under(two, granted("neighbouring_bolts", 3), granted("last_row_to_face", 3))

    assert not finding(bundle, "neighbouring_bolts").lets_sign
    assert not finding(bundle, "last_row_to_face").lets_sign


def test_nothing_excuses_not_looking() -> None:
    blank = with_row(conforming(), 2, counted=None)

    assert not bolts(under(blank, granted("bolts_present", 2))).lets_sign


def test_a_deviation_for_one_row_excuses_nobody_from_looking_at_another() -> None:
    wide = SpacingSeen(from_position=3, to_position=4, reading=length("1.60"))
    one_blank = with_row(with_row(conforming(), 2, spacings=(wide,)), 3, spacings=())
    bundle = under(one_blank, granted("bolt_spacing", 2, 3))
    judged = [it for it in assess(bundle).findings if it.check == "bolt_spacing"]

    assert [(it.verdict, it.lets_sign) for it in judged] == [
        (Verdict.REWORK, True),
        (Verdict.NOT_LOOKED_AT, False),
    ]


def test_a_deviation_is_for_one_place_never_for_a_row_of_bolts() -> None:
    """Named by its row alone it covers the one place there: two would be two deviations."""
    two = with_bolts(ONE_MISSING, 2, missing(2))
    by_row = granted("bolts_present", 2)
    one_each = granted("bolts_present", 2, 2), granted("bolts_present", 2, 7)

    assert bolts(under(ONE_MISSING, by_row)).lets_sign
    assert not bolts(under(two, by_row)).lets_sign
    assert not bolts(under(two, one_each[0])).lets_sign
    assert bolts(under(two, *one_each)).lets_sign
