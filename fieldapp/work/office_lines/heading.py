"""What the entries about one heading come to, as lines for reports, and what is to be judged."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256

from fieldapp.store.office.line import Line
from fieldapp.store.office.lines import EventLine, HeadingLine, RoundLine, SignOffLine
from fieldapp.work.deviations import granted_for
from fieldapp.work.events import events
from fieldapp.work.gathering import HeadingRecord, gathered
from fieldapp.work.headings import heading
from fieldapp.work.judging import bundle_of
from fieldapp.work.known import Known, current, stated
from fieldapp.work.office_lines.damage import rehab_line
from fieldapp.work.office_lines.judged import ByStandard, ToJudge
from fieldapp.work.office_lines.utc import utc_text
from fieldapp.work.round_ends import ends_m
from fieldapp.work.rounds import round_before, rounds
from fieldapp.work.signed import believed, not_believed, strictest
from fieldapp.work.site import Sight
from fieldapp.work.standard_in_force import NoStandard, in_force, of_revision
from schemas.bodies.heading import Heading
from schemas.bodies.rehab import Rehab
from schemas.bodies.round import Round
from schemas.bodies.sign_off import SignOff
from schemas.standard import Standard

TabletsOf = Callable[[Collection[str]], Mapping[str, str]]


@dataclass(frozen=True)
class HeadingTold:
    """One heading's record, its lines, and the rounds to judge."""

    record: HeadingRecord
    lines: tuple[Line, ...]
    to_judge: tuple[ToJudge, ...]


def heading_told(sight: Sight, heading_id: str, tablets_of: TabletsOf) -> HeadingTold:
    """Read everything that was stated of a heading."""
    place = heading(sight, heading_id)
    record = gathered(sight, place.id)
    seen = rounds(sight, place.id)
    signed = stated(sight, "sign_off", SignOff, heading=place.id)
    happened = events(sight, place.id)
    repairs = current(sight, "rehab", Rehab, heading=place.id)
    entries = [it.entry for it in seen] + [it.entry for it in signed]
    entries += [it.entry for it in happened]
    entries += [it.entry for it in repairs]
    tablets = tablets_of([it.revision for it in entries])
    told = _Told(sight, place, record, signed, tablets)
    lines = (
        _heading_line(place),
        *(told.round_line(it) for it in seen),
        *(told.sign_off_line(it) for it in signed),
        *told.event_lines(),
        *(rehab_line(it, tablets) for it in repairs),
    )
    return HeadingTold(record, lines, tuple(told.to_judge(it, seen) for it in seen))


def _heading_line(place: Known[Heading]) -> HeadingLine:
    body = place.body
    return HeadingLine(place.id, body.name, body.level, body.support_class, body.demo)


@dataclass(frozen=True)
class _Told:
    sight: Sight
    place: Known[Heading]
    record: HeadingRecord
    signed: Sequence[Known[SignOff]]
    tablets: Mapping[str, str]

    def round_line(self, it: Known[Round]) -> RoundLine:
        body, entry, last_m = it.body, it.entry, ends_m(it)
        signed = self._believed(it)
        decision = strictest(signed)
        decided = [one for one in signed if one.body.decision == decision]
        fact = next(fact for fact in self.record.rounds if fact.round_id == it.id)
        return RoundLine(
            heading_id=self.place.id,
            round_revision=entry.revision,
            round_id=it.id,
            number=body.number,
            over_old=body.over is not None,
            support_class=body.support_class,
            joint_m=float(body.joint_m),
            last_row_m=float(last_m),
            advance_m=float(last_m - body.joint_m),
            rows=len(body.rows),
            started_at=utc_text(body.started_at),
            fired_at=utc_text(body.fired_at) if body.fired_at else None,
            made_at=utc_text(entry.made_at),
            author=entry.author,
            tablet=self.tablets[entry.revision],
            decision=decision,
            signed_by=decided[-1].entry.author if decided else None,
            signed_at=utc_text(decided[-1].entry.made_at) if decided else None,
            entry_line_m=float(decided[-1].body.entry_line_m) if decided else None,
            in_dispute=fact.in_dispute,
        )

    def sign_off_line(self, it: Known[SignOff]) -> SignOffLine:
        body, entry = it.body, it.entry
        why_not = not_believed(self.sight, [it])
        counts = bool(believed(self.sight, [it]))
        return SignOffLine(
            heading_id=self.place.id,
            sign_off_id=it.id,
            revision=entry.revision,
            round_id=body.round,
            round_revision=body.round_revision,
            standard_revision=body.standard,
            decision=body.decision,
            role=body.role,
            author=entry.author,
            made_at=utc_text(entry.made_at),
            judged_at=utc_text(body.judged_at),
            entry_line_m=float(body.entry_line_m),
            says=body.says,
            fix_list="; ".join(body.fix_list),
            assessment=body.assessment,
            tablet=self.tablets[entry.revision],
            believed=counts,
            why_not=why_not[0] if why_not else None,
        )

    def event_lines(self) -> Iterator[EventLine]:
        inspected = {it.event_id: it.inspected_at for it in self.record.events}
        for it in events(self.sight, self.place.id):
            body, entry, looked_at = it.body, it.entry, inspected.get(it.id)
            yield EventLine(
                heading_id=self.place.id,
                event_id=it.id,
                what=body.what,
                happened_at=utc_text(body.at),
                chainage_m=float(body.chainage_m),
                to_m=float(body.stripped.to_m) if body.stripped is not None else None,
                radius_m=float(body.radius_m),
                excluded_until=utc_text(body.excluded_until),
                inspected_at=utc_text(looked_at) if looked_at else None,
                fired_m=float(body.fired_m) if body.fired_m is not None else None,
                note=body.note,
                author=entry.author,
                made_at=utc_text(entry.made_at),
                tablet=self.tablets[entry.revision],
            )

    def to_judge(self, it: Known[Round], seen: Sequence[Known[Round]]) -> ToJudge:
        """Judge a round as at the time of its last sign-off that counts, or of its stating."""
        signed = self._believed(it)
        as_at = signed[-1].body.judged_at if signed else it.entry.made_at
        by = tuple(self._standards(it, as_at))
        before = round_before(seen, it.id, it.body)
        follows_from = (
            it.entry.revision,
            self.place.entry.revision,
            before.entry.revision if before else "",
            utc_text(as_at),
            *(f"{one.revision} {one.shown} {one.in_force}" for one in by),
            *(one.model_dump_json() for one in granted_for(self.sight, it.id)),
        )
        judged_by = sha256("\n".join(follows_from).encode()).hexdigest()
        moved_m = it.body.joint_m - it.read.joint_m
        return ToJudge(it.entry.revision, judged_by, by, moved_m)

    def _standards(self, it: Known[Round], as_at: datetime) -> Iterator[ByStandard]:
        """Yield the standard that was shown and the one in force then, once if they are one."""
        shown, force = of_revision(self.sight, it.body.standard), self._in_force(as_at)
        revisions = {one.entry.revision: one for one in (shown, force) if one is not None}
        for revision, standard in revisions.items():
            yield ByStandard(
                revision=revision,
                bundle=bundle_of(self.sight, it, standard, as_at),
                shown=shown is not None and revision == shown.entry.revision,
                in_force=force is not None and revision == force.entry.revision,
            )

    def _in_force(self, at: datetime) -> Known[Standard] | None:
        try:
            return in_force(self.sight, at)
        except NoStandard:
            return None

    def _believed(self, it: Known[Round]) -> Sequence[Known[SignOff]]:
        revision = it.entry.revision
        these = [one for one in self.signed if one.body.round_revision == revision]
        return sorted(
            believed(self.sight, these), key=lambda one: (one.entry.clock, one.entry.revision)
        )
