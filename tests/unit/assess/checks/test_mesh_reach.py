from fieldapp.assess import assess
from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, length, with_round


def reach(**readings: object) -> dict[str, Verdict]:
    bundle = conforming()
    mesh = bundle.round.mesh.model_copy(update=readings)
    found = assess(with_round(bundle, mesh=mesh)).findings
    return {one.title: one.verdict for one in found if one.check == "mesh_reach"}


def test_both_within_their_limits() -> None:
    assert set(reach().values()) == {Verdict.ACCEPT}


def test_each_reading_is_judged_by_its_own_limit() -> None:
    short = reach(to_face=length("1.30", "staff"))
    high = reach(above_floor=length("1.60"))

    assert short == {"Mesh to the face": Verdict.REWORK, "Mesh above the floor": Verdict.ACCEPT}
    assert high == {"Mesh to the face": Verdict.ACCEPT, "Mesh above the floor": Verdict.REWORK}


def test_what_was_not_read_is_not_looked_at() -> None:
    assert reach(to_face=None)["Mesh to the face"] is Verdict.NOT_LOOKED_AT


def test_mesh_that_ends_before_the_last_row_ends_the_entry_line() -> None:
    """Last row 0.8 m and mesh 1.1 m from the face: entry ends 0.3 m before the last row."""
    bundle = conforming()
    mesh = bundle.round.mesh.model_copy(update={"to_face": length("1.1", "staff")})

    assert str(assess(with_round(bundle, mesh=mesh)).rows_complete_to_m) == "1388.80"


def test_before_a_ragged_face_the_mesh_is_read_where_the_face_is_nearest() -> None:
    """Face 0.8, 0.8 and 0.6 m off: mesh read 1.0 m from it may end 0.4 m before the last row."""
    bundle = conforming()
    mesh = bundle.round.mesh.model_copy(update={"to_face": length("1.0", "staff")})
    left, middle, right = bundle.round.face_readings
    nearer = right.model_copy(update={"reading": length("0.6", "staff")})
    ragged = with_round(bundle, mesh=mesh, face_readings=(left, middle, nearer))

    assert str(assess(ragged).rows_complete_to_m) == "1388.70"
