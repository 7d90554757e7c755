"""How far placed sheets reach, beside what was taped of it."""

from decimal import Decimal

from fieldapp.assess import assess
from fieldapp.assess.demanded import profile_of
from schemas.bodies.round import MeshSeen, ProfileSeen
from schemas.bundle import Bundle
from schemas.findings import Verdict
from tests.unit.assess.conforming import length, missing, with_bolts, with_round, with_row
from tests.unit.assess.meshed import WHOLE, found, meshed, sheet, with_old

TO_FACE, ABOVE_FLOOR = "Mesh to the face", "Mesh above the floor"


def reaching(ends: str, across: tuple[str, str] = ("-5.10", "5.10"), **taped: str) -> Bundle:
    """One strip that ends so far from the joint; the last row stands at 2.7 m, the face at 3.5."""
    mesh = {name: length(value, "staff") for name, value in taped.items()}
    looked = MeshSeen(no_holes=True, no_bagging=True, **mesh)
    return meshed(sheet(1, ("-0.15", ends), across, laps=(with_old(),)), mesh=looked)


def test_mesh_to_the_face_follows_from_sheets_that_were_read() -> None:
    reach = found(reaching("2.85"), "mesh_reach", TO_FACE)

    assert (reach.verdict, reach.measured) == (Verdict.ACCEPT, "0.650")
    assert reach.basis.startswith("sheets as placed")


def test_a_sheet_as_standard_says_nothing_of_the_face() -> None:
    assumed = sheet(1, ("-0.15", "2.85"), method="assumed", laps=(with_old(),))
    looked = MeshSeen(no_holes=True, no_bagging=True)

    reach = found(meshed(assumed, mesh=looked), "mesh_reach", TO_FACE)
    assert reach.verdict is Verdict.NOT_LOOKED_AT


def test_mesh_that_hangs_far_past_the_last_plates_reaches_no_farther_than_it_counts() -> None:
    """0.3 m past the last row at most."""
    assert found(reaching("3.40"), "mesh_reach", TO_FACE).measured == "0.500"


def test_where_it_ends_first_governs() -> None:
    left = sheet(1, ("-0.15", "2.90"), ("-5.1", "0.2"), laps=(with_old(),))
    right = sheet(2, ("-0.15", "2.20"), ("-0.1", "5.1"), laps=(with_old(),))
    bundle = meshed(left, right, mesh=MeshSeen(no_holes=True, no_bagging=True))

    assert found(bundle, "mesh_reach", TO_FACE).measured == "1.300"
    assert found(bundle, "mesh_reach", TO_FACE).verdict is Verdict.REWORK


def test_the_worse_of_tape_and_sheets_governs() -> None:
    assert found(reaching("2.85", to_face="0.70"), "mesh_reach", TO_FACE).measured == "0.700"
    assert found(reaching("2.75", to_face="0.70"), "mesh_reach", TO_FACE).measured == "0.750"


def test_a_side_that_ends_high_on_the_wall_is_a_breach() -> None:
    """The supported line ends 1.5 m above the floor, 4.96 m from the crown."""
    low = found(reaching("2.85", above_floor="1.40"), "mesh_reach", ABOVE_FLOOR)
    high = found(
        reaching("2.85", ("-5.10", "4.80"), above_floor="1.40"), "mesh_reach", ABOVE_FLOOR
    )

    assert low.verdict is Verdict.ACCEPT
    assert (high.verdict, high.measured) == (Verdict.REWORK, "1.658")


def test_entry_ends_where_the_sheets_end() -> None:
    """At 1.95 m: row 2, at 1.8 m, is the last one under mesh."""
    short = assess(reaching("1.95"))

    assert assess(meshed(WHOLE)).rows_complete_to_m == Decimal("1389.10")
    assert short.rows_complete_to_m is not None
    assert short.rows_complete_to_m < Decimal("1389.10")


def test_a_last_row_without_plates_holds_no_mesh() -> None:
    bundle = with_bolts(reaching("2.85"), 3, *(missing(n) for n in range(1, 10)))

    assert found(with_round(bundle), "mesh_reach", TO_FACE).measured == "1.400"


def test_the_same_edge_hangs_higher_above_the_floor_of_a_row_that_is_wider() -> None:
    """5.10 m along an arch of 7 m reach less far down than along one of 5 m."""
    wide = ProfileSeen(width_m=Decimal("7.0"), rise_m=Decimal("2.6"), method="laser")
    usual, wider = reaching("2.85"), with_row(reaching("2.85"), 3, profile=wide)
    profile = profile_of(usual.standard.classes[0].profile, wide)

    as_usual = Decimal(found(usual, "mesh_reach", ABOVE_FLOOR).measured or 0)
    as_broken = Decimal(found(wider, "mesh_reach", ABOVE_FLOOR).measured or 0)
    assert as_broken > as_usual
    assert as_broken == Decimal(repr(profile.at(-5.1)[1])).quantize(Decimal("0.001"))
