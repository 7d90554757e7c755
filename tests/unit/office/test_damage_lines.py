"""What reports are told of damage and its repair."""

from datetime import timedelta
from pathlib import Path
from typing import Any

from fieldapp.work.demo.story import MAIN
from schemas.entry import new_entry
from tests.demo_mine import PRESENT
from tests.made import thing_id
from tests.office import ask, demo_share, fill
from tests.unit.office.stating import person_id, said, stated

MAIN_ID = next(it.id for it in stated("heading") if it.body["name"] == MAIN)
TEAR: dict[str, Any] = {
    "heading": MAIN_ID,
    "seen_at": PRESENT.isoformat(),
    "chainage_m": "590.4",
    "zone": "right shoulder",
    "kind": "torn mesh",
    "severity": "S3",
    "exposure": "E3",
}
REPAIR: dict[str, Any] = {
    "heading": MAIN_ID,
    "from_m": "590",
    "to_m": "592",
    "damages": [thing_id(21)],
    "state": "in hand",
    "crew": "B crew",
    "started_at": PRESENT.isoformat(),
}


def test_a_report_tells_what_is_overdue_and_what_is_barricaded(tmp_path: Path) -> None:
    share = demo_share(tmp_path / "share", of=MAIN)
    address, who = f"sqlite:///{tmp_path}/office.db", person_id("Bolter, crew A")
    tear = new_entry("damage", 1, thing_id(21), TEAR, said(who, PRESENT))
    repair = new_entry("rehab", 1, thing_id(22), REPAIR, said(who, PRESENT))
    share.seal(share.tablets[0], tear, repair)

    fill(address, share.place, at=PRESENT + timedelta(days=9, hours=12))

    asked = "heading, kind, priority, overdue_days, standing, holds, observations"
    damage = f"SELECT {asked} FROM damage"  # noqa: S608 - names of ours
    assert ask(address, damage).rows == [
        (MAIN, "torn mesh", "P2", 2.5, "unrepaired", "restricted", 1)
    ]
    rehab = "SELECT heading, state, crew, damages, stated_by FROM rehab"
    assert ask(address, rehab).rows == [(MAIN, "in hand", "B crew", 1, "Bolter, crew A")]
    barred = "SELECT because FROM entry"
    told = str(ask(address, barred).rows)
    assert "barricaded: repair in hand, 590.0 to 592.0 m by B crew" in told
