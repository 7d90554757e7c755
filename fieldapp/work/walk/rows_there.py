"""The rows of bolts of a heading: as rounds have them, elsewhere as the pattern puts them."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

from fieldapp.assess.demanded import old_row_demanded, profile_of
from fieldapp.assess.seen import Row, borders_of, seen_in
from fieldapp.assess.walk import BoltThere, RowThere, Section
from fieldapp.work.known import Known
from fieldapp.work.round_ends import beside
from fieldapp.work.site import Timed
from fieldapp.work.standard_in_force import of_revision
from fieldapp.work.walk.supported_ground import Installed
from schemas.bodies.heading import Heading
from schemas.bodies.round import OldRow, Round
from schemas.bundle import Bundle
from schemas.standard import Standard, SupportClass


def rows_there(
    site: Timed, place: Heading, put_up: Sequence[Installed], standard: Standard
) -> Iterator[RowThere]:
    """Yield the rows of a heading, in no order.

    A round's are as its own standard demands them, less the bolts that were not there. What was
    supported before the record began has those that its class's pattern puts there by the
    standard in force; none where that has no such class. Where support was put up over older
    support, only the newer is counted.
    """
    before: Known[Round] | None = None
    for it in put_up:
        newer = [one.ground for one in put_up if _is_newer(one, it)]
        rows = _rows(site, place, it, before, standard)
        yield from (row for row in rows if not any(_holds(one, row) for one in newer))
        before = it.round or before


def _rows(
    site: Timed, place: Heading, it: Installed, before: Known[Round] | None, standard: Standard
) -> Iterator[RowThere]:
    if it.round is None:
        return _by_pattern(it, standard)
    return _of_round(site, place, it.round, before, standard)


def _is_newer(one: Installed, other: Installed) -> bool:
    if one.at is None or other.at is None:
        return other.at is None and one.at is not None
    return one.at > other.at


def _holds(ground: Section, row: RowThere) -> bool:
    """Whether a row stands in a round's ground; the row at its joint belongs to the one before."""
    return ground.from_m < row.chainage_m <= ground.to_m


def _of_round(
    site: Timed,
    place: Heading,
    known: Known[Round],
    before: Known[Round] | None,
    standard: Standard,
) -> Iterator[RowThere]:
    shown = of_revision(site, known.body.standard)
    by = shown.body if shown else standard
    if by.support_class(known.body.support_class) is None:
        return
    bundle = Bundle(
        heading=place,
        standard=by,
        previous_round=beside(before, known.chaining, known.read.joint_m) if before else None,
        round=known.read,
        as_at=known.entry.made_at,
    )
    seen = seen_in(bundle)
    for row in seen.rows:
        domain = seen.domains[row.domain]
        yield RowThere(
            key=f"{known.id} {row.number}",
            words=f"{row.name} of round {known.body.number}",
            chainage_m=known.today_m(row.chainage_m),
            support_class=domain.support_class.code,
            bolts=_bolts(row),
            borders=domain.borders,
            estimated=False,
        )


def _bolts(row: Row) -> tuple[BoltThere, ...]:
    """Give the bolts that are there, from the left; extra ones go on with the numbers."""
    there = [it for it in row.all_bolts if it.is_there]
    extra = len(row.bolts.positions)
    numbered = []
    for it in there:
        extra += it.position is None
        numbered.append(BoltThere(it.position or extra, it.s_m))
    return tuple(sorted(numbered, key=lambda it: (it.s_m, it.number)))


def _by_pattern(old: Installed, standard: Standard) -> Iterator[RowThere]:
    """Yield the rows of old ground, from its last one outbye."""
    support_class = standard.support_class(old.support_class)
    if support_class is None:
        return
    borders = borders_of(support_class, profile_of(support_class.profile, None))
    full, offset = (_demanded(support_class, old.ground, staggered=it) for it in (False, True))
    staggered = support_class.pattern.kind == "staggered"
    for number, at_m in enumerate(_chainages(old.ground, support_class.pattern.row_spacing_m)):
        yield RowThere(
            key=f"old {number}",
            words="a row as the pattern has it",
            chainage_m=at_m,
            support_class=old.support_class,
            bolts=offset if staggered and number % 2 else full,
            borders=borders,
            estimated=True,
        )


def _demanded(
    support_class: SupportClass, ground: Section, *, staggered: bool
) -> tuple[BoltThere, ...]:
    row = OldRow(chainage_m=ground.to_m, staggered=staggered)
    places = old_row_demanded(support_class, row).s_m
    return tuple(BoltThere(number, s_m) for number, s_m in enumerate(places, start=1))


def _chainages(ground: Section, spacing_m: Decimal) -> Iterator[Decimal]:
    at_m = ground.to_m
    while at_m > ground.from_m:
        yield at_m
        at_m -= spacing_m
