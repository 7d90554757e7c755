"""Telling the engineer of failed support: who was told, when, and by which means."""

from fieldapp.work.authority import ENGINEER
from fieldapp.work.bolt_tests.recording import bolt_test
from fieldapp.work.known import Known
from fieldapp.work.people import people, still_enrolled
from fieldapp.work.site import Session, Site
from fieldapp.work.writing import state
from schemas.bodies.told import Told, ToldBy


def tell_engineer(
    site: Site, test_id: str, who: str, by: ToldBy, session: Session | None
) -> Known[Told]:
    """State that an engineer was told now. Anyone may: it opens nothing.

    Raises
    ------
    NoSuchTest
        No test has that id.
    """
    known = bolt_test(site, test_id)
    author = still_enrolled(site, session).person_id if session else None
    body = Told(heading=known.heading_id, test=known.id, who=who, by=by, at=site.now())
    return Known(state(site, "told", body, author=author), body)


def engineers(site: Site) -> tuple[str, ...]:
    """Give the names of those who can be told."""
    return tuple(it.body.name for it in people(site) if set(it.body.roles) & set(ENGINEER))
