"""The Shift board: every heading of the shift, where people may go, and what waits."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.assess.entry_state import EntryState
from fieldapp.work.authority import at_one_state
from fieldapp.work.entry import Coverage, coverage, entry
from fieldapp.work.events import events
from fieldapp.work.headings import headings
from fieldapp.work.known import Known
from fieldapp.work.rounds import OpenRound, last_round, open_rounds, rounds
from fieldapp.work.signed import standing
from fieldapp.work.site import Site
from schemas.bodies.heading import Heading
from schemas.bodies.round import Round
from schemas.findings import Verdict

SIGNED_AS = {"accepted": "Accepted", "sent back": "Sent back", "barricaded": "Barricaded"}


@dataclass(frozen=True)
class BoardRow:
    """One heading on the board, in the words that stand there."""

    heading_id: str
    name: str
    entry: EntryState
    beyond: str
    """Why no farther, in a few words."""
    mark: Verdict
    """The state up to the face: an unsigned metre is never under a green tick."""
    last_round: str
    detail: str
    face_m: Decimal
    coverage: Coverage
    open_round: OpenRound | None


def board(site: Site, at: datetime) -> tuple[BoardRow, ...]:
    """Give every heading as it stands at a time, in the order in which they were entered."""
    with at_one_state(site):
        drafts = {it.heading_id: it for it in open_rounds(site)}
        return tuple(_row(site, known, drafts.get(known.id), at) for known in headings(site))


def shift_name(site: Site, at: datetime) -> str:
    """Give the shift at a time, by the mine's own clock: "day shift, Tuesday".

    A shift keeps the name of the day on which it began, also after midnight.
    """
    local = at.astimezone(ZoneInfo(site.settings.zone))
    shifts = sorted(site.settings.shifts, key=lambda shift: shift.starts)
    begun = [shift for shift in shifts if shift.starts <= local.time()]
    day = local if begun else local - timedelta(days=1)
    return f"{(begun or shifts)[-1].name}, {day:%A}"


def _row(site: Site, known: Known[Heading], draft: OpenRound | None, at: datetime) -> BoardRow:
    state = entry(site, known.id, at)
    latest = last_round(site, known.id)
    title, detail = _round_words(site, known, latest, draft)
    return BoardRow(
        heading_id=known.id,
        name=known.body.name,
        entry=state,
        beyond=state.because[0] if state.because else _signed_words(site, latest),
        mark=state.verdict,
        last_round=title,
        detail=detail,
        face_m=state.face_m,
        coverage=coverage(site, known.id),
        open_round=draft,
    )


def _signed_words(site: Site, latest: Known[Round] | None) -> str:
    signed = standing(site, [latest]) if latest else ()
    if not signed:
        return "supported before this record"
    local = signed[-1].entry.made_at.astimezone(ZoneInfo(site.settings.zone))
    return f"signed {local:%H:%M}"


def _round_words(
    site: Site, place: Known[Heading], latest: Known[Round] | None, draft: OpenRound | None
) -> tuple[str, str]:
    zone = ZoneInfo(site.settings.zone)
    if draft is not None:
        since = draft.since.astimezone(zone)
        return "Being looked at", f"since {since:%H:%M}, round {draft.work.began.number}"
    same = [it for it in rounds(site, place.id) if latest and it.body.number == latest.body.number]
    signed = [it for known in same for it in standing(site, [known])]
    fired = _fired_since(site, place, signed[-1].entry.made_at if signed else None)
    number = latest.body.number if latest else place.body.last_round
    if latest is not None and not signed:
        return "Not signed", f"round {number}"
    if fired is not None:
        return "Not signed", f"round {number + 1} fired {fired.astimezone(zone):%H:%M}"
    decided = {it.body.decision for it in signed}
    if len(decided) > 1 or len({it.entry.revision for it in same if it.id == same[0].id}) > 1:
        return "In dispute", f"round {number} twice"
    if signed:
        return SIGNED_AS[signed[-1].body.decision], f"round {number}"
    return "No round yet", ""


def _fired_since(site: Site, place: Known[Heading], signed_at: datetime | None) -> datetime | None:
    """Give when a round was fired that nobody has signed for since; None when none was."""
    after = signed_at or place.entry.made_at
    fired = [it.body.at for it in events(site, place.id) if it.body.what == "fired"]
    return max((at for at in fired if at > after), default=None)
