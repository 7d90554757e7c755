"""When each thing is said to have been: never before it was begun, never after it is judged."""

from collections.abc import Iterator
from datetime import UTC, datetime

from fieldapp.assess.contradictions.contradiction import Contradiction, Stated
from fieldapp.assess.words import row_name, row_place
from schemas.bodies.round import CountedRow, Round
from schemas.findings import Place, Verdict


def times(stated: Stated) -> Iterator[Contradiction]:
    """Compare the times of the round with each other and with the time of judging.

    Parameters
    ----------
    stated : Stated
        The round and the time of judging. [UTC]

    Returns
    -------
    iterator of Contradiction
        Something was looked at or done at a time at which it can't have been. [UTC]

    Source
    ------
    Common practice, no source.
    """
    asked, as_at = stated.bundle.round, stated.bundle.as_at
    yield from _of_the_round(asked, as_at)
    for number, looked in _counted(asked):
        words = _outside(looked.at, asked.started_at, as_at)
        if words:
            check = "bolts_present" if number > 0 else "old_rows"
            place = row_place(number, words=f"{row_name(number)}: counted {words}")
            yield Contradiction(check, place, settle=f"count again, {row_name(number)}")
    if asked.ground is not None and asked.ground.called is not None:
        words = _outside(asked.ground.called.at, asked.started_at, as_at)
        if words:
            yield _by_the_clock("ground_condition", f"the ground: told {words}")


def _by_the_clock(check: str, words: str) -> Contradiction:
    settle = "put the tablet's clock right, then answer again"
    return Contradiction(check, Place(words=words), settle, Verdict.NOT_LOOKED_AT)


def _of_the_round(asked: Round, as_at: datetime) -> Iterator[Contradiction]:
    for words in _begun(asked, as_at):
        yield _by_the_clock("times", words)
    for what, at in _done(asked):
        for words in _impossible(at, asked.fired_at, as_at):
            place = Place(words=f"{what} {words}")
            settle = f"ask again when it was: {what}"
            yield Contradiction("curing", place, settle, Verdict.NOT_LOOKED_AT)


def _begun(asked: Round, as_at: datetime) -> Iterator[str]:
    if asked.started_at > as_at:
        yield f"judged {_at(as_at)}, and begun only {_at(asked.started_at)}"
    if asked.fired_at is not None and asked.fired_at > asked.started_at:
        yield f"begun {_at(asked.started_at)}, and fired only {_at(asked.fired_at)}"


def _done(asked: Round) -> Iterator[tuple[str, datetime]]:
    if asked.bolter.bolting_finished_at is not None:
        yield "the last bolt was in", asked.bolter.bolting_finished_at
    if asked.shotcrete.sprayed_at is not None:
        yield "shotcrete was sprayed", asked.shotcrete.sprayed_at


def _counted(asked: Round) -> Iterator[tuple[int, CountedRow]]:
    for index, old in enumerate(asked.old_rows):
        if old.confirmed is not None:
            yield index + 1 - len(asked.old_rows), old.confirmed
    for row in asked.rows:
        if row.counted is not None:
            yield row.number, row.counted


def _outside(at: datetime, started_at: datetime, as_at: datetime) -> str | None:
    if at > as_at:
        return f"{_at(at)}, after it was judged {_at(as_at)}"
    if at < started_at:
        return f"{_at(at)}, before the round was begun {_at(started_at)}"
    return None


def _impossible(at: datetime, fired_at: datetime | None, as_at: datetime) -> Iterator[str]:
    if at > as_at:
        yield f"{_at(at)}, after it was judged {_at(as_at)}"
    if fired_at is not None and at < fired_at:
        yield f"{_at(at)}, before the round was fired {_at(fired_at)}"


def _at(at: datetime) -> str:
    return f"at {at.astimezone(UTC):%Y-%m-%d %H:%M} UTC"
