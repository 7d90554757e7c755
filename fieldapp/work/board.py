"""The Shift board: every heading of the shift, where people may go, and what waits."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.assess.entry.state import EntryState
from fieldapp.work.authority import at_one_state
from fieldapp.work.beyond import Beyond, beyond_in
from fieldapp.work.entry import entry_by, with_drafts
from fieldapp.work.gathering import HeadingRecord
from fieldapp.work.heading_record import heading_record
from fieldapp.work.headings import headings
from fieldapp.work.known import Known
from fieldapp.work.rounds import OpenRound, open_rounds
from fieldapp.work.site import Site
from fieldapp.work.whole import as_far_as_whole
from schemas.bodies.heading import Heading
from schemas.findings import Verdict

NO_ROUND = "No round yet"
IN_DISPUTE = "In dispute"
SIGNED_AS = {"accepted": "Accepted", "sent back": "Sent back", "barricaded": "Barricaded"}


@dataclass(frozen=True)
class BoardRow:
    """One heading on the board, in the words that stand there."""

    heading_id: str
    name: str
    entry: EntryState
    last_round: str
    detail: str
    signed: str
    """When the last round was accepted: "signed 06:35"; empty where it was not."""
    face_m: Decimal
    open_round: OpenRound | None
    beyond: tuple[Beyond, ...] = ()
    """Rounds in which somebody had to go beyond the last row: to be looked into."""

    @property
    def mark(self) -> Verdict | None:
        """The state up to the face: a metre without accepted support is under no green tick."""
        return self.entry.mark


def board(site: Site, at: datetime) -> tuple[BoardRow, ...]:
    """Give every heading as it stands at a time, in the order in which they were entered.

    Those in which somebody had to go beyond the last row stand above all others.
    """
    rows = as_far_as_whole(site, lambda: tuple(_rows(site, at)))
    return tuple(sorted(rows, key=lambda row: not row.beyond))


def _rows(site: Site, at: datetime) -> Iterator[BoardRow]:
    with at_one_state(site):
        drafts: dict[str, list[OpenRound]] = defaultdict(list)
        for opened in open_rounds(site):
            drafts[opened.heading_id].append(opened)
        for known in headings(site):
            yield _row(site, known, drafts[known.id], at)


def shift_name(site: Site, at: datetime) -> str:
    """Give the shift at a time, by the mine's own clock: "day shift, Tuesday".

    A shift keeps the name of the day on which it began, also after midnight.
    """
    local = at.astimezone(ZoneInfo(site.settings.zone))
    shifts = sorted(site.settings.shifts, key=lambda shift: shift.starts)
    begun = [shift for shift in shifts if shift.starts <= local.time()]
    day = local if begun else local - timedelta(days=1)
    return f"{(begun or shifts)[-1].name}, {day:%A}"


def _row(site: Site, known: Known[Heading], drafts: Sequence[OpenRound], at: datetime) -> BoardRow:
    record = heading_record(site, known.id)
    state = entry_by(site, with_drafts(record, drafts), at)
    draft = drafts[-1] if drafts else None
    title, detail = _round_words(site, known, record, draft)
    return BoardRow(
        heading_id=known.id,
        name=known.body.name,
        entry=state,
        last_round=title,
        detail=detail,
        signed=_signed_words(site, record) if title == SIGNED_AS["accepted"] else "",
        face_m=state.face_m,
        open_round=draft,
        beyond=tuple(dict.fromkeys((*record.beyond, *_in_draft(site, draft)))),
    )


def _in_draft(site: Site, draft: OpenRound | None) -> tuple[Beyond, ...]:
    return beyond_in(site, draft.work.round_id, draft.work.seen) if draft else ()


def _signed_words(site: Site, record: HeadingRecord) -> str:
    signed_at = record.last_rounds[-1].signed_at if record.last_rounds else None
    return f"signed {_clock(site, signed_at)}" if signed_at else ""


def _round_words(
    site: Site, place: Known[Heading], record: HeadingRecord, draft: OpenRound | None
) -> tuple[str, str]:
    if draft is not None:
        return (
            "Being looked at",
            f"since {_clock(site, draft.since)}, {draft.work.began.name}",
        )
    same = record.last_rounds
    signed = [it for it in same if it.signed_at]
    number = same[-1].number if same else place.body.last_round
    revised_twice = len({it.round_id for it in same}) < len(same)
    if same and not signed:
        return (IN_DISPUTE if revised_twice else "Not signed"), f"round {number}"
    last_signed_at = signed[-1].signed_at if signed else None
    fired_at = record.fired_after(last_signed_at or place.entry.made_at)
    if fired_at is not None:
        return "Not signed", f"round {number + 1} fired {_clock(site, fired_at)}"
    decisions = [decision for it in signed for decision in it.decisions]
    if len(set(decisions)) > 1 or revised_twice:
        return IN_DISPUTE, f"round {number} twice"
    if any(it.in_dispute for it in record.rounds if it.same == (False, number)):
        return IN_DISPUTE, f"round {number}, withdrawn too"
    return (SIGNED_AS[decisions[-1]], f"round {number}") if signed else (NO_ROUND, "")


def _clock(site: Site, at: datetime) -> str:
    return f"{at.astimezone(ZoneInfo(site.settings.zone)):%H:%M}"
