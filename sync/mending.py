"""Telling the others of files that stay bad or missing, and mending what they tell of.

A report proves nothing: it may be old, mistaken or a lie. Whoever holds the file's own bytes
looks at that very file, and puts them only where it is proved bad. A look costs one reading,
an answer no entry, so that false reports move nothing and multiply nothing.
"""

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import UTC, datetime

from schemas.bodies.bad_file import BadFile
from sync.belief import counts
from sync.folder import NotThere, NotYet
from sync.holdings import Look, MetBad
from sync.meeting import Meeting
from sync.names import PhotoName, SegmentName, name_at
from sync.pulling import MISSING, promised, stays_bad
from sync.pushing import AUDITED_AFTER_S, is_proved_bad, put_identity_again_if_bad
from sync.reports import FileName, Report, named, reports

LOOKED_AT_ONCE = 20
MOST_REPORTED = 20
"""So many reports of one tablet stand open at a time: a share full of bad files needs a person,
and one that lies is no louder than this."""
ENOUGH_REPORTS = 2
"""Once so many others report a file, another word about it helps nobody."""


def mend_what_is_reported(meeting: Meeting) -> None:
    """Look at each file that others report and that is held here; put it again where it is bad.

    What was found good is not looked at again for that report; what was put, once more later.
    """
    if meeting.outcome.only_read:
        return
    due: dict[FileName, list[Report]] = defaultdict(list)
    for report in reports(meeting.holdings):
        if _is_due(meeting, report):
            due[report.file].append(report)
    held = [it for it in sorted(due, key=_path) if _is_held(meeting, it)]
    for file in held[:LOOKED_AT_ONCE]:
        for look in _look(meeting, file):
            meeting.holdings.note_looks({it.entry.revision: _after(it, look) for it in due[file]})


def note_what_is_missed(meeting: Meeting) -> None:
    """Keep which segments were looked for and are not there; once an exchange, in one step."""
    missed = sorted(it.path for it in meeting.missed if it not in meeting.held(it.tablet))
    if missed:
        meeting.holdings.note_bad(missed, MISSING, meeting.now_s())


def report_what_stays_bad(meeting: Meeting) -> None:
    """State which promised files stay bad, once each; and which were reported and are held now.

    A file that is whole and not genuine is refused here and by everybody: it has no good bytes.
    """
    if meeting.outcome.only_read or not meeting.is_believed():
        return
    own = set(meeting.holdings.own_tablets())
    standing = [it for it in reports(meeting.holdings) if it.read_at is None]
    ours = [it for it in standing if it.by in own]
    read = [it.entry for it in ours if _is_held(meeting, it.file)]
    new = _news(meeting, standing, own)[: MOST_REPORTED - len(ours) + len(read)]
    if new or read:
        meeting.holdings.say_bad([_said(file, bad) for file, bad in new], read)
        meeting.holdings.seal()


def _news(
    meeting: Meeting, standing: Sequence[Report], own: Collection[str]
) -> Sequence[tuple[FileName, MetBad]]:
    """Give the files that stay bad and of which neither we nor enough others have told."""
    told = {it.file for it in standing if it.by in own}
    others = [it.file for it in standing if it.by not in own]
    found = _staying_bad(meeting)
    news = (it for it in found if it not in told and others.count(it) < ENOUGH_REPORTS)
    return [(it, found[it]) for it in sorted(news, key=_path)]


def _is_due(meeting: Meeting, report: Report) -> bool:
    if report.read_at is not None or report.by in meeting.holdings.own_tablets():
        return False
    look = report.look
    return look is None or (not look.good and not _is_young(look.at_s, meeting.now_s()))


def _look(meeting: Meeting, file: FileName) -> Iterator[Look]:
    """Yield what a look at a file found; nothing where it could not be seen or put now.

    This machine's own memory of what it has just put there would be no look.
    """
    content, now_s = _content(meeting, file), meeting.now_s()
    put_at_s = meeting.holdings.published().get(file) if isinstance(file, SegmentName) else None
    if content is None or (put_at_s is not None and _is_young(put_at_s, now_s)):
        return
    if isinstance(file, SegmentName):
        put_identity_again_if_bad(meeting, file.tablet)
    if _shows(meeting, file.path, content):
        yield Look(now_s, good=True, put_right=False)
        return
    is_bad = is_proved_bad(meeting, file.path, content.__eq__, len(content))
    if is_bad and meeting.put(file.path, content):
        meeting.outcome.repaired.append(file.path)
        yield Look(now_s, good=False, put_right=True)


def _shows(meeting: Meeting, path: str, content: bytes) -> bool:
    try:
        return meeting.folder.read(path, at_most=len(content)) == content
    except (NotThere, NotYet):
        return False


def _after(report: Report, look: Look) -> Look:
    before = report.look
    return Look(look.at_s, look.good, look.put_right or (before is not None and before.put_right))


def _staying_bad(meeting: Meeting) -> Mapping[FileName, MetBad]:
    """Give the files that stay bad and of which somebody believed said that they exist."""
    now_s, trust = meeting.now_s(), meeting.holdings.trust()
    met = {name_at(it.path): it for it in meeting.holdings.bad_files().values()}
    bad = {name: it for name, it in met.items() if name is not None and stays_bad(it, now_s)}
    believed = {
        it
        for it in bad
        if isinstance(it, SegmentName)
        and counts(trust, meeting.holdings.identity, it.tablet, it.seq)
    }
    vouched_for: set[FileName] = set()
    for tablet in {it.tablet for it in believed}:
        vouched_for |= believed & promised(meeting, tablet)
    if meeting.shelf is not None and any(isinstance(it, PhotoName) for it in bad):
        vouched_for |= set(meeting.shelf.named())
    return {name: it for name, it in bad.items() if name in vouched_for}


def _said(file: FileName, bad: MetBad) -> BadFile:
    since = datetime.fromtimestamp(bad.first_seen_s, UTC)
    return BadFile.model_validate({**named(file), "since": since, "tries": bad.tries})


def _is_held(meeting: Meeting, file: FileName) -> bool:
    if isinstance(file, SegmentName):
        return file in meeting.held(file.tablet)
    return meeting.shelf is not None and file in meeting.shelf.held()


def _content(meeting: Meeting, file: FileName) -> bytes | None:
    if isinstance(file, PhotoName):
        return meeting.shelf.content(file) if meeting.shelf else None
    return meeting.holdings.content(file)


def _is_young(at_s: float, now_s: float) -> bool:
    return 0 <= now_s - at_s < AUDITED_AFTER_S


def _path(file: FileName) -> str:
    return file.path
