"""What reports are told of intersections."""

from datetime import timedelta
from pathlib import Path
from typing import Any

from fieldapp.work.demo.story import JUNCTION
from schemas.entry import new_entry
from tests.demo_mine import PRESENT
from tests.made import thing_id
from tests.office import ask, demo_share, fill
from tests.unit.office.stating import person_id, said, stated

PLACE_ID = next(it.id for it in stated("heading") if it.body["name"] == JUNCTION)
CORNERS = [("0", "-2.5"), ("4.5", "-2.5"), ("4.5", "2.5"), ("0", "2.5")]
CUT: dict[str, Any] = {
    "heading": PLACE_ID,
    "from_m": "50",
    "to_m": "54.5",
    "corners": [{"x_m": x, "y_m": y} for x, y in CORNERS],
    "support_class": "W3",
    "cable": "LB50",
    "cables": 6,
    "step": "grouted",
    "count": 6,
    "at": PRESENT.isoformat(),
}
BLAST: dict[str, Any] = {
    "heading": PLACE_ID,
    "what": "nearby blast",
    "at": PRESENT.isoformat(),
    "chainage_m": "52",
    "radius_m": "30",
    "excluded_until": PRESENT.isoformat(),
    "opens": thing_id(21),
}


def test_a_report_counts_intersections_and_those_opened_too_early(tmp_path: Path) -> None:
    share = demo_share(tmp_path / "share", of=JUNCTION)
    address, who = f"sqlite:///{tmp_path}/office.db", person_id("Bolter, crew A")
    cut = new_entry("intersection", 1, thing_id(21), CUT, said(who, PRESENT))
    blast = new_entry("event", 1, thing_id(22), BLAST, said(who, PRESENT))
    share.seal(share.tablets[0], cut, blast)

    fill(address, share.place, at=PRESENT + timedelta(hours=12))

    asked = "heading, span_m, step, done, cables, bolts, cables_wait, verdict"
    told = f"SELECT {asked} FROM intersections"  # noqa: S608 - names of ours
    assert ask(address, told).rows == [
        (JUNCTION, 4.5, "grouted", 6, 6, 0, "not drilled yet", "rework")
    ]
    early = "SELECT because FROM intersections WHERE opened_at IS NOT NULL"
    assert ask(address, early).rows == [("breakaway: cables grouted, plated demanded",)]
