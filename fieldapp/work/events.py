"""What happens to the ground: any event withdraws entry within its radius at once."""

from datetime import datetime, timedelta
from decimal import Decimal

from fieldapp.work.headings import heading
from fieldapp.work.known import Known, stated
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.standard_in_force import NoStandard, in_force
from fieldapp.work.writing import state
from schemas.bodies.event import Event
from schemas.standard import EventRule, EventWhat

WITHOUT_A_RULE = EventRule.model_validate(
    {
        "what": "fired",
        "radius_m": "30",
        "exclusion_h": "24",
        "because": "the standard has no rule for this event: the strictest in the program",
    }
)

CLOCK_DOUBTED_AT_MOST = timedelta(days=1)
"""A tablet's clock may be behind what it knows by so much before its exclusions are no longer
counted from the newest entry: one clock set years ahead must not close the mine for years."""


def report_event(
    site: Site,
    heading_id: str,
    what: EventWhat,
    chainage_m: Decimal,
    session: Session | None,
    *,
    fired_m: Decimal | None = None,
) -> Known[Event]:
    """State an event. Anyone may: it only makes entry stricter."""
    body = drawn_up(site, heading_id, what, chainage_m).model_copy(update={"fired_m": fired_m})
    entry = state(site, "event", body, author=session.person_id if session else None)
    return Known(entry, body)


def drawn_up(site: Site, heading_id: str, what: EventWhat, chainage_m: Decimal) -> Event:
    """Give an event of now, with what the rule in force withdraws; it is not stated by that."""
    rule = _rule(site, what)
    return Event(
        heading=heading(site, heading_id).id,
        what=what,
        at=site.now(),
        chainage_m=chainage_m,
        radius_m=rule.radius_m,
        excluded_until=_no_earlier_than_now(site) + timedelta(hours=float(rule.exclusion_h)),
    )


def events(site: Sight, heading_id: str) -> tuple[Known[Event], ...]:
    """Give the events of a heading, oldest first. Nothing supersedes one: it is withdrawn."""
    return stated(site, "event", Event, heading=heading_id)


def _rule(site: Site, what: EventWhat) -> EventRule:
    """Give the rule in force; an event is stated also where no standard is."""
    try:
        rules = in_force(site, site.now()).body.events
    except NoStandard:
        return WITHOUT_A_RULE
    return next((rule for rule in rules if rule.what == what), WITHOUT_A_RULE)


def _no_earlier_than_now(site: Site) -> datetime:
    """Give the time; the newest entry's where the clock was set back behind it."""
    now = site.now()
    newest = site.store.ledger.newest_made_at() or now
    return max(now, min(newest, now + CLOCK_DOUBTED_AT_MOST))
