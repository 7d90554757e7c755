"""Whatever an engineer grants: nobody has looked, so the round is not accepted."""

from collections.abc import Callable
from datetime import timedelta

import pytest

from fieldapp.assess import assess
from schemas.bodies.deviation import Deviation
from schemas.bodies.round import BolterCheck, FaceSeen, SpacingSeen
from schemas.bundle import Bundle
from schemas.findings import Assessment
from tests.unit.assess.conforming import (
    LOOKED,
    conforming,
    length,
    loose,
    missing,
    with_bolts,
    with_round,
    with_row,
)

Change = Callable[[Bundle], Bundle]


def taped(value: str) -> tuple[SpacingSeen, ...]:
    return (SpacingSeen(from_position=3, to_position=4, reading=length(value)),)


def mesh(bundle: Bundle, **changes: object) -> Bundle:
    return with_round(bundle, mesh=bundle.round.mesh.model_copy(update=changes))


def first_lap_not_looked_along(bundle: Bundle) -> Bundle:
    first, *others = bundle.round.laps
    return with_round(bundle, laps=(first.model_copy(update={"held": None}), *others))


NOT_LOOKED: dict[str, Change] = {
    "a row not counted": lambda it: with_row(it, 3, counted=None),
    "a row whose place nobody read": lambda it: with_row(it, 3, ahead_of_row_before=None),
    "a spacing not taped": lambda it: with_row(it, 3, spacings=()),
    "a spacing to be taped again": lambda it: with_row(it, 3, spacings=taped("1.40")),
    "a lap nobody followed": first_lap_not_looked_along,
    "the mesh not read to the face": lambda it: mesh(it, to_face=None),
    "nobody looked for holes": lambda it: mesh(it, no_holes=None),
    "the face not read": lambda it: with_round(it, face_readings=()),
    "the bolter's own check unknown": lambda it: with_round(it, bolter=BolterCheck()),
    "misfires not looked for": lambda it: with_round(it, face=FaceSeen()),
}
WRONG: dict[str, Change] = {
    "a bolt missing": lambda it: with_bolts(it, 2, missing(4)),
    "a plate loose": lambda it: with_bolts(it, 2, loose(4)),
    "a spacing too wide": lambda it: with_row(it, 2, spacings=taped("1.60")),
    "a row too far ahead": lambda it: with_row(it, 2, ahead_of_row_before=length("1.30")),
}


def everything_granted(bundle: Bundle) -> Assessment:
    """Judge a round under a deviation for each place that any finding names."""
    granted = tuple(
        Deviation(
            round="round",
            check=finding.check,
            row=place.row,
            position=place.position,
            reason="old bolts beside it, sounded",
            ends_at=LOOKED + timedelta(hours=5),
        )
        for finding in assess(bundle).findings
        for place in finding.places
        if place.row is not None and place.row > 0
    )
    return assess(bundle.model_copy(update={"round_id": "round", "deviations": granted}))


@pytest.mark.parametrize("wrong", WRONG)
@pytest.mark.parametrize("not_looked", NOT_LOOKED)
def test_nothing_excuses_not_looking(not_looked: str, wrong: str) -> None:
    bundle = WRONG[wrong](NOT_LOOKED[not_looked](conforming()))

    assert not everything_granted(bundle).may_be_accepted


def test_what_was_looked_at_everywhere_may_be_accepted_under_its_deviation() -> None:
    """So that the test above fails for no other reason."""
    assert everything_granted(WRONG["a spacing too wide"](conforming())).may_be_accepted
