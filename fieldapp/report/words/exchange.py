"""What an exchange with the shared folder came to, in words for the terminal and the screen."""

from collections.abc import Iterable, Iterator

from assets.translate import _, counted
from fieldapp.work.share.delivered import Delivered
from sync.outcome import Outcome, Progress

MOST_NAMED = 5
MEGABYTE = 1_000_000
ENOUGH_TO_TELL = 5
"""So many steps have to be done before the time that is left can be told."""


def exchange_lines(outcome: Outcome, names: dict[str, str]) -> Iterator[str]:
    """Say what went out, came in, waits and was refused; `names` calls tablets by name."""
    yield _("Went out: {what}.").format(what=_segments(len(outcome.sent)))
    if outcome.trust_written:
        yield _("Went out when it was stated: who is believed (record {number}).").format(
            number=outcome.trust_written
        )
    yield _came_in(outcome, names)
    yield from _trust_came_in(outcome)
    yield from _photos(outcome)
    if outcome.repaired:
        yield _("Put right in the share: {files}.").format(files=_named(outcome.repaired))
    yield from _not_taken(outcome)
    if outcome.only_read:
        happened, *others = outcome.only_read.splitlines()
        yield _("Nothing more was sent. {reason}").format(reason=happened)
        yield from others
    yield from _tablets(outcome, names)
    if outcome.trust_set_back:
        yield " ".join((_set_back(), _("They were put there again.")))
    yield from _foreign(outcome)
    if outcome.stopped:
        yield _("Stopped by hand: what was done is done, the rest goes on the next time.")


def reading_lines(outcome: Outcome, names: dict[str, str]) -> Iterator[str]:
    """Say what came in, waits and was refused where a share is only read."""
    yield _came_in(outcome, names)
    yield from _trust_came_in(outcome)
    yield from _not_taken(outcome)
    yield from _tablets(outcome, names)
    if outcome.trust_set_back:
        yield _set_back()
    yield from _foreign(outcome)


def _not_taken(outcome: Outcome) -> Iterator[str]:
    if outcome.waiting:
        waiting = dict.fromkeys(outcome.waiting)
        yield _("Waits for the next time: {files}.").format(files=_named(waiting))
    for path, reason in sorted(outcome.refused.items()):
        yield _("Refused: {file}: {reason}.").format(file=path, reason=reason)


def _set_back() -> str:
    return _("The share showed fewer records of trust than were seen before: it was set back.")


def delivered_line(delivered: Delivered) -> str:
    """Say how much of this machine's own has arrived somewhere else."""
    if delivered.stated_since:
        return counted(
            "{} thing that was stated here has not gone out yet: share now.",
            "{} things that were stated here have not gone out yet: share now.",
            delivered.stated_since,
        )
    if not delivered.sealed:
        return _("Nothing was stated on this machine yet.")
    if delivered.waits:
        return _(
            "No other machine has said yet that it holds {some} of the {all} sealed here: "
            "keep this machine in good order."
        ).format(some=_segments(delivered.waits), all=delivered.sealed)
    return _("Everything stated here is held by another machine too.")


def progress_line(progress: Progress) -> str:
    """Say how far an exchange is: what, how many, how much, and how long still."""
    parts = [_(progress.doing)]
    if progress.of:
        parts.append(_("{done} of {all}").format(done=progress.done, all=progress.of))
    if progress.bytes_done:
        parts.append(f"{progress.bytes_done / MEGABYTE:.1f} MB")
    if progress.of and progress.done >= ENOUGH_TO_TELL:
        left_s = progress.elapsed_s / progress.done * (progress.of - progress.done)
        parts.append(_("about {seconds} s left").format(seconds=round(left_s)))
    return " · ".join(parts)


def _came_in(outcome: Outcome, names: dict[str, str]) -> str:
    if not outcome.received:
        return _("Came in: nothing.")
    return _("Came in: {what} with {entries}, from {whom}.").format(
        what=_segments(len(outcome.received)),
        entries=counted("{} entry", "{} entries", outcome.entries_received),
        whom=_named(sorted({names.get(it.tablet, it.tablet) for it in outcome.received})),
    )


def _trust_came_in(outcome: Outcome) -> Iterator[str]:
    if outcome.trust_received:
        numbers = _named(dict.fromkeys(str(it.number) for it in outcome.trust_received))
        yield _("Came in: who is believed (record {number}).").format(number=numbers)


def _photos(outcome: Outcome) -> Iterator[str]:
    if outcome.photos_sent:
        count = counted("{} photo", "{} photos", len(outcome.photos_sent))
        yield _("Went out: {what}.").format(what=count)
    if outcome.photos_received:
        count = counted("{} photo", "{} photos", len(outcome.photos_received))
        yield _("Came in: {what}.").format(what=count)
    if outcome.photos_waiting:
        count = counted("{} photo", "{} photos", len(outcome.photos_waiting))
        yield _("Named, and not in the share yet: {what}.").format(what=count)
    if outcome.photos_lost:
        yield _("Lost before they were shared: {files}.").format(files=_named(outcome.photos_lost))


def _tablets(outcome: Outcome, names: dict[str, str]) -> Iterator[str]:
    if outcome.unverified:
        yield from _not_believed(outcome.unverified, names)
    for tablet in outcome.forks:
        yield _(
            "Two machines went by the key of {tablet}: what both stated is kept, and the "
            "office looks which is which."
        ).format(tablet=names.get(tablet, tablet))
    if outcome.new_identity:
        yield _(
            "Another machine goes by the key of this one, which took a new one and is tablet "
            "{tablet} from now on. Nothing was lost."
        ).format(tablet=outcome.new_identity)


def _not_believed(unverified: Iterable[str], names: dict[str, str]) -> Iterator[str]:
    """Say why what came from a tablet counts not: whoever has a name was enrolled once."""
    revoked = sorted(names[it] for it in unverified if it in names)
    strange = sorted(it for it in unverified if it not in names)
    if revoked:
        yield _("Kept and not believed, for the office has revoked it: {tablet}.").format(
            tablet=_named(revoked)
        )
    if strange:
        yield _("Kept and not believed, for the office has not enrolled it: {tablet}.").format(
            tablet=_named(strange)
        )


def _foreign(outcome: Outcome) -> Iterator[str]:
    for path, count in sorted(outcome.crowded.items()):
        yield (
            f"The folder {path} holds {count:,} names, far more than Lastrow's: "
            "have what other programs left there cleared away."
        )
    for path in sorted(outcome.cut_short):
        yield f"The folder {path} was not looked at to its end: what lies beyond waits."


def _segments(count: int) -> str:
    return counted("{} segment", "{} segments", count) if count else _("nothing")


def _named(names: Iterable[str]) -> str:
    listed = list(names)
    shown, more = ", ".join(listed[:MOST_NAMED]), len(listed) - MOST_NAMED
    if more <= 0:
        return shown
    return _("{names} and {count} more").format(names=shown, count=more)
