"""What was found, drawn on the unrolled drive: gaps, laps, readings and their tags."""

from collections.abc import Callable, Iterator

from fieldapp.assess.lap_places import LapPlace, lap_places
from fieldapp.assess.seen import Seen
from fieldapp.report.colours import MARK_COLOURS
from fieldapp.report.shapes import Band, Circle, Tag
from fieldapp.report.words.findings import counted, measured, told
from schemas.bodies.round import LapSeen
from schemas.findings import Assessment, Finding, Place, Verdict
from schemas.numbers import text

TAG_FROM_EDGE_M = 0.7
UNJUDGED = "measures"
"""The colour of a reading while nobody has judged it, or that is as it should be."""

_DRAWN_BY_THEMSELVES = ("largest_gap", "load", "mesh_lap", "lap_held", "last_row_to_face")


def gap_circles(assessment: Assessment | None) -> tuple[Circle, ...]:
    """Draw the largest gap, whatever it came to."""
    return tuple(_circle(finding, place) for finding, place in _gaps(assessment))


def gap_tags(assessment: Assessment | None) -> Iterator[Tag]:
    """Write the width of the gap below it, toward the joint."""
    for finding, place in _gaps(assessment):
        circle = _circle(finding, place)
        edge_m = circle.x_m - circle.diameter_m / 2
        yield Tag(measured(finding, doubt=False), edge_m, circle.s_m, circle.colour)


def lap_bands(seen: Seen, assessment: Assessment | None) -> tuple[Band, ...]:
    """Draw each lap as wide as it was read, where the standard's sheets put it."""
    return tuple(_band(seen, assessment, place) for place in lap_places(seen))


def lap_tags(seen: Seen, bands: tuple[Band, ...]) -> Iterator[Tag]:
    """Write each lap's reading at its left end."""
    read = {lap.number: lap for lap in seen.round.laps}
    for band in bands:
        lap = None if band.number is None else read.get(band.number)
        words = _lap_words(lap) if lap else ""
        if words:
            middle = (band.x_from_m + band.x_to_m) / 2
            yield Tag(f"lap {words}", middle, band.s_from_m + TAG_FROM_EDGE_M, band.colour)


def other_tags(seen: Seen, assessment: Assessment | None) -> Iterator[Tag]:
    """Write what was measured where it is not accepted, and where the mesh is holed or bagged."""
    for finding in assessment.findings if assessment else ():
        if finding.check not in _DRAWN_BY_THEMSELVES and finding.measured and told(finding):
            yield from _tags_of(finding)
    for hole in seen.round.mesh.holes:
        colour = finding_colour(assessment, "mesh_holes")
        words = f"hole, {counted(hole.openings, 'opening')}"
        yield Tag(words, float(hole.chainage_m), float(hole.s_m), colour)
    for bag in seen.round.mesh.bags:
        colour = finding_colour(assessment, "mesh_bagging")
        yield Tag(f"bagged {bag.depth_mm:f} mm", float(bag.chainage_m), float(bag.s_m), colour)


def lap_colour(assessment: Assessment | None, names: Callable[[str], bool]) -> str:
    """Give the colour of the worst that was found of a lap, by how its findings name it."""
    verdicts = [
        finding.verdict
        for finding in (assessment.findings if assessment else ())
        if finding.check in ("mesh_lap", "lap_held") and finding.verdict is not Verdict.ACCEPT
        for place in finding.places
        if names(place.words)
    ]
    worst = max(verdicts, key=lambda verdict: verdict.gravity, default=None)
    return UNJUDGED if worst is None else MARK_COLOURS[worst]


def finding_colour(assessment: Assessment | None, check: str) -> str:
    """Give the colour of the worst finding of a check; of a mere reading where it is accepted."""
    verdicts = (
        [it.verdict for it in assessment.findings if it.check == check] if assessment else []
    )
    worst = max(verdicts, key=lambda verdict: verdict.gravity, default=Verdict.ACCEPT)
    return UNJUDGED if worst is Verdict.ACCEPT else MARK_COLOURS[worst]


def _gaps(assessment: Assessment | None) -> list[tuple[Finding, Place]]:
    return [
        (finding, place)
        for finding in (assessment.findings if assessment else ())
        for place in finding.places
        if finding.check == "largest_gap" and _is_circle(place)
    ]


def _is_circle(place: Place) -> bool:
    return None not in (place.diameter_m, place.chainage_m, place.s_m)


def _circle(finding: Finding, place: Place) -> Circle:
    return Circle(
        x_m=float(place.chainage_m or 0),
        s_m=float(place.s_m or 0),
        diameter_m=float(place.diameter_m or 0),
        colour=MARK_COLOURS[finding.verdict],
        of="anchored" if finding.basis.startswith("anchored") else "plated",
    )


def _band(seen: Seen, assessment: Assessment | None, lap: LapPlace) -> Band:
    middle, half = float(lap.middle_m), float(lap.width_m) / 2
    line = seen.rows[0].line if seen.rows else seen.all_rows[0].line
    return Band(
        x_from_m=middle - half,
        x_to_m=middle + half,
        s_from_m=line.left_s_m,
        s_to_m=line.right_s_m,
        number=lap.number,
        colour=lap_colour(assessment, lambda words: words.split(",")[0] == f"lap {lap.number}"),
        read=lap.read is not None,
    )


def _lap_words(lap: LapSeen) -> str:
    if lap.least_mm is not None:
        return f"{text(lap.least_mm)} mm"
    return "" if lap.openings is None else counted(lap.openings, "opening")


def _tags_of(finding: Finding) -> Iterator[Tag]:
    for place in finding.places[:1]:
        if place.chainage_m is not None and place.s_m is not None and finding.unit:
            words = measured(finding, doubt=False)
            yield Tag(
                words, float(place.chainage_m), float(place.s_m), MARK_COLOURS[finding.verdict]
            )
