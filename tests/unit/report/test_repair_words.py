"""What a report says of one repair, on paper."""

from decimal import Decimal

from fieldapp.report.pages.laying import Laying
from fieldapp.report.pages.month_pages import month_pages
from fieldapp.report.reported import code_of
from fieldapp.work.reporting.told import RepairTold
from tests.unit.report.pages import flat, runs_of
from tests.unit.report.told import AT, month_facts

REPAIR = RepairTold(
    id="01976f3a-52c4-7d10-9f4e-000000000002",
    label="LR-REPAIR",
    from_m=Decimal(150),
    to_m=Decimal(151),
    zones=(),
    state="done",
    damages=("LR-TEAR",),
    order_of_work="",
    crew="crew A",
    barrier=None,
    started_at=AT,
    finished_at=None,
    outcome=None,
    bolts_added=None,
    lap_openings=None,
    materials=(),
)


def test_a_crew_is_called_as_the_mine_calls_it() -> None:
    """Crews have "crew" in their names: nobody is crew crew A."""
    facts = month_facts()
    (told,) = facts.headings
    facts = facts.model_copy(
        update={"headings": (told.model_copy(update={"repaired": (REPAIR,)}),)}
    )
    on = Laying(facts, code_of(facts), "metres", lambda _: None)
    of_the_heading = runs_of(month_pages(on, facts, "Month"), page=2)
    words = flat("".join(run.text for run in of_the_heading))

    assert flat("by crew A") in words
    assert flat("crew crew A") not in words
