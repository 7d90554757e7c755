"""Survey pegs: entering them, and finding one by its name."""

from dataclasses import dataclass

from fieldapp.work.headings import heading
from fieldapp.work.known import Known, current
from fieldapp.work.people import still_enrolled
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.writing import state
from schemas.bodies.survey_peg import SurveyPeg
from schemas.trouble import BadInput


@dataclass(eq=False)
class PegStandsAlready(BadInput):
    """A name of a peg is taken."""

    name: str
    place: str

    happened = "A peg {name} is entered already: {place}."
    kept = "It is as it was, and no other was entered."
    do_next = "Look at the name on the rock; withdraw the old one if it was wrong or is gone."


def pegs(site: Sight) -> tuple[Known[SurveyPeg], ...]:
    """Give every peg, heading by heading and from the origin to the face."""
    known = current(site, "survey_peg", SurveyPeg)
    return tuple(sorted(known, key=lambda it: (it.body.heading, it.body.chainage_m, it.id)))


def add_peg(site: Site, body: SurveyPeg, session: Session) -> Known[SurveyPeg]:
    """Enter a peg as it was surveyed.

    Raises
    ------
    NoSuchHeading
        Nothing is known of its heading.
    PegStandsAlready
        Another of the mine has its name.
    """
    session = still_enrolled(site, session)
    heading(site, body.heading)
    for known in pegs(site):
        if known.body.name.casefold() == body.name.casefold():
            name = heading(site, known.body.heading).body.name
            raise PegStandsAlready(body.name, f"{name}, {known.body.chainage_m} m")
    return Known(state(site, "survey_peg", body, author=session.person_id), body)
