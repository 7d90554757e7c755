"""Which rounds of the past year a new revision would have judged differently."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from fieldapp.assess import assess
from fieldapp.assess.demanded import UnknownSupportClass
from fieldapp.work.headings import headings
from fieldapp.work.judging import bundle_of
from fieldapp.work.known import Known
from fieldapp.work.rounds import rounds
from fieldapp.work.signed import standing
from fieldapp.work.site import Site
from fieldapp.work.standard_in_force import of_revision
from schemas.bodies.round import Round
from schemas.bundle import Bundle
from schemas.findings import Assessment, Verdict
from schemas.standard import Standard

PAST: Final = timedelta(days=365)


@dataclass(frozen=True)
class ToCompare:
    """One round of the past year, judged when it was signed."""

    heading: str
    seen: Known[Round]


@dataclass(frozen=True)
class CheckDiffers:
    """What two revisions say of one thing that is looked at; None: one of them doesn't look."""

    title: str
    before: Verdict | None
    after: Verdict | None


@dataclass(frozen=True)
class JudgedDifferently:
    """One round, and what the two revisions say of it."""

    round_id: str
    heading: str
    number: int
    before: Verdict
    after: Verdict | None
    """None: the new revision has no such support class."""
    checks: tuple[CheckDiffers, ...]
    """What is judged differently, the gravest first."""


def rounds_of_the_past_year(site: Site) -> tuple[ToCompare, ...]:
    """Give every recorded round that was begun within a year, the newest first."""
    since = site.now() - PAST
    found = [
        ToCompare(place.body.name, seen)
        for place in headings(site)
        for seen in rounds(site, place.id)
        if seen.body.started_at >= since
    ]
    return tuple(sorted(found, key=lambda it: it.seen.body.started_at, reverse=True))


def judged_differently(
    site: Site, one: ToCompare, base_revision: str, new: Standard
) -> JudgedDifferently | None:
    """Judge one round by both revisions; None where they say the same.

    Parameters
    ----------
    one : ToCompare
        The round. It is judged at the time of its sign-off, else as of now.
    base_revision : str
        Hash of the revision before.
    new : Standard
        The new one; it needs no entry yet.
    """
    base = of_revision(site, base_revision)
    assert base is not None  # noqa: S101 - what was adopted is never forgotten
    signed = standing(site, (one.seen,))
    as_at = signed[-1].body.judged_at if signed else site.now()
    bundle = bundle_of(site, one.seen, base, as_at)
    before = _assessed(bundle, base.body)
    if before is None:
        return None
    after = _assessed(bundle, new)
    checks = tuple(_differing(before, after))
    if after is not None and not checks and before.verdict is after.verdict:
        return None
    body = one.seen.body
    verdict = None if after is None else after.verdict
    return JudgedDifferently(
        one.seen.id, one.heading, body.number, before.verdict, verdict, checks
    )


def _assessed(bundle: Bundle, standard: Standard) -> Assessment | None:
    """Judge a round by a standard as if that had been in force then, and shown."""
    then = standard.model_copy(update={"effective_from": bundle.round.started_at})
    try:
        return assess(bundle.model_copy(update={"standard": then, "standard_line": None}))
    except UnknownSupportClass:
        return None


def _differing(before: Assessment, after: Assessment | None) -> Iterator[CheckDiffers]:
    if after is None:
        return
    was = {it.title: it.verdict for it in before.findings}
    now = {it.title: it.verdict for it in after.findings}
    differ = [it for it in dict.fromkeys([*was, *now]) if was.get(it) is not now.get(it)]
    for title in sorted(differ, key=lambda it: -(now.get(it) or was[it]).gravity):
        yield CheckDiffers(title, was.get(title), now.get(title))
