"""Whatever is seen of a damage, in whatever order it arrives, it is ranked the same."""

from random import Random
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from fieldapp.assess.damage import Observation, Ranked, left_of
from tests.damages import STANDARD, damage, ranked, repair

HOLDS = ("no entry", "restricted", "open")
CELLS = {(it.severity, it.exposure): it.priority for it in STANDARD.rehab_matrix}
CODES = [it.code for it in STANDARD.priorities]


@st.composite
def extents(draw: Any) -> dict[str, Any]:
    how = draw(st.sampled_from(["eye", "tape", "photo"]))
    depth = {"value_mm": str(draw(st.integers(0, 600))), "how": how}
    kept = draw(st.sets(st.sampled_from(["openings", "bag_depth", "above_floor"])))
    said = {
        "openings": draw(st.integers(0, 9)),
        "bag_depth": depth,
        "above_floor": {"value_m": draw(st.sampled_from(["0.9", "1.75", "3.2"])), "how": how},
    }
    return {name: said[name] for name in kept}


@st.composite
def observations(draw: Any) -> Observation:
    day = draw(st.integers(0, 60))
    said = damage(
        day,
        kind=draw(st.sampled_from(["torn mesh", "bagged mesh", "rusted"])),
        severity=draw(st.none() | st.sampled_from(["S0", "S1", "S3", "S5"])),
        exposure=draw(st.none() | st.sampled_from(["E1", "E3", "E4"])),
        extent=draw(extents()),
    )
    return Observation(draw(st.uuids()).hex, said)


several = st.lists(observations(), min_size=1, max_size=5)


def no_milder(after: Ranked, before: Ranked) -> bool:
    """Whether it is repaired no later and lets nobody more beneath."""
    sooner = before.due_at is None or (after.due_at is not None and after.due_at <= before.due_at)
    urgent = before.rank < 0 or 0 <= after.rank <= before.rank
    return sooner and urgent


@given(several, st.randoms(use_true_random=False))
def test_the_order_in_which_observations_arrive_never_matters(
    seen: list[Observation], chance: Random
) -> None:
    shuffled = chance.sample(seen, len(seen))

    assert ranked(*seen, days=70) == ranked(*shuffled, days=70)
    assert left_of(seen, "seen-0", [repair()]) == left_of(shuffled, "seen-0", [repair()])


@given(several, observations())
def test_another_look_never_makes_a_repair_less_urgent(
    seen: list[Observation], more: Observation
) -> None:
    """What is put right is put right by a correction, or decided by an engineer."""
    assert no_milder(ranked(*seen, more), ranked(*seen))


@given(observations())
def test_one_observation_has_the_priority_of_its_place_in_the_table(one: Observation) -> None:
    severity, exposure = one.damage.severity, one.damage.exposure
    row = [code for (grave, _), code in CELLS.items() if grave == severity]
    expected = CELLS.get((severity, exposure), min(row, key=CODES.index, default=None))  # type: ignore[arg-type]

    assert ranked(one).priority == expected


@given(several, st.integers(0, 900))
def test_time_alone_changes_neither_priority_nor_entry(seen: list[Observation], days: int) -> None:
    now, later = ranked(*seen, days=60), ranked(*seen, days=60 + days)

    assert (now.rank, now.holds, now.due_at) == (later.rank, later.holds, later.due_at)


@given(several)
def test_entry_is_never_milder_than_the_table_says(seen: list[Observation]) -> None:
    found = ranked(*seen)
    by_table = STANDARD.priorities[found.rank].holds if found.rank >= 0 else "restricted"

    assert HOLDS.index(found.holds) <= HOLDS.index(by_table or "open")


@given(several, observations())
def test_a_repair_ends_nothing_that_the_verifier_did_not_know(
    seen: list[Observation], more: Observation
) -> None:
    fixed = repair(covers=[it.id for it in seen])
    left = left_of([*seen, more], "seen-0", [fixed])

    assert left.seen == (more,)
