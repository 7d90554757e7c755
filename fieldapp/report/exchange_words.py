"""What an exchange with the shared folder came to, in words for the terminal and the screen."""

from collections.abc import Iterable, Iterator

from fieldapp.work.delivered import Delivered
from sync.outcome import Outcome

MOST_NAMED = 5


def exchange_lines(outcome: Outcome, names: dict[str, str]) -> Iterator[str]:
    """Say what went out, came in, waits and was refused; `names` calls tablets by name."""
    yield f"Went out: {_segments(len(outcome.sent))}."
    yield _came_in(outcome, names)
    if outcome.repaired:
        yield f"Put right in the share: {_named(outcome.repaired)}."
    if outcome.waiting:
        yield f"Waits for the next time: {_named(outcome.waiting)}."
    for path, reason in sorted(outcome.refused.items()):
        yield f"Refused: {path}: {reason}."
    if outcome.only_read:
        yield f"Nothing more was sent. {outcome.only_read}"
    yield from _tablets(outcome, names)
    if outcome.stopped:
        yield "Stopped by hand: what was done is done, the rest goes on the next time."


def delivered_line(delivered: Delivered) -> str:
    """Say how much of this machine's own has arrived somewhere else."""
    if not delivered.sealed:
        return "This machine has stated nothing yet."
    if delivered.waits:
        return (
            f"{_segments(delivered.waits).capitalize()} of this machine's {delivered.sealed} "
            "are held by no other machine yet: keep it in good order."
        )
    return "Everything stated here is held by another machine too."


def _came_in(outcome: Outcome, names: dict[str, str]) -> str:
    if not outcome.received:
        return "Came in: nothing."
    whose = sorted({names.get(it.tablet, it.tablet) for it in outcome.received})
    entries = outcome.entries_received
    counted = "1 entry" if entries == 1 else f"{entries} entries"
    return f"Came in: {_segments(len(outcome.received))} with {counted}, from {_named(whose)}."


def _tablets(outcome: Outcome, names: dict[str, str]) -> Iterator[str]:
    if outcome.unverified:
        whose = _named(sorted(names.get(it, it) for it in outcome.unverified))
        yield f"Kept and not believed, for nobody enrolled it: {whose}. See lastrow enrol list."
    for tablet in outcome.forks:
        yield (
            f"Two machines went by the key of {names.get(tablet, tablet)}: "
            "what both stated is kept, and the office looks which is which."
        )
    if outcome.new_identity:
        yield (
            "Another machine goes by this one's key: it took a new one, and is tablet "
            f"{outcome.new_identity} from now on. Nothing was lost."
        )
    if outcome.trust_set_back:
        yield (
            "The share showed fewer records of trust than were seen before: it was set back. "
            "They were put there again."
        )


def _segments(count: int) -> str:
    return "1 segment" if count == 1 else f"{count} segments" if count else "nothing"


def _named(names: Iterable[str]) -> str:
    listed = list(names)
    shown = ", ".join(listed[:MOST_NAMED])
    more = len(listed) - MOST_NAMED
    return f"{shown} and {more} more" if more > 0 else shown
