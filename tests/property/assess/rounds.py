"""Any round that can be written down, sane or not, and single defects to add to a round."""

from collections.abc import Callable
from datetime import timedelta
from decimal import Decimal
from typing import Any, get_args

from hypothesis import strategies as st

from schemas.bodies.round import (
    BagSeen,
    Barring,
    Basis,
    BolterCheck,
    BoltSeen,
    Called,
    CountedRow,
    FaceReading,
    FaceSeen,
    GroundSeen,
    HoleSeen,
    LapSeen,
    LengthReading,
    MeshSeen,
    Method,
    OldRow,
    PlateGap,
    ProfileSeen,
    Round,
    RowSeen,
    SheetLap,
    SheetSeen,
    ShotcreteSeen,
    SpacingSeen,
    SpotCheck,
    SurveyPoint,
    TorqueSeen,
)
from schemas.bundle import Bundle
from tests.unit.assess.conforming import (
    LOOKED,
    bundle_of,
    missing,
    with_bolts,
    with_round,
    with_row,
)


def decimals(least: str, most: str, places: int = 2) -> st.SearchStrategy[Decimal]:
    return st.decimals(least, most, places=places, allow_nan=False, allow_infinity=False)


def maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | strategy


times = st.integers(-100, 100).map(lambda hours: LOOKED + timedelta(hours=hours))
methods = st.sampled_from(get_args(Method))
gaps = st.sampled_from(get_args(PlateGap))
flags = maybe(st.booleans())
conditions = st.sampled_from(["as expected", "wetter", "fault or wedge", "noise", "spalling"])
lengths = st.builds(
    LengthReading,
    value_m=decimals("0.5", "1.5") | decimals("0", "100"),
    method=methods,
    straight=st.booleans(),
    again=st.booleans(),
)
counts = st.builds(CountedRow, plates=st.integers(0, 12), at=times)
bolts = st.builds(
    BoltSeen,
    position=maybe(st.integers(1, 12)),
    s_m=maybe(decimals("-6", "6") | decimals("-60", "60")),
    method=methods,
    state=st.sampled_from(["present", "missing", "broken", "blocked hole"]),
    plate=maybe(st.sampled_from(["seated", "loose", "missing"])),
    plate_gap=maybe(gaps),
    angle_deg=maybe(decimals("0", "90", 0)),
    angle_over_limit=flags,
    bolt_type=maybe(st.sampled_from(["RB24", "PB24", "other"])),
    length_m=maybe(decimals("0", "5", 1)),
    corrosion_grade=maybe(st.integers(0, 5)),
    beside=st.booleans(),
)
spacings = st.builds(
    SpacingSeen, from_position=st.integers(1, 12), to_position=st.integers(1, 12), reading=lengths
)
spots = st.builds(SpotCheck, position=st.integers(1, 12), plate_gap=maybe(gaps))


def some(strategy: st.SearchStrategy[Any], most: int = 3) -> st.SearchStrategy[tuple[Any, ...]]:
    return st.lists(strategy, max_size=most).map(tuple)


def from_left(points: tuple[SurveyPoint, ...]) -> tuple[SurveyPoint, ...]:
    return tuple(sorted(points, key=lambda it: it.y_m))


points = st.builds(SurveyPoint, y_m=decimals("-4", "4"), z_m=decimals("0", "6"))
profiles = st.builds(
    ProfileSeen,
    width_m=decimals("3", "8") | decimals("0.01", "100"),
    rise_m=decimals("0", "4") | decimals("0", "100"),
    method=methods,
    points=st.just(()) | some(points, 6) | some(points, 9).map(from_left),
)
rows = st.builds(
    RowSeen,
    number=st.integers(1, 5),
    ahead_of_row_before=maybe(lengths),
    counted=maybe(counts),
    bolts=some(bolts),
    spacings=some(spacings, 2),
    spot_checks=some(spots, 2),
    profile=maybe(profiles),
)
old_rows = st.builds(
    OldRow,
    chainage_m=decimals("1380", "1390") | decimals("0", "99999"),
    staggered=st.booleans(),
    confirmed=maybe(counts),
    bolts=some(bolts, 2),
)
sheets = st.builds(
    SheetSeen,
    number=st.integers(1, 4),
    from_m=decimals("1384", "1392") | decimals("0", "99999"),
    to_m=decimals("1384", "1392") | decimals("0", "99999"),
    left_s_m=decimals("-6", "6") | decimals("-60", "60"),
    right_s_m=decimals("-6", "6") | decimals("-60", "60"),
    from_method=methods,
    to_method=methods,
    left_method=methods,
    right_method=methods,
    laps=some(
        st.builds(
            SheetLap,
            with_sheet=st.integers(0, 4),
            openings=maybe(st.integers(0, 40)),
            least_mm=maybe(decimals("0", "600", 0)),
            held=flags,
        ),
        2,
    ),
)
rounds = st.builds(
    Round,
    heading=st.just("heading"),
    number=st.integers(1, 999),
    support_class=st.sampled_from(["D1", "O2", "W3"]),
    standard=st.just("0" * 64),
    joint_m=decimals("0", "99999"),
    rows_planned=st.integers(1, 4),
    started_at=times,
    ground=maybe(
        st.builds(
            GroundSeen,
            condition=conditions,
            called=maybe(st.builds(Called, who=st.just("the engineer"), at=times)),
        )
    ),
    barring=st.builds(
        Barring,
        before_by=maybe(st.sampled_from(["nobody", "bolter crew"])),
        before_when=maybe(st.just("this shift")),
        after_bolting=flags,
    ),
    bolter=st.builds(
        BolterCheck,
        done=flags,
        blocked_holes=maybe(st.integers(0, 5)),
        bolt_type=maybe(st.sampled_from(["RB24", "PB24", "LB50", "other"])),
        bolt_length_m=maybe(decimals("0", "6", 1)),
        basis=maybe(st.sampled_from(get_args(Basis))),
        bolting_finished_at=maybe(times),
    ),
    face=st.builds(
        FaceSeen,
        scaled_and_supported=flags,
        misfires_and_butts=maybe(st.sampled_from(["none found", "found"])),
    ),
    profile=maybe(profiles),
    old_rows=some(old_rows, 2),
    rows=some(rows, 4),
    laps=some(
        st.builds(
            LapSeen,
            number=st.integers(1, 4),
            openings=maybe(st.integers(0, 40)),
            least_mm=maybe(decimals("0", "600", 0)),
            method=methods,
            again=st.booleans(),
            held=flags,
        )
    ),
    sheets=some(sheets, 4),
    mesh=st.builds(
        MeshSeen,
        to_face=maybe(lengths),
        above_floor=maybe(lengths),
        no_holes=flags,
        no_bagging=flags,
        holes=some(
            st.builds(
                HoleSeen,
                chainage_m=decimals("0", "99999"),
                s_m=decimals("-60", "60"),
                openings=st.integers(1, 9),
                above_floor_m=decimals("0", "9", 1),
            ),
            2,
        ),
        bags=some(
            st.builds(
                BagSeen,
                chainage_m=decimals("0", "99999"),
                s_m=decimals("-60", "60"),
                depth_mm=decimals("0", "900", 0),
                mass_t=maybe(decimals("0", "3", 1)),
            ),
            2,
        ),
    ),
    shotcrete=st.builds(
        ShotcreteSeen,
        sprayed_at=maybe(times),
        thickness_mm=some(decimals("0", "200", 0)),
        strength_mpa=maybe(decimals("0", "40", 1)),
    ),
    torques=some(
        st.builds(
            TorqueSeen,
            bolt=st.integers(1, 40),
            torque_nm=decimals("0", "500", 0),
            again=st.booleans(),
        )
    ),
    last_row_marked=flags,
    face_readings=some(
        st.builds(FaceReading, where=st.sampled_from(["left", "middle", "right"]), reading=lengths)
    ),
)
bundles = st.builds(
    lambda seen, before: bundle_of(seen, previous_round=before), rounds, maybe(rounds)
)


Defect = Callable[[Bundle], Bundle]


def _bolt(bolt: BoltSeen) -> st.SearchStrategy[Defect]:
    def spoiled(bundle: Bundle, row: int, position: int) -> Bundle:
        marked = next(seen for seen in bundle.round.rows if seen.number == row).bolts
        if any(mark.position == position for mark in marked):
            return bundle
        return with_bolts(bundle, row, bolt.model_copy(update={"position": position}))

    return st.tuples(st.integers(1, 3), st.integers(1, 6)).map(
        lambda at: lambda bundle: spoiled(bundle, *at)
    )


def _round(**changes: object) -> st.SearchStrategy[Defect]:
    return st.just(lambda b: with_round(b, **changes))


def _far(more: int) -> Defect:
    def farther(bundle: Bundle) -> Bundle:
        readings = tuple(
            face.model_copy(
                update={
                    "reading": face.reading.model_copy(
                        update={"value_m": face.reading.value_m + more}
                    )
                }
            )
            for face in bundle.round.face_readings
        )
        return with_round(bundle, face_readings=readings)

    return farther


defects: st.SearchStrategy[Defect] = st.one_of(
    _bolt(missing(1)),
    _bolt(BoltSeen(state="broken")),
    _bolt(BoltSeen(state="present", plate="loose")),
    _bolt(BoltSeen(state="present", angle_over_limit=True)),
    _bolt(BoltSeen(state="present", bolt_type="other")),
    _bolt(BoltSeen(state="present", corrosion_grade=5)),
    _round(last_row_marked=False),
    _round(ground=GroundSeen(condition="noise")),
    _round(face=FaceSeen(scaled_and_supported=False, misfires_and_butts="found")),
    _round(barring=Barring(before_by="nobody", before_when="-", after_bolting=False)),
    _round(laps=(LapSeen(number=1, openings=1, held=False),)),
    st.sampled_from([_far(1), _far(5)]),
)
"""Something more is wrong."""

blanks: st.SearchStrategy[Defect] = st.one_of(
    _round(mesh=MeshSeen()),
    _round(face_readings=()),
    st.integers(1, 3).map(lambda n: lambda b: with_row(b, n, counted=None)),
    st.integers(1, 3).map(lambda n: lambda b: with_row(b, n, ahead_of_row_before=None)),
    st.integers(1, 3).map(lambda n: lambda b: with_row(b, n, spacings=())),
    _round(old_rows=()),
    _round(ground=None),
    _round(torques=()),
)
"""Somebody did not look."""
