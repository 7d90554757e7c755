"""Mesh: laps, holes and bags that the round doesn't have, and edges that no plate can hold."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

from fieldapp.assess.contradictions.contradiction import Contradiction, Stated, once_more
from fieldapp.assess.demanded import laps_demanded
from fieldapp.assess.readings import face_readings
from fieldapp.assess.seen import Seen
from fieldapp.assess.words import mesh_place
from schemas.bodies.round import HoleSeen, Method
from schemas.findings import Place, Verdict
from schemas.numbers import text

HEIGHT_M = 1.0
"""A height above the floor is told to a metre: the floor is muck, the profile as designed."""


def mesh(stated: Stated) -> Iterator[Contradiction]:
    """Compare the mesh with the rows, the face and the drive.

    Parameters
    ----------
    stated : Stated
        Mesh, rows, face and profile. [m]

    Returns
    -------
    iterator of Contradiction
        Damage or a lap that lies nowhere in this round, or mesh that nothing holds. [m]

    Source
    ------
    Common practice, no source.
    """
    seen, looked = stated.seen, stated.bundle.round.mesh
    for words in _laps(seen):
        yield _not_here("mesh_lap", words)
    if looked.no_holes and looked.holes:
        yield _not_here("mesh_holes", f"no hole, and {len(looked.holes)} marked")
    if looked.no_bagging and looked.bags:
        yield _not_here("mesh_bagging", f"no bagging, and {len(looked.bags)} marked")
    for hole in looked.holes:
        if _is_outside(seen, hole.chainage_m, hole.s_m) or _is_at_another_height(seen, hole):
            yield _elsewhere("mesh_holes", "hole", hole.chainage_m, hole.s_m)
    for bag in looked.bags:
        if _is_outside(seen, bag.chainage_m, bag.s_m):
            yield _elsewhere("mesh_bagging", "bag", bag.chainage_m, bag.s_m)
    yield from _edge(seen)


def _not_here(check: str, words: str) -> Contradiction:
    settle = "look at the mesh again, from the joint to the face"
    return Contradiction(check, Place(words=words), settle, Verdict.NOT_LOOKED_AT)


def _elsewhere(check: str, what: str, at_m: Decimal, s_m: Decimal) -> Contradiction:
    place = mesh_place((at_m, s_m), what)
    words = f"{place.words}: not in this round, or not at that height"
    settle = f"mark again where it is: {place.words}"
    found = place.model_copy(update={"words": words})
    return Contradiction(check, found, settle, Verdict.NOT_LOOKED_AT)


def _laps(seen: Seen) -> Iterator[str]:
    """Find laps told twice, and more than a sheet to each row could make."""
    rows = seen.round.rows_planned
    most = max(laps_demanded(seen.support_class, rows), rows + 1)
    for number, times in Counter(lap.number for lap in seen.round.laps).items():
        if times > 1:
            yield f"lap {number} is written down {times} times"
        if number > most:
            yield f"lap {number}, in a round of {rows} rows"


def _is_outside(seen: Seen, at_m: Decimal, s_m: Decimal) -> bool:
    """Whether a place is not on the rock between the old rows and the face, give or take a row."""
    left, right = seen.row_at(at_m).profile.floor_s_m
    row_m = seen.support_class.pattern.row_spacing_m
    face_m = max((it.value_m for it in face_readings(seen.round).values()), default=row_m)
    first_m, last_m = seen.all_rows[0].chainage_m, seen.rows[-1].chainage_m
    on_the_rock = left <= float(s_m) <= right
    return not (on_the_rock and first_m - row_m <= at_m <= last_m + face_m + row_m)


def _is_at_another_height(seen: Seen, hole: HoleSeen) -> bool:
    _, height_m = seen.row_at(hole.chainage_m).profile.at(float(hole.s_m))
    return abs(height_m - float(hole.above_floor_m)) > HEIGHT_M


def _edge(seen: Seen) -> Iterator[Contradiction]:
    """Find mesh that would be held by plates farther inbye than the last row's."""
    mesh, to_face = seen.support_class.mesh, seen.round.mesh.to_face
    read = [it.value_m for it in face_readings(seen.round).values()]
    if mesh is None or to_face is None or not read:
        return
    beyond_m = min(read) - to_face.value_m
    if beyond_m > mesh.beyond_plates_at_most_mm / 1000 + _doubt_m(seen, to_face.method):
        words = f"{text(beyond_m)} m beyond the last row, and no plate there: mesh to the face"
        settle = "measure again from the last edge of mesh held by plates to the face"
        yield Contradiction(
            "mesh_reach", Place(words=words), settle, once_more(again=to_face.again)
        )


def _doubt_m(seen: Seen, method: Method) -> Decimal:
    """Give how far two readings to the face may be apart by their doubt alone."""
    doubts = [seen.doubts_m[it.method] for it in face_readings(seen.round).values()]
    return 2 * (max(doubts) + seen.doubts_m[method])
