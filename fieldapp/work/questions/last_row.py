"""Why something is asked again that was answered: another row is the last one now."""

from collections.abc import Callable

from fieldapp.work.round import RoundWork
from schemas.bodies.round import Round


def again_since_rows_changed(work: RoundWork, answered: Callable[[Round], bool]) -> str:
    """Say that the number of rows took an answer away; nothing where it took none.

    `answered` tells whether a round has that answer.
    """
    if answered(work.seen) or not any(map(answered, work.before_rows_changed)):
        return ""
    return f"Asked again: row {work.seen.rows_planned} is the last row now."
