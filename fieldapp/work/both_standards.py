"""Support as two revisions judge it: the one it was put up by, and the one in force now.

What meets the standard of its day may not meet today's: that is no fault of whoever put it up,
and still what people stand under.
"""

from dataclasses import dataclass

from fieldapp.assess import assess
from fieldapp.assess.demanded import UnknownSupportClass
from fieldapp.assess.walk import Section
from fieldapp.work.judging import bundle_of
from fieldapp.work.known import Known
from fieldapp.work.site import Timed
from fieldapp.work.standard_in_force import NoStandard, in_force, of_revision
from fieldapp.work.walk.supported_ground import installed
from schemas.bodies.round import Round
from schemas.findings import Assessment, Verdict
from schemas.standard import Standard


@dataclass(frozen=True)
class Judged:
    """What one revision of the standard says of a round."""

    standard: str
    """"S-2 revision 5"."""
    revision: str
    assessment: Assessment | None
    """None where that revision has no such support class."""

    @property
    def words(self) -> str:
        """As it is said: the headline, or that the revision does not know it."""
        if self.assessment is None:
            return f"{self.standard}: not known, it has no such support class"
        return f"{self.standard}: {self.assessment.headline}"

    @property
    def breaches(self) -> tuple[str, ...]:
        """What does not meet it, in words, the worst first."""
        found = self.assessment.findings if self.assessment else ()
        return tuple(
            f"{it.title}: {it.verdict}" for it in found if it.verdict is not Verdict.ACCEPT
        )

    def alike(self, other: "Judged") -> bool:
        """Whether another revision knows the class too, and finds the same in breach."""
        known = [it.assessment is not None for it in (self, other)]
        return known[0] == known[1] and self.breaches == other.breaches


@dataclass(frozen=True)
class PlaceJudged:
    """A stretch of support under both standards."""

    ground: Section
    """In today's chainages."""
    round_number: int | None
    """None: it was supported before the record began."""
    over_old: bool
    """Whether that round put new support over old."""
    then: Judged | None
    """By the revision that it was put up by; None: not known."""
    now: Judged | None
    """By the one in force now; None: not known."""

    @property
    def falls_short_now(self) -> bool:
        """Whether it met what it was put up by, and does not meet what is in force now."""
        if self.then is None or self.now is None or self.then.assessment is None:
            return False
        return self.now.assessment is None or (
            self.then.assessment.may_be_accepted and not self.now.assessment.may_be_accepted
        )


def both_standards(
    site: Timed, heading_id: str, within: Section | None = None
) -> tuple[PlaceJudged, ...]:
    """Judge the support of a heading, or of one stretch, by both standards, from the origin.

    Both judge what was seen, as things stand now: all is cured, no deviation lasts for ever.

    Raises
    ------
    NoStandard
        None is in force.
    """
    now = in_force(site, site.now())
    return tuple(
        PlaceJudged(it.ground, None, False, None, None)  # noqa: FBT003 - no round at all
        if it.round is None
        else PlaceJudged(
            it.ground,
            it.round.body.number,
            it.round.body.over is not None,
            _judged(site, it.round, of_revision(site, it.round.body.standard)),
            _judged(site, it.round, now),
        )
        for it in installed(site, heading_id, within)
    )


def judged_otherwise(site: Timed, seen: Known[Round]) -> tuple[Judged, Judged] | None:
    """Give what the revision of a round's day and the one in force say of it, where they differ.

    While its own revision is in force nothing is judged: it takes a while.
    """
    shown = of_revision(site, seen.body.standard)
    try:
        in_force_now = in_force(site, site.now())
    except NoStandard:
        return None
    if shown is None or shown.entry.revision == in_force_now.entry.revision:
        return None
    then, now = (_by(site, seen, it) for it in (shown, in_force_now))
    return None if then.alike(now) else (then, now)


def _judged(site: Timed, seen: Known[Round], standard: Known[Standard] | None) -> Judged | None:
    return None if standard is None else _by(site, seen, standard)


def _by(site: Timed, seen: Known[Round], standard: Known[Standard]) -> Judged:
    name, revision = standard.body.name, standard.entry.revision
    bundle = bundle_of(site, seen, standard, site.now())
    if revision != seen.body.standard:  # it is asked on purpose what another one makes of it
        bundle = bundle.model_copy(update={"standard_line": None})
    try:
        return Judged(name, revision, assess(bundle))
    except UnknownSupportClass:
        return Judged(name, revision, None)
