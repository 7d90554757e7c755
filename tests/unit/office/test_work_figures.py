"""The view of work figures: what was stated, beside what the round takes by its standard."""

from datetime import timedelta
from pathlib import Path

from schemas.bodies.work_seen import BoltsUsed, Delay, Used, WorkSeen
from schemas.entry import corrected
from tests.demo_mine import PRESENT
from tests.office import ask, demo_share, fill
from tests.unit.office.stating import person_id, said, stated

WORK = WorkSeen(
    started_at=PRESENT - timedelta(minutes=150),
    finished_at=PRESENT - timedelta(minutes=30),
    crew_size=3,
    method="mechanised",
    delays=(Delay(minutes=20, cause="machine broke down"),),
    used=Used(
        bolts=(BoltsUsed(bolt_type="RB24", bolts=38),), plates=36, mesh_pieces=10, capsules=114
    ),
    beyond_last_row=True,
    beyond_reason="to bar down",
)


def test_work_that_is_stated_stands_there_beside_the_take_off(
    address: str, tmp_path: Path
) -> None:
    share = demo_share(tmp_path / "share")
    seen = next(it for it in stated("round") if it.body["support_class"] == "D1")
    work = WORK.model_dump(mode="json", exclude_none=True)
    after = corrected(seen, {"work": work}, said(person_id("Day supervisor"), PRESENT))
    share.seal(share.tablets[0], after)
    fill(address, share.place)

    found = ask(
        address,
        """SELECT round_id, minutes, delay_minutes, bolts_used, mesh_pieces_used, meshed_m2,
               meshed_m2_per_h, beyond_last_row, beyond_reason, method FROM work_figures""",
    ).rows
    # ten sheets of 3.0 × 2.4 m in two hours
    assert [tuple(it) for it in found] == [
        (seen.id, 120, 20, 38, 10, 72.0, 36.0, True, "to bar down", "mechanised")
    ]
    (priced,) = ask(
        address,
        """SELECT bolts_by_standard % 9, capsules_by_standard / bolts_by_standard,
               round(cost_per_m * advance_m - cost) AS rounding, currency FROM work_figures""",
    ).rows
    assert tuple(priced) == (0, 3, 0, "AUD")
