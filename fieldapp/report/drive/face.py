"""The face on the unrolled drive: ragged, through its readings left, in the middle and right."""

from fieldapp.assess.readings import face_readings
from fieldapp.assess.seen import Seen
from fieldapp.report.drive.findings import finding_colour
from fieldapp.report.shapes import FaceLine, Span, Tag
from fieldapp.report.words.findings import with_unit
from schemas.findings import Assessment
from schemas.numbers import text

STEP_M = 0.3
RAGGED_M = 0.05
"""How far the line strays between readings: a sign for rock, not a reading."""

_STRAY = (0.0, 0.7, -0.5, 0.9, -0.8, 0.3, -1.0, 0.6, -0.2, 0.8, -0.6)


def drawn_face(seen: Seen) -> FaceLine:
    """Draw the face; one that was not wholly read is drawn where the limit would let it be."""
    read = face_readings(seen.round)
    last = seen.all_rows[-1]
    left, right = last.line.left_s_m, last.line.right_s_m
    at_most = float(seen.support_class.limits.last_row_to_face.at_most_m)
    guessed = max((float(one.value_m) for one in read.values()), default=at_most)
    ahead = [
        float(read[where].value_m) if where in read else guessed
        for where in ("left", "middle", "right")
    ]
    corners = list(zip((left, (left + right) / 2, right), ahead, strict=True))
    from_m = float(last.chainage_m)
    places = [
        (from_m + x, s)
        for start, end in ((corners[0], corners[1]), (corners[1], corners[2]))
        for x, s in _ragged(start, end)
    ]
    return FaceLine(
        (*places, (from_m + ahead[-1], right)),
        read=len(read) == len(ahead),
        over_old=seen.round.over is not None,
    )


def face_span(seen: Seen, assessment: Assessment | None) -> tuple[tuple[Span, Tag], ...]:
    """Draw the governing reading from the last row to the face, and its tag."""
    read = face_readings(seen.round)
    if not read:
        return ()
    where = max(read, key=lambda one: (read[one].value_m, one == "middle"))
    last = seen.all_rows[-1]
    width = last.line.right_s_m - last.line.left_s_m
    s_m = last.line.left_s_m + width * {"left": 0.06, "middle": 0.5, "right": 0.94}[where]
    # A little off the bolts, so that the arrow never stands on one.
    s_m += 0.35 if where != "right" else -0.35
    start, value = float(last.chainage_m), read[where].value_m
    colour = finding_colour(assessment, "last_row_to_face")
    words = with_unit(text(value), "m")
    tag = Tag(words, start + float(value) / 2, s_m, colour)
    return ((Span(start, start + float(value), s_m, colour), tag),)


def _ragged(start: tuple[float, float], end: tuple[float, float]) -> list[tuple[float, float]]:
    """Give places from a reading up to the next, on it at the first and straying between."""
    steps = max(1, round((end[0] - start[0]) / STEP_M))
    places = []
    for step in range(steps):
        share = step / steps
        s = start[0] + (end[0] - start[0]) * share
        x = start[1] + (end[1] - start[1]) * share
        places.append((x + RAGGED_M * _STRAY[step % len(_STRAY)] * (step > 0), s))
    return places
