from schemas.bundle import Bundle
from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, counted, finding, missing, with_round


def with_old(index: int, **changes: object) -> Bundle:
    bundle = conforming()
    rows = list(bundle.round.old_rows)
    rows[index] = rows[index].model_copy(update=changes)
    return with_round(bundle, old_rows=tuple(rows))


def test_both_counted_as_demanded_is_accepted() -> None:
    assert finding(conforming(), "old_rows").verdict is Verdict.ACCEPT


def test_a_row_beside_a_firing_is_not_looked_at_until_it_is_counted() -> None:
    found = finding(with_old(1, confirmed=None), "old_rows")

    assert (found.verdict, found.holds) == (Verdict.NOT_LOOKED_AT, Verdict.REWORK)
    assert [place.words for place in found.places] == ["the last old row"]
    assert finding(with_old(1, confirmed=None), "largest_gap").verdict is Verdict.NOT_LOOKED_AT


def test_a_bolt_that_the_blast_took_is_rework_with_its_place() -> None:
    found = finding(with_old(0, confirmed=counted(8), bolts=(missing(5),)), "old_rows")

    assert found.verdict is Verdict.REWORK
    assert found.fix == ("add a bolt, the old row before it, at the crown",)


def test_fewer_plates_than_demanded_and_nobody_knows_where() -> None:
    found = finding(with_old(0, confirmed=counted(7)), "old_rows")

    assert found.verdict is Verdict.REWORK
    assert "2 bolts fewer than demanded" in found.places[0].words


def test_no_old_rows_beside_an_old_drive_are_not_looked_at() -> None:
    bundle = with_round(conforming(), old_rows=())

    assert finding(bundle, "old_rows").verdict is Verdict.NOT_LOOKED_AT


def test_an_old_bolt_rusted_beyond_the_grade_does_not_count() -> None:
    rusted = missing(5).model_copy(update={"state": "present", "corrosion_grade": 4})
    found = finding(with_old(0, bolts=(rusted,)), "old_rows")

    assert found.verdict is Verdict.REWORK
    assert "rusted" in found.places[0].words


def test_one_old_row_beside_an_old_drive_leaves_the_other_not_looked_at() -> None:
    bundle = with_round(conforming(), old_rows=conforming().round.old_rows[1:])

    assert finding(bundle, "old_rows").verdict is Verdict.NOT_LOOKED_AT
    assert [place.row for place in finding(bundle, "old_rows").places] == [-1]
