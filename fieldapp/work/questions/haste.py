"""Rows answered too fast to have been looked at: asked about now, not afterwards."""

from collections.abc import Iterator
from datetime import timedelta

from fieldapp.work.questions.question import Asker, Choice, Question
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import HastyAnswered, RowCounted

ROWS = 3
WITHIN = timedelta(seconds=6)
LOOK_AGAIN = "look again"


def haste(work: RoundWork, asker: Asker) -> Iterator[Question]:
    """Yield a question where three rows were counted in under six seconds.

    It deters, it does not prove.
    """
    rows = hasty_rows(work)
    here = [row for row in rows if row <= work.seen.rows_planned]
    if not here:
        return
    listed = ", ".join(map(str, rows))

    def answer(label: str, said: str) -> Choice:
        return Choice(label, HastyAnswered(at=asker.at, by=asker.by, rows=rows, answer=said))

    yield Question(
        key=f"haste {listed}",
        stage="rows",
        ask=f"Rows {listed} in under 6 s. Did you look at every plate?",
        hint="The answer is kept with the round.",
        choices=(answer("Yes, each one", "looked at each"), answer("Look again", LOOK_AGAIN)),
        answered=False,
        row=here[-1],
    )


def hasty_rows(work: RoundWork) -> tuple[int, ...]:
    """Give the first three rows counted within six seconds and not asked about yet."""
    asked = {row for said in work.seen.hasty for row in said.rows}
    counts = [it for it in work.standing if isinstance(it, RowCounted) and it.row not in asked]
    for first, last in zip(counts, counts[ROWS - 1 :], strict=False):
        if last.at - first.at < WITHIN:
            start = counts.index(first)
            return tuple(it.row for it in counts[start : start + ROWS])
    return ()
