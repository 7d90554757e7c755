"""The heading as it was entered, and the round that is said to be its own."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from fieldapp.assess.contradictions.contradiction import AT_ONE_PLACE_M, Contradiction, Stated
from fieldapp.assess.known_face import face_read_m
from fieldapp.assess.seen import Seen
from schemas.bundle import Bundle
from schemas.findings import Place, Verdict

ADVANCE_M: Final = Decimal(50)
"""No round is longer, however many rows it has."""


def heading(stated: Stated) -> Iterator[Contradiction]:
    """Compare class, number and chainages: a heading only ever goes inbye.

    Parameters
    ----------
    stated : Stated
        The heading as it was entered, and the round. [m]

    Returns
    -------
    iterator of Contradiction
        The round is none that this heading can have. [m]

    Source
    ------
    Common practice, no source.
    """
    bundle = stated.bundle
    for words, settle in (*_named(bundle), *_placed(bundle), *_faced(bundle, stated.seen)):
        yield Contradiction("heading", Place(words=words), settle, Verdict.NOT_LOOKED_AT)


def _named(bundle: Bundle) -> Iterator[tuple[str, str]]:
    place, seen = bundle.heading, bundle.round
    if place.support_class != seen.support_class:
        yield (
            f"the heading is put up by {place.support_class}, "
            f"the round was looked at by {seen.support_class}",
            f"look at the round by {place.support_class}",
        )
    if seen.over is None and seen.number <= place.last_round:
        yield (
            f"round {seen.number}, and the heading was entered after round {place.last_round}",
            "number the round as the heading counts",
        )


def _placed(bundle: Bundle) -> Iterator[tuple[str, str]]:
    place, joint_m, over = bundle.heading, bundle.round.joint_m, bundle.round.over
    if place.face_m < place.last_row_m:
        yield (
            f"the face at {place.face_m} m is behind the last row at {place.last_row_m} m",
            "measure where the heading's face and last row are",
        )
    if over is not None:
        if over.to_m <= joint_m:
            yield (
                f"the row inbye at {over.to_m} m is not inbye of the joint at {joint_m} m",
                "measure where the two old rows are that stay",
            )
        return
    ahead_m = joint_m - place.last_row_m
    rounds = max(0, bundle.round.number - 1 - place.last_round)
    most_m = AT_ONE_PLACE_M if _is_first(bundle) else rounds * ADVANCE_M
    if not -AT_ONE_PLACE_M <= ahead_m <= most_m:
        yield (
            f"the joint at {joint_m} m can't follow from the last row at {place.last_row_m} m",
            "measure where the joint is",
        )


def _is_first(bundle: Bundle) -> bool:
    """Whether it is the first round since the heading was entered."""
    return bundle.previous_round is None and bundle.round.number == bundle.heading.last_round + 1


def _faced(bundle: Bundle, seen: Seen) -> Iterator[tuple[str, str]]:
    """Say where the face is none that this heading can have had. It never comes back outbye."""
    if bundle.round.over is not None:
        return
    settle = "measure again how far it is from the last row to the face"
    known_m, surveyed_m = bundle.round.face_known_m, bundle.heading.face_m
    if known_m is None:
        now_m = face_read_m(seen.round)
        if now_m is not None and surveyed_m - now_m > _row_m(seen):
            yield f"the face is read at {now_m} m and was at {surveyed_m} m already", settle
        return
    joint_m = bundle.round.joint_m
    if joint_m - known_m > AT_ONE_PLACE_M:
        yield f"the face was known at {known_m} m, behind the joint at {joint_m} m", settle
    if _is_first(bundle) and surveyed_m - known_m > AT_ONE_PLACE_M:
        yield f"the face was known at {known_m} m and was at {surveyed_m} m already", settle
    last_m = seen.rows[-1].chainage_m
    if last_m - known_m > ADVANCE_M:
        yield f"the last row at {last_m} m is far beyond the face known at {known_m} m", settle


def _row_m(seen: Seen) -> Decimal:
    """Give how far a tape from row to row may be from what was surveyed: one row, no more."""
    return seen.support_class.pattern.row_spacing_m
