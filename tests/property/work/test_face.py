"""Whatever is fired and read, whenever it is heard of: nothing takes the face outbye unsaid."""

from dataclasses import dataclass
from decimal import Decimal
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from fieldapp.work.face import Face, StatedRound, Surveyed, followed
from fieldapp.work.known import Known
from schemas.bodies.event import Event
from schemas.bodies.round import FaceNearer, Round
from tests.made import STARTED_AT, entry, thing_id
from tests.unit.assess.conforming import conforming

SURVEYED = Decimal(1000)
TO_FACE = Decimal("0.8")
"""What every round reads from its last row."""


@dataclass(frozen=True)
class Step:
    """One thing that is stated: a firing, or a round by its revisions."""

    fired: bool
    tenths: tuple[int, ...]
    """Metres fired; or for each revision, the last row from where the heading was surveyed."""
    said: bool
    """Whether a round gives a reason."""


Stated = tuple[list[Known[Event]], list[StatedRound]]

steps = st.lists(
    st.builds(
        Step,
        fired=st.booleans(),
        tenths=st.lists(st.integers(0, 90), min_size=1, max_size=2).map(tuple),
        said=st.booleans(),
    ),
    max_size=8,
)


def stated(told: list[Step], *, unsaid: bool = False) -> Stated:
    """Put the steps in order: firings and rounds that become one heading's."""
    firings: list[Known[Event]] = []
    rounds: list[StatedRound] = []
    for number, step in enumerate(told):
        if step.fired:
            firings.append(_firing(number, Decimal(step.tenths[0]) / 10))
        else:
            known_m = followed(Surveyed(SURVEYED), firings, rounds).chainage_m
            said = step.said and not unsaid
            heads = tuple(
                Known(entry(number), _round(SURVEYED + Decimal(it) / 10, known_m, said=said))
                for it in step.tenths
            )
            rounds.append(StatedRound(thing_id(number), entry(number).clock, heads))
    return firings, rounds


def _firing(number: int, fired_m: Decimal) -> Known[Event]:
    body = Event(
        heading="heading",
        what="fired",
        at=STARTED_AT,
        chainage_m=Decimal(0),
        radius_m=Decimal(30),
        excluded_until=STARTED_AT,
        fired_m=fired_m,
    )
    return Known(entry(number, kind="event"), body)


def _round(last_m: Decimal, known_m: Decimal, *, said: bool) -> Round:
    read_m = last_m + TO_FACE
    reason = FaceNearer(known_m=known_m, read_m=read_m, why="advanced less")
    seen = conforming(face_known_m=known_m).round
    joint_m = last_m - 3 * Decimal("0.9")
    return seen.model_copy(update={"joint_m": joint_m, "face_nearer": reason if said else None})


def face_of(told: Stated) -> Face:
    return followed(Surveyed(SURVEYED), *told)


@given(steps)
def test_unsaid_every_fired_metre_stays_before_the_last_row(told: list[Step]) -> None:
    firings, rounds = stated(told, unsaid=True)
    found = face_of((firings, rounds))
    fired_m = sum(it.body.fired_m or Decimal(0) for it in firings)

    assert found.chainage_m >= SURVEYED + fired_m
    assert found.fired_from_m == SURVEYED
    assert all(found.after_m[it] >= found.before_m[it] for it in found.before_m)


@given(steps)
def test_a_reason_takes_the_face_to_a_reading_and_no_farther(told: list[Step]) -> None:
    firings, rounds = stated(told)
    found = face_of((firings, rounds))
    for it in rounds:
        reads_m = [head.body.joint_m + 3 * Decimal("0.9") + TO_FACE for head in it.heads]
        before_m, after_m = found.before_m[it.round_id], found.after_m[it.round_id]

        assert after_m >= max(reads_m)
        assert after_m >= before_m or after_m == max(reads_m)


@given(steps)
def test_no_reason_outlives_a_firing(told: list[Step]) -> None:
    """What is fired after it is added to where the face was, reason or none."""
    firings, rounds = stated(told)
    found = face_of((firings, rounds))

    assert all(
        found.after_m[it.id] == found.before_m[it.id] + (it.body.fired_m or Decimal(0))
        for it in firings
    )


@given(steps, st.randoms(use_true_random=False))
def test_the_order_in_which_it_is_heard_of_never_matters(told: list[Step], chance: Random) -> None:
    firings, rounds = stated(told)
    mixed = [
        StatedRound(it.round_id, it.clock, tuple(chance.sample(it.heads, len(it.heads))))
        for it in chance.sample(rounds, len(rounds))
    ]

    assert face_of((chance.sample(firings, len(firings)), mixed)) == face_of((firings, rounds))


@given(steps)
def test_what_was_fired_is_never_less_than_nothing(told: list[Step]) -> None:
    found = face_of(stated(told))

    assert found.chainage_m >= found.fired_from_m
    assert found.read_m is None or found.read_m < found.chainage_m
