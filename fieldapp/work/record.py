"""Taking in a round that was written down elsewhere, and keeping one without a sign-off."""

from dataclasses import dataclass

from fieldapp.work.headings import NoSuchHeading, heading
from fieldapp.work.known import Known, known_by, parents_over
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import AlreadyOpen, DraftAbout, begun, open_round, rounds
from fieldapp.work.site import Session, Site
from fieldapp.work.standard_in_force import adopted
from fieldapp.work.writing import new_thing_id, written
from schemas.bodies.heading import Heading
from schemas.bodies.round import Round
from schemas.bundle import Bundle
from schemas.standard import Standard
from schemas.trouble import BadInput


@dataclass(eq=False)
class StandardNotAdopted(BadInput):
    """A round was written down against a standard that this mine doesn't know."""

    standard: str
    mine: str

    happened = "The round names {standard} as it was never adopted at {mine}."
    kept = "Nothing was recorded."
    do_next = "Adopt that revision first, or look at the round by the standard in force."


@dataclass(eq=False)
class ClassMissing(BadInput):
    """A round names a support class that its standard doesn't have."""

    standard: str
    support_class: str

    happened = "{standard} has no support class {support_class}."
    kept = "Nothing was recorded."
    do_next = "Put the round's support class right, then record it again."


def take_in(site: Site, bundle: Bundle, session: Session | None) -> RoundWork:
    """Open a round that was written down elsewhere, as a draft of this tablet.

    The heading is found by its id or its name. A round of that number that is recorded here
    already gets a new revision. Deviations of the bundle are not taken in: they are granted
    here, by an engineer.

    Raises
    ------
    NoSuchHeading
        The heading isn't one of this mine's.
    StandardNotAdopted
        The bundle's standard is none that was adopted here.
    AlreadyOpen
        A round of this heading is open on this tablet.
    """
    place = _heading(site, bundle)
    standard = _adopted(site, bundle.standard)
    if standard.body.support_class(bundle.round.support_class) is None:
        raise ClassMissing(standard.body.name, bundle.round.support_class)
    if open_round(site, place.id):
        raise AlreadyOpen(place.body.name)
    before = [it for it in rounds(site, place.id) if it.body.name == bundle.round.name]
    same = [it for it in before if it.id == before[-1].id]
    named = {"heading": place.id, "standard": standard.entry.revision}
    about = DraftAbout(
        heading_id=place.id,
        round_id=before[-1].id if before else None,
        standard=standard.entry.revision,
        began=bundle.round.model_copy(update=named),
        parents=parents_over(site, same) if same else (),
        begun_by=session.person_id if session else None,
    )
    return begun(site, new_thing_id(site), about)


def record(site: Site, work: RoundWork, session: Session | None) -> Known[Round]:
    """Keep a round as it stands, unsigned: for the next shift, or for whoever signs it."""
    author = session.person_id if session else None
    entry = written(
        site, "round", work.seen, author=author, thing_id=work.round_id, parents=work.parents
    )
    site.store.drafts.finish(work.draft_id, [entry])
    return known_by(site, entry, work.seen)


def discard(site: Site, work: RoundWork) -> None:
    """Close a draft that became nothing."""
    site.store.drafts.finish(work.draft_id, [])


def _heading(site: Site, bundle: Bundle) -> Known[Heading]:
    try:
        return heading(site, bundle.round.heading)
    except NoSuchHeading:
        return heading(site, bundle.heading.name)


def _adopted(site: Site, standard: Standard) -> Known[Standard]:
    wanted = standard.model_dump(mode="json", exclude_none=True)
    for known in reversed(adopted(site)):
        if known.body.model_dump(mode="json", exclude_none=True) == wanted:
            return known
    raise StandardNotAdopted(standard.name, site.mine.name)
