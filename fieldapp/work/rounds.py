"""Beginning a round, going on with one, and keeping each touch before anybody sees it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal

from fieldapp.assess.demanded import class_at, rows_demanded
from fieldapp.assess.rechaining import Chaining
from fieldapp.work.class_ahead import class_ahead
from fieldapp.work.deviations import granted_for
from fieldapp.work.drafts_of import is_of
from fieldapp.work.face import face
from fieldapp.work.headings import heading, headings
from fieldapp.work.inspections import shaken_by
from fieldapp.work.known import Known, current, one, parents_over
from fieldapp.work.rechaining import chained_now, in_chainages, rechained_of
from fieldapp.work.round import RoundWork
from fieldapp.work.round_ends import beside, ends_m
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.standard_in_force import in_force, of_revision, of_round_before
from fieldapp.work.touches import AnyTouch, Undone, read_touch, write_touch
from fieldapp.work.writing import new_thing_id
from schemas.bodies.heading import Heading
from schemas.bodies.round import OldRow, Round
from schemas.part import Own
from schemas.standard import Standard, SupportClass
from schemas.trouble import BadInput, NotAllowed

ROWS_AT_FIRST = 3


@dataclass(eq=False)
class AlreadyOpen(NotAllowed):
    """Somebody is recording this heading's round already."""

    heading: str

    happened = "A round of {heading} is open already on this tablet."
    kept = "It is as it was left."
    do_next = "Go on with it from the Shift board."


@dataclass(eq=False)
class NoSuchRound(BadInput):
    """No round of that name is recorded."""

    name: str

    happened = "No round is recorded as {name}."
    kept = "Nothing was changed."
    do_next = "Name it by heading and number, such as 4180 Main 87, or by its id."


@dataclass(eq=False)
class ClassLeftOut(NotAllowed):
    """The standard in force doesn't have a heading's support class any more."""

    standard: str
    support_class: str

    happened = "{standard} has no support class {support_class}, which this heading is put up by."
    kept = "Every record is as it was; no round was begun."
    do_next = "The geotechnical engineer adopts a revision that has the class."


class DraftAbout(Own):
    """What a draft of a round begins from."""

    heading_id: str
    round_id: str | None = None
    """None: the draft is named for its round. A round looked at again has a draft of its own."""
    standard: str
    began: Round
    parents: tuple[str, ...] = ()
    begun_by: str | None = None


@dataclass(frozen=True)
class OpenRound:
    """A draft of a round on this tablet."""

    heading_id: str
    work: RoundWork
    begun_by: str | None

    @property
    def since(self) -> datetime:
        """When it was begun."""
        return self.work.began.started_at


def open_rounds(site: Site, heading_id: str | None = None) -> tuple[OpenRound, ...]:
    """Give every round that is being recorded here, or only those of one heading."""
    drafts = (it for it in site.store.drafts.open_drafts() if is_of(it, "round"))
    abouts = [(it.draft_id, DraftAbout.model_validate_json(it.about)) for it in drafts]
    return tuple(
        _open(site, draft_id, about)
        for draft_id, about in abouts
        if heading_id in (None, about.heading_id)
    )


def open_round(site: Site, heading_id: str) -> OpenRound | None:
    """Give the round that is being recorded in a heading; None when there is none."""
    return next(iter(open_rounds(site, heading_id)), None)


def begin_round(
    site: Site, heading_id: str, session: Session | None, *, rows: int | None = None
) -> RoundWork:
    """Begin the next round of a heading: the draft is on disk before this returns.

    Raises
    ------
    AlreadyOpen
        A round of this heading is open on this tablet.
    NoStandard
        No standard is in force.
    ClassLeftOut
        The standard in force has no such support class.
    """
    place = heading(site, heading_id)
    code = class_of_next(site, place)
    standard, support_class = demanded_of_next(site, place, code)
    previous = last_round(site, place.id)
    began = _first(site, place, previous, standard.entry.revision)
    began = began.model_copy(update={"support_class": code})
    began = began.model_copy(update={"rows_planned": rows or _rows_before(previous)})
    before = beside(previous, _chaining(site, began), began.joint_m) if previous else None
    by = of_round_before(site, previous, standard) or standard.body
    old_rows = old_rows_before(support_class, began, before, by)
    began = began.model_copy(update={"old_rows": old_rows})
    about = DraftAbout(
        heading_id=place.id,
        standard=standard.entry.revision,
        began=began,
        begun_by=session.person_id if session else None,
    )
    return begun(site, new_thing_id(site), about)


def class_of_next(site: Sight, place: Known[Heading]) -> str:
    """Give the support class of a heading's next round, that of the ground at its face."""
    own = place.body.support_class
    return class_ahead(own, [it.body for it in rounds(site, place.id)])


def demanded_of_next(
    site: Site, place: Known[Heading], code: str
) -> tuple[Known[Standard], SupportClass]:
    """Give what a round of a class that is begun now in a heading is judged by.

    Raises
    ------
    AlreadyOpen, NoStandard, ClassLeftOut
        As for `begin_round`.
    """
    if open_round(site, place.id):
        raise AlreadyOpen(place.body.name)
    standard = in_force(site, site.now())
    support_class = standard.body.support_class(code)
    if support_class is None:
        raise ClassLeftOut(standard.body.name, code)
    return standard, support_class


def look_again(site: Site, round_id: str, session: Session | None) -> RoundWork:
    """Open a recorded round again, so that what was sent back can be looked at anew.

    Every answer stands as it was; what is touched now replaces it in a new revision. Where the
    face was known to be is worked out anew: a firing may have become known since.
    """
    heads = one(site, "round", Round, round_id)
    body = heads[-1].body
    place = heading(site, body.heading)
    if open_round(site, place.id):
        raise AlreadyOpen(place.body.name)
    if body.over is None:
        body = body.model_copy(update={"face_known_m": face(site, place).before_m[round_id]})
    about = DraftAbout(
        heading_id=body.heading,
        round_id=round_id,
        standard=body.standard,
        began=body,
        parents=parents_over(site, heads),
        begun_by=session.person_id if session else None,
    )
    return begun(site, new_thing_id(site), about)


def keep_touch(site: Site, work: RoundWork, touch: AnyTouch) -> RoundWork:
    """Put one touch on disk, then give the work that follows from it."""
    site.store.drafts.touch(work.draft_id, write_touch(touch))
    return work.touched(touch)


def undo(site: Site, work: RoundWork, at: datetime, by: str | None) -> RoundWork:
    """Take the last standing touch back; nothing to take back changes nothing."""
    if not work.can_undo:
        return work
    return keep_touch(site, work, Undone(at=at, by=by))


def rounds(site: Sight, heading_id: str) -> tuple[Known[Round], ...]:
    """Give the current revisions of all rounds of a heading, from the joint inbye."""
    known = current(site, "round", Round, heading=heading_id)
    return tuple(sorted(known, key=lambda it: (it.body.joint_m, it.body.number)))


def find_round(site: Sight, name: str) -> Known[Round]:
    """Find a recorded round by its id, or by its heading's name and its number.

    Raises
    ------
    NoSuchRound
        Nothing of that name is recorded.
    """
    for place in headings(site):
        for known in rounds(site, place.id):
            if is_meant(name, place.body, known.id, known.body):
                return known
    raise NoSuchRound(name)


def is_meant(name: str, place: Heading, round_id: str, seen: Round) -> bool:
    """Whether a round is the one of that name: its id, or its heading's name and its number."""
    spoken = f"{place.name} {seen.name.removeprefix('round ')}".casefold()
    return name.strip().casefold() in (round_id, spoken)


def last_round(site: Sight, heading_id: str) -> Known[Round] | None:
    """Give the round of the advance nearest the face; None in a heading that has none."""
    known = [it for it in rounds(site, heading_id) if it.body.over is None]
    return known[-1] if known else None


def round_before(seen: Sequence[Known[Round]], round_id: str, body: Round) -> Known[Round] | None:
    """Give the round that a round meets at its joint, of those of its heading from there inbye.

    New support over old meets none: whichever old rows stay beside it are counted as they stand.
    """
    if body.over is not None:
        return None
    advances = (it for it in seen if it.body.over is None)
    earlier = [it for it in advances if it.id != round_id and it.body.joint_m < body.joint_m]
    return earlier[-1] if earlier else None


def begun(site: Site, draft_id: str, about: DraftAbout) -> RoundWork:
    """Put a new draft on disk, then give the work that it begins."""
    line = about.model_dump_json(exclude_none=True).encode()
    site.store.drafts.begin(draft_id, line)
    return _work(site, draft_id, about, ())


def _open(site: Site, draft_id: str, about: DraftAbout) -> OpenRound:
    touches = tuple(read_touch(line) for line in site.store.drafts.touches(draft_id))
    work = _work(site, draft_id, about, touches)
    return OpenRound(about.heading_id, work, about.begun_by)


def _work(
    site: Site, draft_id: str, about: DraftAbout, touches: tuple[AnyTouch, ...]
) -> RoundWork:
    round_id = about.round_id or draft_id
    shown = of_revision(site, about.standard)
    standard = shown or in_force(site, site.now())
    began = about.began.model_copy(update={"standard": standard.entry.revision})
    chaining = _chaining(site, began)
    today = in_chainages(began, chaining)
    before = round_before(rounds(site, about.heading_id), round_id, today)
    return RoundWork(
        round_id=round_id,
        draft_id=draft_id,
        heading=heading(site, about.heading_id).by_chainages_of(began.chained_at),
        standard=standard.body,
        began=began,
        touches=touches,
        previous=beside(before, chaining, began.joint_m) if before else None,
        previous_standard=of_round_before(site, before, standard),
        parents=about.parents,
        deviations=granted_for(site, round_id),
        shaken_by=shaken_by(site, about.heading_id, site.now()),
        standard_line=standard.entry.line.decode(),
    )


def _chaining(site: Site, began: Round) -> Chaining:
    return Chaining(rechained_of(site, began.heading), began.chained_at)


def with_deviations(site: Site, work: RoundWork) -> RoundWork:
    """Give the work under the deviations granted by now, and after what has happened by now."""
    shaken = shaken_by(site, work.began.heading, site.now())
    return replace(work, deviations=granted_for(site, work.round_id), shaken_by=shaken)


def _first(
    site: Site, place: Known[Heading], previous: Known[Round] | None, standard: str
) -> Round:
    joint = ends_m(previous) if previous else place.body.last_row_m
    number = previous.body.number if previous else place.body.last_round
    return Round(
        heading=place.id,
        number=number + 1,
        support_class=place.body.support_class,
        standard=standard,
        joint_m=joint,
        rows_planned=1,
        started_at=site.now(),
        face_known_m=face(site, place).chainage_m,
        chained_at=chained_now(site, place.id),
    )


def _rows_before(previous: Known[Round] | None) -> int:
    return previous.body.rows_planned if previous else ROWS_AT_FIRST


def old_rows_before(
    support_class: SupportClass, began: Round, previous: Round | None, by: Standard
) -> tuple[OldRow, ...]:
    """Give the last two rows before a round, which the blast may have loosened.

    `by` is what the round before was judged by: its rows lie as its own class had them.
    """
    if previous is None:
        return tuple(_standard_old_rows(support_class, began))
    return tuple(_recorded_old_rows(support_class, previous, by))


def _standard_old_rows(support_class: SupportClass, began: Round) -> Iterator[OldRow]:
    """Yield the last two rows of ground supported before this record began."""
    staggered = support_class.pattern.kind == "staggered"
    for back in (1, 0):
        chainage = began.joint_m - back * support_class.pattern.row_spacing_m
        yield OldRow(chainage_m=max(Decimal(0), chainage), staggered=staggered and back == 1)


def _recorded_old_rows(
    support_class: SupportClass, previous: Round, by: Standard
) -> Iterator[OldRow]:
    """Yield the last two rows that the round before has a chainage of, its own old ones too."""
    known = [row.model_copy(update={"confirmed": None}) for row in previous.old_rows]
    chainage = previous.joint_m
    for row in previous.rows:
        if row.ahead_of_row_before is not None:
            chainage += row.ahead_of_row_before.value_m
            own = by.support_class(class_at(previous, chainage)) or support_class
            demanded = rows_demanded(own, previous)[: row.number]
            staggered = len(demanded) == row.number and demanded[-1].offset
            known.append(OldRow(chainage_m=chainage, staggered=staggered, bolts=row.bolts))
    yield from known[-2:]
