"""Saying that a barrier stands: of what is closed already, or of the entry line itself."""

from fieldapp.work.entry import entry
from fieldapp.work.notices import answer, notices, say_no_entry
from fieldapp.work.site import Session, Site


def barrier_up(site: Site, heading_id: str, session: Session | None) -> None:
    """State that the barrier is up wherever people may not go in a heading.

    Every standing *no entry* gets its barrier. Where the heading is closed by something else,
    such as metres that nobody has signed, a notice at the entry line says so: a person lifts
    it when the barrier comes down.
    """
    for notice in notices(site, heading_id):
        if notice.body.what == "no entry":
            answer(site, notice.id, session, barrier_up=True)
    state = entry(site, heading_id, site.now())
    if state.state == "no entry, barrier not yet up":
        reason = state.because[0]
        stated = say_no_entry(site, heading_id, state.line_m, session, reason=reason)
        answer(site, stated.id, session, barrier_up=True)
