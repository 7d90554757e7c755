"""A month's plan is the same on every tablet, in whatever order entries came to it."""

from datetime import timedelta
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.work.demo.story import CUDDY
from fieldapp.work.headings import heading
from fieldapp.work.walk.plan import WalkPlan, plan_of_month
from fieldapp.work.writing import written
from schemas.bodies.event import Event
from schemas.bodies.walk import Walk
from schemas.entry import Entry
from tests.demo_mine import PRESENT, SetClock, open_demo, session

PEOPLE = ("Geotechnical technician", "Day supervisor")
FEW = settings(max_examples=6)
"""Each example opens two mines on the disk."""

answers = st.sampled_from(["nothing new", "something new", "not reached"])
acts = st.tuples(
    st.integers(0, 60), st.sampled_from(PEOPLE), st.integers(0, 3), answers, st.integers(0, 4)
)


def stated(folder: Path, drawn: list[Any]) -> list[Entry]:
    """Write what people stated over two months, without keeping it."""
    clock = SetClock()
    site = open_demo(folder, clock)
    with site.store:
        place = heading(site, CUDDY)
        found: list[Entry] = []
        for days, who, index, answer, grade in drawn:
            clock.at = PRESENT + timedelta(days=days, minutes=len(found))
            author = session(site, who).person_id
            section = {
                "from_m": f"{index * 10}",
                "to_m": f"{index * 10 + 10}",
                "at": clock.at,
                "answer": answer,
                "parts": [{"part": "bolts", "zone": "back", "corrosion_grade": grade}],
            }
            times = {"began_at": clock.at, "ended_at": clock.at, "month": f"{clock.at:%Y-%m}"}
            walk = Walk.model_validate({"heading": place.id, "sections": [section]} | times)
            found.append(written(site, "walk", walk, author=author))
            if grade == 4:
                happened = {"what": "seismic", "chainage_m": f"{index * 10}", "radius_m": "8"}
                event = {"heading": place.id, "at": clock.at, "excluded_until": clock.at}
                body = Event.model_validate(event | happened)
                found.append(written(site, "event", body, author=author, after=found[-1]))
    return found


def planned(folder: Path, entries: list[Entry]) -> list[WalkPlan]:
    site = open_demo(folder, SetClock(PRESENT + timedelta(days=62)))
    with site.store:
        for one in entries:
            site.store.ledger.add([one])
        place = heading(site, CUDDY).id
        return [plan_of_month(site, place, f"2031-{it:02}") for it in (5, 7, 8)]


@FEW
@given(st.lists(acts, max_size=8), st.randoms(use_true_random=False))
def test_the_order_of_entries_means_nothing(drawn: list[Any], order: Random) -> None:
    with TemporaryDirectory() as name:
        folder = Path(name)
        entries = stated(folder / "written", drawn)
        shuffled = order.sample(entries, len(entries))

        assert planned(folder / "one", entries) == planned(folder / "other", shuffled)
