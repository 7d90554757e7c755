"""Drawing on a photo: each mark is kept as soon as it is drawn, and undone as easily."""

from collections.abc import Sequence
from typing import Final

from fieldapp.work.known import Known, current
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.writing import state
from schemas.bodies.photo_marks import MOST_POINTS, Mark, Outline, PhotoMarks, Spot
from schemas.numbers import STEP_SHARE, rounded

At = tuple[float, float]
"""A place on a photo as shares of its width and height, from its upper left corner."""
FINEST: Final = 0.002
"""A line is kept to this share of the photo: nobody's finger is finer."""


def spot(at: At) -> Spot:
    """Give a place as it is written down, held inside the photo."""
    x, y = (rounded(min(max(value, 0.0), 1.0), STEP_SHARE) for value in at)
    return x, y


def outline(path: Sequence[At]) -> Outline | None:
    """Give a finger's path as the outline that is kept; None where it goes round nothing."""
    finest, kept = FINEST, decimated(path, FINEST)
    while len(kept) > MOST_POINTS:
        finest *= 2
        kept = decimated(path, finest)
    spots = tuple(dict.fromkeys(spot(at) for at in kept))
    return Outline(kind="outline", spots=spots) if len(spots) > 2 else None  # noqa: PLR2004


def decimated(path: Sequence[At], finest: float) -> list[At]:
    """Leave out the points of a path that lie no farther than `finest` from what is left.

    The ends stay. Source: Douglas and Peucker, Cartographica 10 (1973) 112.
    """
    points, keep, todo = list(path), {0, len(path) - 1}, [(0, len(path) - 1)]
    while todo:
        first, last = todo.pop()
        between = range(first + 1, last)
        farthest = max(
            between, key=lambda n: _aside(points[n], points[first], points[last]), default=None
        )
        if farthest is None or _aside(points[farthest], points[first], points[last]) <= finest:
            continue
        keep.add(farthest)
        todo += [(first, farthest), (farthest, last)]
    return [points[number] for number in sorted(keep)]


def _aside(at: At, start: At, end: At) -> float:
    """How far a point is from the straight line between two others, its ends included."""
    along = (end[0] - start[0], end[1] - start[1])
    off = (at[0] - start[0], at[1] - start[1])
    length2 = along[0] ** 2 + along[1] ** 2
    share = (off[0] * along[0] + off[1] * along[1]) / length2 if length2 else 0.0
    share = min(max(share, 0.0), 1.0)
    beside: float = ((off[0] - share * along[0]) ** 2 + (off[1] - share * along[1]) ** 2) ** 0.5
    return beside


def marks_on(site: Sight, photo_id: str) -> tuple[Mark, ...]:
    """Give the marks that stand on a photo; drawn at once on two tablets, those of both."""
    return _together(_standing(site, photo_id))


def add_mark(site: Site, photo_id: str, mark: Mark, session: Session | None) -> tuple[Mark, ...]:
    """Keep one more mark, durably, and give all that stand now."""
    known = _standing(site, photo_id)
    own = [it for it in known if it.id == known[-1].id]
    return _restated(site, photo_id, own, (*_together(own), mark), session)


def undo_mark(site: Site, photo_id: str, session: Session | None) -> tuple[Mark, ...]:
    """Take the last mark away, durably, and give all that stand now."""
    drawn = [it for it in _standing(site, photo_id) if it.body.marks]
    own = [it for it in drawn if it.id == drawn[-1].id]
    return _restated(site, photo_id, own, _together(own)[:-1], session) if own else ()


def _standing(site: Sight, photo_id: str) -> list[Known[PhotoMarks]]:
    known = current(site, "photo_marks", PhotoMarks)
    return [it for it in known if it.body.photo == photo_id]


def _together(known: Sequence[Known[PhotoMarks]]) -> tuple[Mark, ...]:
    every = (mark for it in known for mark in it.body.marks)
    return tuple({mark.model_dump_json(): mark for mark in every}.values())


def _restated(
    site: Site,
    photo_id: str,
    own: Sequence[Known[PhotoMarks]],
    marks: tuple[Mark, ...],
    session: Session | None,
) -> tuple[Mark, ...]:
    """State the marks of one hand anew, over every revision of them that stands."""
    state(
        site,
        "photo_marks",
        PhotoMarks(photo=photo_id, marks=marks),
        author=session.person_id if session else None,
        thing_id=own[-1].id if own else None,
        parents=tuple(it.entry.revision for it in own),
    )
    return marks_on(site, photo_id)
