"""What is followed of rounds: how near the face, how wide the gaps, how often right at once."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from fieldapp.assess.entry.coverage import covered as stretch_covered
from fieldapp.assess.entry.coverage import signed_stretches
from fieldapp.work.damage_record import judge
from fieldapp.work.heading_record import heading_record
from fieldapp.work.known import Known
from fieldapp.work.site import Timed
from fieldapp.work.trends.points import Evidence, Measure, Sample, groups_of
from fieldapp.work.trends.round_figures import RoundFigures, round_figures
from schemas.bodies.heading import Heading
from schemas.numbers import STEP_M, STEP_MM, said_m

_TENTH: Final = Decimal("0.1")

TO_FACE: Final = Measure(
    "last-row-to-face",
    "Last row to face",
    "m",
    "each",
    STEP_M,
    "less",
    charted=True,
    has_middle=True,
)
GAP: Final = Measure(
    "largest-gap", "Largest gap", "m", "each", STEP_M, "less", charted=True, has_middle=True
)
LAP: Final = Measure(
    "least-lap", "Least lap", "mm", "each", STEP_MM, "more", charted=True, has_middle=True
)
FIRST_PASS: Final = Measure(
    "first-pass", "Rounds accepted at the first look", "%", "share", _TENTH, "more"
)
HASTE: Final = Measure("in-haste", "Rounds confirmed in haste", "%", "share", _TENTH, "less")
COVERAGE: Final = Measure(
    "coverage", "Metres signed of metres fired", "%", "share", _TENTH, "more", counted=False
)


def to_face(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield how far the face was from the last row, in metres."""
    for it in round_figures(site, place.id):
        if it.last_row_to_face_m is not None:
            yield round_sample(place, it, it.last_row_to_face_m)


def gaps(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield the widest circle without a bolt, in metres."""
    for it in round_figures(site, place.id):
        if it.largest_gap_m is not None:
            yield round_sample(place, it, it.largest_gap_m)


def laps(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield the least lap of each round, in millimetres."""
    for it in round_figures(site, place.id):
        if it.least_lap_mm is not None:
            yield round_sample(place, it, it.least_lap_mm)


def first_pass(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield 1 for a round whose first decision was *accepted*; one nobody decided is left out."""
    for it in round_figures(site, place.id):
        if it.decision is not None:
            yield round_sample(place, it, Decimal(it.decision == "accepted"))


def in_haste(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield 1 for a round of which three rows took under six seconds. By crew, never by name."""
    for it in round_figures(site, place.id):
        yield round_sample(place, it, Decimal(it.in_haste))


def covered(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield the metres of each firing, and how many of them lie under accepted rounds by now.

    A firing that nobody ever stated a round for counts like one that was sent back.
    """
    record = heading_record(site, place.id)
    signed = signed_stretches(record.rounds, _face_allowance_m(site, record.place))
    for it in record.events:
        fired_m, from_m = it.event.fired_m, it.face_before_m
        if it.event.what == "fired" and fired_m and from_m is not None:
            found = stretch_covered(signed, from_m, from_m + fired_m)
            words = f"{place.body.name}, fired {it.event.fired_m} m from {said_m(from_m)} m"
            evidence = Evidence("event", it.event_id, place.id, words, from_m)
            groups = groups_of(place.body)
            yield Sample(it.event.at, found.signed_m, evidence, groups, found.fired_m)


def _face_allowance_m(site: Timed, place: Heading) -> Decimal:
    """Give how far from the last row a face is signed with it, by the standard in force."""
    demanded = judge(site, place.support_class, site.now()).demanded
    return demanded.limits.last_row_to_face.at_most_m if demanded else Decimal(0)


def round_sample(place: Known[Heading], it: RoundFigures, value: Decimal) -> Sample:
    """Give a figure of a round as a sample of its heading, class, crew and method."""
    groups = groups_of(place.body, support_class=it.support_class, crew=it.crew, method=it.method)
    words = f"{place.body.name}, {it.name}"
    evidence = Evidence("round", it.round_id, place.id, words)
    return Sample(it.at, value, evidence, groups, place=place.id)
