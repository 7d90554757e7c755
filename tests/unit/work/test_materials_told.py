"""What a report tells of a round's material: its take-off, beside what somebody counted."""

from datetime import timedelta
from decimal import Decimal

from fieldapp.work.reporting.told import MaterialTold
from fieldapp.work.reporting.worked import materials_told, work_told
from schemas.bodies.work_seen import BoltsUsed, Delay, Used, WorkSeen
from tests.unit.assess.conforming import LOOKED, conforming


def told(used: Used | None) -> dict[tuple[str, str], MaterialTold]:
    work = None if used is None else WorkSeen(used=used)
    bundle = conforming("D1", work=work)
    found = list(materials_told(bundle.round, bundle.standard))
    assert len({(it.thing, it.of) for it in found}) == len(found), "each thing once"
    return {(it.thing, it.of): it for it in found}


def test_what_was_counted_stands_beside_the_take_off_with_the_difference() -> None:
    """Three rows of nine bolts."""
    bolts = told(Used(bolts=(BoltsUsed(bolt_type="RB24", bolts=29),)))["bolts", "RB24"]

    assert [bolts.by_standard, bolts.used, bolts.difference] == [27, 29, 2]


def test_less_than_the_take_off_is_below_nought() -> None:
    sheets = told(Used(mesh_pieces=3))["sheets", ""]

    assert sheets.difference == 3 - sheets.by_standard < 0


def test_mesh_is_told_in_square_metres_and_everything_else_by_number() -> None:
    assert {it.unit for it in told(None).values() if it.thing == "mesh"} == {"m²"}
    assert {it.unit for it in told(None).values() if it.thing != "mesh"} == {"each"}


def test_what_nobody_counted_is_told_all_the_same() -> None:
    plates = [it for it in told(None).values() if it.thing == "plates"]

    assert [(it.used, it.difference) for it in plates] == [(None, None)]


def test_a_bolt_of_another_type_than_the_standard_s_takes_none_of_its_take_off() -> None:
    other = told(Used(bolts=(BoltsUsed(bolt_type="XX", bolts=4),)))["bolts", "XX"]

    assert (other.by_standard, other.difference) == (Decimal(0), Decimal(4))


def test_how_a_round_was_done_is_told_with_its_pace_and_never_by_name() -> None:
    """72 m² in an hour and a half are 48 m² an hour."""
    work = WorkSeen(
        started_at=LOOKED,
        finished_at=LOOKED + timedelta(minutes=90),
        delays=(Delay(minutes=20, cause="power"),),
        used=Used(mesh_pieces=10),
    )
    bundle, silent = conforming("D1", work=work), conforming("D1")
    told = work_told(bundle.round, bundle.standard)

    assert told is not None
    assert (told.took_min, told.held_up_min, told.held_up_by) == (90, 20, "power")
    assert [told.meshed_m2, told.meshed_per_hour_m2] == [72, 48]
    assert work_told(silent.round, silent.standard) is None
