from decimal import Decimal

from schemas.bodies.round import BoltSeen
from schemas.bundle import Bundle
from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, finding, with_bolts, with_round


def named(**changes: object) -> Bundle:
    bundle = conforming()
    return with_round(bundle, bolter=bundle.round.bolter.model_copy(update=changes))


def test_bolts_of_the_class_by_their_label_are_accepted() -> None:
    found = finding(conforming(), "bolt_type")

    assert found.verdict is Verdict.ACCEPT
    assert found.basis == "pack label"


def test_nobody_said_which_bolts_leaves_it_not_looked_at() -> None:
    assert finding(named(bolt_type=None), "bolt_type").verdict is Verdict.NOT_LOOKED_AT
    assert finding(named(basis=None), "bolt_type").verdict is Verdict.NOT_LOOKED_AT


def test_other_bolts_do_not_count_and_the_round_has_none() -> None:
    bundle = named(bolt_type="other")

    assert finding(bundle, "bolt_type").fix == ("bolt the round again with bolts of this class",)
    assert finding(bundle, "neighbouring_bolts").verdict is Verdict.NO_ENTRY


def test_bolts_too_short_are_the_wrong_bolts() -> None:
    found = finding(named(bolt_length_m=Decimal("2.1")), "bolt_type")

    assert found.verdict is Verdict.REWORK
    assert "too short" in found.places[0].words


def test_one_bolt_of_another_kind_is_one_place() -> None:
    other = BoltSeen(position=3, state="present", bolt_type="other")
    found = finding(with_bolts(conforming(), 1, other), "bolt_type")

    assert len(found.places) == 1
    assert found.fix[0].startswith("add a bolt of this class, row 1")
