"""Contradictions to plant in a round that conforms: each would be a plausible slip."""

from collections.abc import Callable
from datetime import timedelta
from decimal import Decimal
from typing import Any

from hypothesis import strategies as st

from fieldapp.assess.demanded import rows_demanded
from schemas.bodies.deviation import Deviation
from schemas.bodies.round import (
    BagSeen,
    BoltSeen,
    CountedRow,
    FaceReading,
    HoleSeen,
    LapSeen,
    RowSeen,
    SpacingSeen,
    TorqueSeen,
)
from schemas.bundle import Bundle
from tests.unit.assess.conforming import (
    JOINT,
    LOOKED,
    conforming,
    length,
    missing,
    with_bolts,
    with_round,
    with_row,
)
from tests.unit.assess.contradictions.contradicted import placed, stated_as_entry

Plant = Callable[[Bundle], Bundle]

ROWS = 3
rows = st.integers(1, ROWS)
metres = st.integers(11, 5_000).map(lambda hundredths: Decimal(hundredths) / 100)
"""Farther than chainages that say the same place."""
signed = st.tuples(metres, st.sampled_from([1, -1])).map(lambda it: it[0] * it[1])
spans = st.timedeltas(timedelta(seconds=1), timedelta(days=20_000))
codes = st.sampled_from(["D1", "O2", "W3"])


def whole(code: str) -> Bundle:
    """A round that conforms, with the round before it and the line of its standard."""
    before = conforming(code, ROWS, number=411).round
    advance = sum((row.ahead_of_row_before.value_m for row in before.rows), Decimal(0))  # type: ignore[union-attr]
    before = before.model_copy(update={"joint_m": JOINT - advance})
    bundle = stated_as_entry(conforming(code, ROWS))
    heading = bundle.heading.model_copy(update={"last_round": 410, "last_row_m": before.joint_m})
    changes = {"heading": heading, "previous_round": before, "round_id": "this"}
    return bundle.model_copy(update=changes)


BUNDLES = {code: whole(code) for code in ("D1", "O2", "W3")}


# --- what is planted ----------------------------------------------------------------------------


def on_heading(changed: Callable[[Bundle, Decimal], dict[str, Any]]) -> st.SearchStrategy[Plant]:
    def plant(by: Decimal) -> Plant:
        return lambda bundle: bundle.model_copy(
            update={"heading": bundle.heading.model_copy(update=changed(bundle, by))}
        )

    return metres.map(plant)


def on_round(drawn: st.SearchStrategy[Any], changed: Any) -> st.SearchStrategy[Plant]:
    return drawn.map(lambda it: lambda bundle: with_round(bundle, **changed(bundle, it)))


def on_row(drawn: st.SearchStrategy[Any], changed: Any) -> st.SearchStrategy[Plant]:
    def plant(at: tuple[int, Any]) -> Plant:
        number, it = at
        return lambda bundle: with_row(bundle, number, **changed(row_of(bundle, number), it))

    return st.tuples(rows, drawn).map(plant)


def row_of(bundle: Bundle, number: int) -> RowSeen:
    return next(row for row in bundle.round.rows if row.number == number)


def old_moved(bundle: Bundle, at: tuple[int, Decimal]) -> dict[str, Any]:
    """Move the last old row either way; the one before it only onto or beyond the last."""
    index, by = at
    old = list(bundle.round.old_rows)
    moved = old[index].chainage_m + by if index else old[1].chainage_m + abs(by) - Decimal("0.11")
    old[index] = old[index].model_copy(update={"chainage_m": moved})
    return {"old_rows": tuple(old)}


def exchanged(bundle: Bundle, _: object) -> dict[str, Any]:
    first, then = bundle.round.old_rows
    return {
        "old_rows": (
            first.model_copy(update={"chainage_m": then.chainage_m}),
            then.model_copy(update={"chainage_m": first.chainage_m}),
        )
    }


def told_at(told: CountedRow | None, by: timedelta) -> CountedRow:
    assert told is not None
    return told.model_copy(update={"at": LOOKED + by})


def old_told_at(bundle: Bundle, by: timedelta) -> dict[str, Any]:
    old = tuple(
        row.model_copy(update={"confirmed": told_at(row.confirmed, by)})
        for row in bundle.round.old_rows
    )
    return {"old_rows": old}


def more_plates(row: RowSeen, more: int) -> dict[str, Any]:
    assert row.counted is not None
    return {"counted": row.counted.model_copy(update={"plates": row.counted.plates + more})}


def old_with_more_plates(bundle: Bundle, at: tuple[int, int]) -> dict[str, Any]:
    index, more = at
    old = list(bundle.round.old_rows)
    counted = old[index].confirmed
    assert counted is not None
    told = counted.model_copy(update={"plates": counted.plates + more})
    old[index] = old[index].model_copy(update={"confirmed": told})
    return {"old_rows": tuple(old)}


def positions(bundle: Bundle) -> int:
    support_class = bundle.standard.support_class(bundle.round.support_class)
    assert support_class is not None
    return sum(len(row.s_m) for row in rows_demanded(support_class, bundle.round))


def with_mesh(bundle: Bundle, **changes: Any) -> dict[str, Any]:
    return {"mesh": bundle.round.mesh.model_copy(update=changes)}


def hole(chainage_m: Decimal, s_m: Decimal, above_floor_m: Decimal) -> HoleSeen:
    return HoleSeen(
        chainage_m=max(Decimal(0), chainage_m), s_m=s_m, openings=1, above_floor_m=above_floor_m
    )


def bag(chainage_m: Decimal, s_m: Decimal) -> BagSeen:
    return BagSeen(chainage_m=max(Decimal(0), chainage_m), s_m=s_m, depth_mm=Decimal(20))


def later(bundle: Bundle, by: timedelta) -> Bundle:
    return bundle.model_copy(update={"as_at": bundle.as_at - by})


def deviating(bundle: Bundle, at: tuple[str, int, int, int]) -> Bundle:
    """Plant a bolt that is missing, and a deviation that is not for it."""
    round_id, row, position, hours = at
    spoiled = with_bolts(bundle, 2, missing(3))
    granted = tuple(
        Deviation(
            round=round_id,
            check=check,
            row=row,
            position=position if check == "bolts_present" else None,
            reason="fault, extra bolts beside it",
            ends_at=LOOKED + timedelta(hours=hours),
        )
        for check in ("bolts_present", "largest_gap", "bolt_spacing")
    )
    return spoiled.model_copy(update={"deviations": granted})


def softened(bundle: Bundle, at_most_m: Decimal) -> Bundle:
    """Plant a limit that the standard, as it was written down, doesn't have."""
    classes = tuple(
        it.model_copy(
            update={
                "limits": it.limits.model_copy(
                    update={
                        "row_spacing": it.limits.row_spacing.model_copy(
                            update={"at_most_m": it.limits.row_spacing.at_most_m + at_most_m}
                        )
                    }
                )
            }
        )
        for it in bundle.standard.classes
    )
    standard = bundle.standard.model_copy(update={"classes": classes})
    return bundle.model_copy(update={"standard": standard})


def before(drawn: st.SearchStrategy[Any], changed: Any) -> st.SearchStrategy[Plant]:
    def plant(it: Any) -> Plant:
        def planted(bundle: Bundle) -> Bundle:
            assert bundle.previous_round is not None
            spoiled = bundle.previous_round.model_copy(update=changed(bundle.previous_round, it))
            return bundle.model_copy(update={"previous_round": spoiled})

        return planted

    return drawn.map(plant)


FAR = Decimal(60)
"""Beyond the round, its face and a row more."""

plants: st.SearchStrategy[Plant] = st.one_of(
    # heading
    st.sampled_from(["D1", "O2", "W3"]).map(
        lambda code: lambda b: b.model_copy(
            update={
                "heading": b.heading.model_copy(
                    update={"support_class": code if code != b.heading.support_class else "Z9"}
                )
            }
        )
    ),
    on_heading(lambda b, by: {"face_m": max(Decimal(0), b.heading.last_row_m - by)}),
    on_heading(lambda _, by: {"face_m": Decimal("1392.50") + by}),
    on_heading(lambda _, by: {"last_row_m": JOINT + by, "face_m": JOINT + by}),
    on_heading(lambda _, by: {"last_round": 412 + int(by)}),
    on_heading(lambda _, __: {"demo": False}),
    on_round(metres, lambda b, by: {"face_known_m": b.round.joint_m - by}),
    on_round(metres, lambda _, by: {"face_known_m": Decimal("1393.00") + by}),
    # standard
    metres.map(lambda by: lambda b: softened(b, by)),
    st.text("0123456789abcdef", min_size=64, max_size=64).map(
        lambda it: lambda b: with_round(b, standard=it)
    ),
    # the joint, the old rows and the round before
    on_round(signed, lambda b, by: {"joint_m": b.round.joint_m + by}),
    on_round(st.tuples(st.integers(0, 1), signed), old_moved),
    on_round(st.none(), exchanged),
    before(metres, lambda it, by: {"joint_m": it.joint_m - by - 1}),
    before(st.integers(412, 900), lambda _, number: {"number": number}),
    before(st.text(min_size=1, max_size=5), lambda _, name: {"heading": name}),
    # times
    spans.map(lambda by: lambda b: later(b, by)),
    on_round(spans, lambda _, by: {"started_at": LOOKED + by}),
    on_row(spans, lambda row, by: {"counted": told_at(row.counted, by)}),
    on_row(spans, lambda row, by: {"counted": told_at(row.counted, -by)}),
    on_round(spans, old_told_at),
    on_round(spans, lambda b, by: old_told_at(b, -by)),
    on_round(spans, lambda _, by: {"fired_at": LOOKED + by}),
    on_round(
        spans,
        lambda b, by: {
            "bolter": b.round.bolter.model_copy(update={"bolting_finished_at": b.as_at + by})
        },
    ),
    # rows and counts
    on_row(
        st.integers(0, 14),
        lambda _, cm: {"ahead_of_row_before": length(Decimal(cm) / 100)},
    ),
    on_row(st.integers(1, 50), more_plates),
    on_round(st.tuples(st.integers(0, 1), st.integers(1, 50)), old_with_more_plates),
    on_round(rows, lambda b, number: {"rows": (*b.round.rows, row_of(b, number))}),
    on_round(
        st.sampled_from(["left", "middle", "right"]),
        lambda b, where: {
            "face_readings": (
                *b.round.face_readings,
                FaceReading.model_validate({"where": where, "reading": length("0.00")}),
            )
        },
    ),
    # bolts
    on_row(st.integers(20, 60), lambda _, at: {"bolts": (missing(at),)}),
    on_row(
        st.integers(1, 6),
        lambda _, at: {"bolts": (missing(at), BoltSeen(position=at, state="present"))},
    ),
    on_row(
        st.integers(0, 12),
        lambda _, cm: {"bolts": (placed(3, "0"), placed(4, str(Decimal(cm) / 100)))},
    ),
    on_row(
        st.integers(20, 60), lambda _, s: {"bolts": (placed(None, str(s)),)}
    ),
    on_row(
        st.integers(2, 6),
        lambda _, to: {
            "spacings": (
                SpacingSeen(from_position=1, to_position=to, reading=length("0.30")),
            )
        },
    ),
    on_round(
        st.integers(1, 900),
        lambda b, more: {
            "torques": (
                *b.round.torques,
                TorqueSeen(bolt=positions(b) + more, torque_nm=Decimal(265)),
            )
        },
    ),
    on_round(
        st.integers(28, 200),
        lambda b, holes: {"bolter": b.round.bolter.model_copy(update={"blocked_holes": holes})},
    ),
    # mesh
    on_round(
        st.integers(ROWS + 2, 60),
        lambda b, number: {
            "laps": (*b.round.laps, LapSeen(number=number, openings=20, held=True))
        },
    ),
    on_round(
        st.tuples(metres, st.sampled_from([1, -1])),
        lambda b, at: with_mesh(
            b, no_holes=False, holes=(hole(JOINT + (FAR + at[0]) * at[1], Decimal(0), Decimal(4)),)
        ),
    ),
    on_round(
        st.integers(10, 60),
        lambda b, s: with_mesh(b, no_holes=False, holes=(hole(JOINT, Decimal(s), Decimal(1)),)),
    ),
    on_round(
        st.none(),
        lambda b, _: with_mesh(
            b, no_holes=False, holes=(hole(JOINT, Decimal(0), Decimal("0.5")),)
        ),
    ),
    on_round(
        metres,
        lambda b, by: with_mesh(b, no_bagging=False, bags=(bag(JOINT + FAR + by, Decimal(0)),)),
    ),
    on_round(
        st.none(),
        lambda b, _: with_mesh(b, no_holes=True, holes=(hole(JOINT, Decimal(0), Decimal(5)),)),
    ),
    # deviations
    st.sampled_from(["other", ""]).map(lambda it: lambda b: deviating(b, (it, 2, 3, 5))),
    st.tuples(st.integers(3, 9), st.integers(1, 9)).map(
        lambda it: lambda b: deviating(b, ("this", it[0], it[1], 5))
    ),
    st.sampled_from([-1, 0, 25, 500]).map(
        lambda hours: lambda b: deviating(b, ("this", 2, 3, hours))
    ),
)  # fmt: skip
