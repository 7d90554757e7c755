"""What happens to the ground: any event withdraws entry within its radius at once."""

from datetime import timedelta
from decimal import Decimal

from fieldapp.work.headings import heading
from fieldapp.work.known import Known, current
from fieldapp.work.site import Session, Site
from fieldapp.work.standard_in_force import in_force
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
    place = heading(site, heading_id)
    rules = in_force(site, site.now()).body.events
    rule = next((rule for rule in rules if rule.what == what), WITHOUT_A_RULE)
    body = Event(
        heading=place.id,
        what=what,
        at=site.now(),
        chainage_m=chainage_m,
        radius_m=rule.radius_m,
        excluded_until=site.now() + timedelta(hours=float(rule.exclusion_h)),
        fired_m=fired_m,
    )
    entry = state(site, "event", body, author=session.person_id if session else None)
    return Known(entry, body)


def events(site: Site, heading_id: str) -> tuple[Known[Event], ...]:
    """Give the events of a heading, oldest first."""
    return tuple(it for it in current(site, "event", Event) if it.body.heading == heading_id)
