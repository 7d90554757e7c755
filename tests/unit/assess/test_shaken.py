"""An event that nobody inspected after: what the support carries since, nobody knows."""

from decimal import Decimal

from fieldapp.assess import assess
from schemas.bodies.event import Event, Happened
from schemas.bundle import Bundle
from schemas.findings import Finding, Verdict
from tests.standards import D1, changed, put
from tests.unit.assess.conforming import LOOKED, conforming


def after(*places_m: str, what: Happened = "seismic", bundle: Bundle | None = None) -> Bundle:
    events = tuple(
        Event(
            heading="heading",
            what=what,
            at=LOOKED,
            chainage_m=Decimal(at_m),
            radius_m=Decimal(15),
            excluded_until=LOOKED,
        )
        for at_m in places_m
    )
    return (bundle or conforming()).model_copy(update={"shaken_by": events})


def found(bundle: Bundle) -> list[Finding]:
    return [it for it in assess(bundle).findings if it.check == "events"]


def test_capacity_is_not_known_since_an_event_until_somebody_has_looked() -> None:
    (finding,) = found(after("1400", what="fall of ground"))

    assert (finding.verdict, finding.holds) == (Verdict.NOT_LOOKED_AT, Verdict.NO_ENTRY)
    assert finding.places[0].words == "capacity not known since: fall of ground at 1400.0 m"
    assert finding.fix == (
        f"inspect the ground after: fall of ground at 1400.0 m, {LOOKED:%Y-%m-%d %H:%M} UTC",
    )


def test_the_headline_names_it_and_nothing_else_hides_it() -> None:
    assessment = assess(after("1400"))

    assert assessment.headline == "1 not looked at"
    assert not assessment.may_be_accepted


def test_several_events_are_one_finding_with_a_place_each() -> None:
    (finding,) = found(after("1400", "1392"))

    assert [place.chainage_m for place in finding.places] == [Decimal(1400), Decimal(1392)]


def test_an_event_that_did_not_reach_the_round_is_none_of_it() -> None:
    assert found(after("1410")) == []


def test_a_standard_that_demands_no_load_can_t_leave_it_out() -> None:
    silent = conforming().model_copy(update={"standard": changed(put(D1, "limits", load=None))})

    assert [it.verdict for it in found(after("1400", bundle=silent))] == [Verdict.NOT_LOOKED_AT]
