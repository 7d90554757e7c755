"""What concerns the whole mine, as lines for reports: people, tablets, things in conflict."""

from collections.abc import Callable, Iterator

from fieldapp.store.archive import SqlArchive
from fieldapp.store.office.lines import ConflictLine, PersonLine, TabletLine
from fieldapp.store.office.projected import Projected
from fieldapp.work.authority import NEVER_VOID, Which, counting
from fieldapp.work.enrolled import Roster
from fieldapp.work.office_lines.utc import utc_text
from fieldapp.work.site import Sight
from sync.belief import counts
from sync.ledger import name_in
from sync.tablet_identity import TabletIdentity
from sync.trust import Trust


def people_lines(roster: Roster) -> Iterator[PersonLine]:
    """Yield everybody who was ever enrolled."""
    for newest in roster.newest():
        person_id = newest.entry.id
        first, ended = roster.of(person_id)[0], roster.ended_at(person_id)
        ends = [it.entry for it in roster.of(person_id) if it.entry.clock == ended]
        yield PersonLine(
            person_id=person_id,
            name=newest.body.name,
            roles=", ".join(newest.body.roles),
            enrolled_at=utc_text(first.entry.made_at),
            ended_at=utc_text(ends[0].made_at) if ends else None,
            keys=len(roster.keys(person_id)),
        )


def tablet_lines(archive: SqlArchive) -> Iterator[TabletLine]:
    """Yield every tablet that is enrolled, cut or heard of."""
    trust, rows = archive.trust(), archive.rows()
    for tablet in sorted({*trust.tablets, *trust.cuts, *rows}):
        row = rows.get(tablet, ())
        known = archive.identity(tablet)
        last = max((it.name.seq for it in row), default=0)
        numbers = {it.name.seq for it in row}
        yield TabletLine(
            tablet=tablet,
            name=trust.tablets[tablet].name if tablet in trust.tablets else None,
            standing=_standing(trust, archive.identity, tablet),
            valid_through=trust.cuts.get(tablet),
            follows=known.predecessor_id if known else None,
            segments=len(row),
            last_segment=last,
            missing_segments=last - len(numbers),
            two_rows=len(numbers) < len(row),
        )


def _standing(trust: Trust, identity: Callable[[str], TabletIdentity | None], tablet: str) -> str:
    if tablet in trust.cuts:
        return "revoked"
    if tablet in trust.tablets:
        return "enrolled"
    return "follows an enrolled key" if counts(trust, identity, tablet, 1) else "not enrolled"


def conflict_lines(sight: Sight, projected: Projected) -> Iterator[ConflictLine]:
    """Yield each current revision of the things that have several; a person settles them."""
    known = counting(sight)
    for kind, thing in projected.with_several_heads():
        heads = known.heads(Which(kind, thing=thing)) if kind not in NEVER_VOID else ()
        if len(heads) > 1:
            tablets = projected.tablets_of([it.revision for it in heads])
            for it in heads:
                yield ConflictLine(
                    thing_id=thing,
                    kind=kind,
                    heading_id=thing if kind == "heading" else name_in(it.body, "heading"),
                    revision=it.revision,
                    author=it.author,
                    made_at=utc_text(it.made_at),
                    tablet=tablets[it.revision],
                )
