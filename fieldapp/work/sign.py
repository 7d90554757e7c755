"""Signing off a round: accepted, sent back or barricaded, by a person's own key."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from hashlib import sha256
from zoneinfo import ZoneInfo

from fieldapp.assess import assess
from fieldapp.assess.covered import covers, departs
from fieldapp.assess.times import time_words
from fieldapp.assess.words import counted
from fieldapp.work.known import Known, known_by
from fieldapp.work.own_keys import key_with
from fieldapp.work.people import person, still_enrolled
from fieldapp.work.revoked import is_revoked
from fieldapp.work.roles import SIGNERS, authority, require
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import with_deviations
from fieldapp.work.signed import believed, sign_offs
from fieldapp.work.site import Session, Site
from fieldapp.work.writing import written
from schemas.bodies.deviation import Deviation
from schemas.bodies.entry_notice import EntryNotice
from schemas.bodies.person import Role
from schemas.bodies.round import Round
from schemas.bodies.sign_off import Decision, SignOff
from schemas.canonical import canonical_bytes
from schemas.entry import Entry
from schemas.findings import Assessment
from schemas.signatures import SigningKey, sign
from schemas.trouble import NotAllowed

STATES = "I looked, from supported ground, at what is marked seen. I did not install this round."


@dataclass(eq=False)
class NotToBeAccepted(NotAllowed):
    """A round can't be accepted as it stands."""

    headline: str
    first: str

    happened = "This round can't be accepted: {headline}."
    kept = "The round is on this tablet as it is."
    do_next = "Settle this first: {first}. Or send it back, or barricade."


@dataclass(eq=False)
class OwnWork(NotAllowed):
    """Somebody wants to sign what they installed."""

    person: str

    happened = "{person} installed this round and can't sign it off."
    kept = "The round is on this tablet as it is."
    do_next = "Another shift supervisor signs it. No entry can be stated by anyone at once."


@dataclass(eq=False)
class DemoStandard(NotAllowed):
    """A worked example can't judge real ground."""

    name: str

    happened = "{name} is a worked example and can't sign a heading of a real mine."
    kept = "The round is on this tablet as it is."
    do_next = "Adopt the mine's own standard, approved by its geotechnical engineer."


@dataclass(eq=False)
class ClockIsBehind(NotAllowed):
    """The tablet's clock is older than the newest entry that it knows."""

    clock: str
    newest: str

    happened = "This tablet's clock says {clock}, but it knows of an entry made at {newest}."
    kept = "Nothing was signed; the round is on this tablet as it is."
    do_next = "Put the clock right, or confirm the time and sign again."


@dataclass(eq=False)
class TabletRevoked(NotAllowed):
    """Nobody else believes what is accepted on this tablet."""

    happened = "The office has revoked this tablet: what is accepted on it counts nowhere."
    kept = "The round is on this tablet as it is."
    do_next = "Accept it on another tablet. Here it can be sent back or barricaded."


@dataclass(eq=False)
class NotYoursToLift(NotAllowed):
    """Somebody of higher standing sent the round back."""

    role: str

    happened = "A {role} did not accept this round: a {role} or higher does so now."
    kept = "The round is on this tablet as it is."
    do_next = "Ask the {role} to look again, or send it back once more."


@dataclass(eq=False)
class TouchedSince(NotAllowed):
    """Somebody went on with the round after this view of it was taken."""

    touches: str

    happened = "The round was touched {touches} than this view of it shows."
    kept = "Every touch is on this tablet; nothing was signed."
    do_next = "Open the round again from the Shift board, look, then sign."


@dataclass(frozen=True)
class Signed:
    """What a sign-off left behind."""

    round: Entry
    sign_off: Known[SignOff]
    assessment: Assessment
    notice: Entry | None


@dataclass(frozen=True)
class Signing:
    """What a person is about to sign: the work, what it comes to, and when."""

    work: RoundWork
    decision: Decision
    at: datetime
    clock_confirmed: bool = False


def assessment_hash(assessment: Assessment) -> str:
    """Give the SHA-256 of the assessment's canonical JSON."""
    return sha256(canonical_bytes(assessment.model_dump(mode="json"))).hexdigest()


@dataclass(frozen=True)
class Judged:
    """A round that somebody decided on, by what it comes to."""

    session: Session
    role: Role
    work: RoundWork
    assessment: Assessment
    decision: Decision
    before: tuple[Known[SignOff], ...]
    """Sign-offs of this round that did not accept it, in the order in which they were made."""


def sign_round(site: Site, session: Session, signing: Signing, code: str) -> Signed:
    """Sign a round off: round and sign-off are kept in one step, and the draft is closed.

    Raises
    ------
    NotAllowed
        A rule of signing off stands in the way, or the sign code is wrong. Nothing was signed
        and the draft is as it was.
    """
    session = still_enrolled(site, session)
    role = require(session, *SIGNERS, act="sign off a round")
    work = with_deviations(site, signing.work)
    _refuse_an_old_view(site, work)
    assessment = assess(work.bundle(min(signing.at, site.now())))
    before = _not_accepted_before(site, work)
    judged = Judged(session, role, work, assessment, signing.decision, before)
    _refuse_a_clock_that_is_behind(site, signing)
    _refuse_unless_it_may_be(site, judged)
    key = key_with(site, person(site, session.person_id), code)
    return _kept(site, judged, key)


def reason_not_to_accept(assessment: Assessment) -> tuple[str, str] | None:
    """Give the headline and the first thing to settle; None where it may be accepted."""
    if assessment.may_be_accepted:
        return None
    first = next(finding for finding in assessment.findings if not finding.lets_sign)
    return assessment.headline, f"{first.title}, {first.verdict}"


def says(work: RoundWork, assessment: Assessment) -> str:
    """Say what the sign-off says: against which revision, and what nobody could see."""
    not_seen = ", ".join(assessment.not_seen)
    if assessment.may_be_accepted:
        departing = "; ".join(map(departs, deviations_used(work, assessment)))
        but = f", except under deviation: {departing}" if departing else ""
        return f"meets {work.standard.name} in what was looked at{but}; not seen: {not_seen}"
    return f"does not meet {work.standard.name}: {assessment.headline}; not seen: {not_seen}"


def deviations_used(work: RoundWork, assessment: Assessment) -> tuple[Deviation, ...]:
    """Give the deviations without which the round could not be accepted."""
    named = [it.deviation for it in assessment.findings if it.deviation]
    return tuple(one for one in work.deviations if any(covers(one, name) for name in named))


def entry_line_by(work: RoundWork, assessment: Assessment, decision: Decision) -> Decimal:
    """Give the entry line that this decision allows, whatever else withdraws."""
    if decision != "accepted" or assessment.rows_complete_to_m is None:
        return _before_the_joint(work, assessment)
    return assessment.rows_complete_to_m


def _before_the_joint(work: RoundWork, assessment: Assessment) -> Decimal:
    """Give the joint where its old rows are whole, else what lies before them."""
    if all(it.lets_sign for it in assessment.findings if it.check == "old_rows"):
        return work.seen.joint_m
    spacing_m = work.support_class.pattern.row_spacing_m
    rows_m = [row.chainage_m for row in work.seen.old_rows]
    first_m = min([*rows_m, work.seen.joint_m - spacing_m])
    return max(Decimal(0), first_m - spacing_m)


def _not_accepted_before(site: Site, work: RoundWork) -> tuple[Known[SignOff], ...]:
    signed = believed(site, sign_offs(site, work.round_id))
    return tuple(it for it in signed if it.body.decision != "accepted")


def _refuse_an_old_view(site: Site, work: RoundWork) -> None:
    more = len(site.store.drafts.touches(work.draft_id)) - len(work.touches)
    if more > 0:
        raise TouchedSince(counted(more, "more time"))


def _refuse_unless_it_may_be(site: Site, judged: Judged) -> None:
    if judged.session.person_id in judged.work.seen.installed_by:
        raise OwnWork(judged.session.name)
    if judged.work.standard.demo and not site.mine.demo:
        raise DemoStandard(judged.work.standard.name)
    if judged.decision == "accepted" and is_revoked(site):
        raise TabletRevoked
    reason = reason_not_to_accept(judged.assessment)
    if judged.decision == "accepted" and reason:
        raise NotToBeAccepted(*reason)
    highest = max((it.body.role for it in judged.before), key=authority, default=judged.role)
    if judged.decision == "accepted" and authority(highest) > authority(judged.role):
        raise NotYoursToLift(highest)


def _refuse_a_clock_that_is_behind(site: Site, signing: Signing) -> None:
    newest = site.store.ledger.newest_made_at()
    if newest and signing.at < newest and not signing.clock_confirmed:
        zone = ZoneInfo(site.settings.zone)
        raise ClockIsBehind(*(time_words(it.astimezone(zone)) for it in (signing.at, newest)))


def _kept(site: Site, judged: Judged, key: SigningKey) -> Signed:
    work, author = judged.work, judged.session.person_id
    seen = written(
        site, "round", work.seen, author=author, thing_id=work.round_id, parents=work.parents
    )
    body = sign_off_of(judged, seen, key)
    signed = sign(written(site, "sign_off", body, author=author, after=seen), key)
    notice = _barricade(site, judged, body, signed) if body.decision == "barricaded" else None
    site.store.drafts.finish(work.draft_id, [it for it in (seen, signed, notice) if it])
    sign_off = Known(signed, SignOff.model_validate(dict(signed.body)))
    return Signed(seen, sign_off, judged.assessment, notice)


def sign_off_of(judged: Judged, seen: Entry, key: SigningKey) -> SignOff:
    """Give what a person's key is to sign of a revision of a round."""
    work, assessment = judged.work, judged.assessment
    granted = {finding.deviation for finding in assessment.findings if finding.deviation}
    return SignOff(
        heading=work.seen.heading,
        round=work.round_id,
        round_revision=seen.revision,
        standard=work.began.standard,
        judged_at=assessment.as_at,
        assessment=assessment_hash(assessment),
        decision=judged.decision,
        role=judged.role,
        says=says(work, assessment),
        states=STATES,
        entry_line_m=entry_line_by(work, assessment, judged.decision),
        fix_list=assessment.fix_list,
        deviations=tuple(sorted(granted)),
        shaken_by=tuple(it.entry.revision for it in work.shaken_by),
        lifts=tuple(it.id for it in judged.before) if judged.decision == "accepted" else (),
        chained_at=work.seen.chained_at,
        public_key=key.public_key,
    )


def barricading(seen: Round, line_m: Decimal, role: Role | None = None) -> EntryNotice:
    """Give the notice that goes with barricading a round, from its entry line on."""
    reason = f"{seen.name} was not accepted"
    return EntryNotice(
        heading=seen.heading, what="no entry", from_m=line_m, reason=reason, role=role
    )


def _barricade(site: Site, judged: Judged, body: SignOff, after: Entry) -> Entry:
    line_m = known_by(site, after, body).body.entry_line_m
    notice = barricading(judged.work.seen, line_m, judged.role)
    author = judged.session.person_id
    return written(site, "entry_notice", notice, author=author, after=after)
