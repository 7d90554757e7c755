"""The joint: where the old rows stand, where the round before ended, where this one begins."""

from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise

from fieldapp.assess.contradictions.contradiction import AT_ONE_PLACE_M, Contradiction, Stated
from fieldapp.assess.readings import last_row_m
from fieldapp.assess.words import row_place
from schemas.bodies.round import OldRow, Round
from schemas.findings import Place, Verdict


def round_before(stated: Stated) -> Iterator[Contradiction]:
    """Compare the joint with the old rows and with the round before.

    Parameters
    ----------
    stated : Stated
        The round and the one before it. [m]

    Returns
    -------
    iterator of Contradiction
        The old rows that were looked at are not those at the joint. [m]

    Source
    ------
    Common practice, no source.
    """
    bundle = stated.bundle
    yield from _old_rows(bundle.round)
    if bundle.previous_round is not None:
        spacing_m = stated.seen.support_class.pattern.row_spacing_m
        for words in _before(bundle.previous_round, bundle.round, spacing_m):
            yield Contradiction(
                "round_before",
                Place(words=words),
                settle="find the round that ends at this joint",
                verdict=Verdict.NOT_LOOKED_AT,
            )


def _old_rows(seen: Round) -> Iterator[Contradiction]:
    rows = seen.old_rows
    if rows and abs(rows[-1].chainage_m - seen.joint_m) > AT_ONE_PLACE_M:
        words = f"the last old row at {rows[-1].chainage_m} m is not at the joint"
        yield _not_these(0, f"{words} at {seen.joint_m} m")
    for first, then in pairwise(rows):
        if seen.joint_m > 0 and _apart_m(first, then) <= AT_ONE_PLACE_M:
            words = f"the old row at {first.chainage_m} m is not outbye of the last one"
            yield _not_these(-1, f"{words} at {then.chainage_m} m")


def _apart_m(first: OldRow, then: OldRow) -> Decimal:
    return then.chainage_m - first.chainage_m


def _not_these(number: int, words: str) -> Contradiction:
    place = row_place(number, words=words)
    settle = "look at the last two rows before the joint"
    return Contradiction("old_rows", place, settle, Verdict.NOT_LOOKED_AT)


def _before(before: Round, seen: Round, spacing_m: Decimal) -> Iterator[str]:
    if before.heading != seen.heading:
        yield "the round before is another heading's"
    if before.number >= seen.number:
        yield f"the round before is round {before.number}, this is round {seen.number}"
    ended_m = last_row_m(before)
    # Rows of the round before may have been taped once more since this one was begun.
    if abs(ended_m - seen.joint_m) > spacing_m / 2:
        yield f"the round before ends at {ended_m} m, this one begins at {seen.joint_m} m"
