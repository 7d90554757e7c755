"""What was seen of a round, worked out once and shared by every check."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from functools import cached_property

from fieldapp.assess.bolt_rules import Rules, rules_of
from fieldapp.assess.bolts_seen import Bolt, BoltsOfRow, RowMarks, bolts_of_row, with_plate
from fieldapp.assess.counting import is_within
from fieldapp.assess.demanded import (
    UnknownSupportClass,
    class_before,
    line_of,
    old_row_demanded,
    profile_before,
    profile_of,
    rows_demanded,
)
from fieldapp.assess.pattern import DemandedRow, ZoneBorders
from fieldapp.assess.profile.profile import Profile, SupportedLine, step_between_m
from fieldapp.assess.readings import spacing_readings
from fieldapp.assess.words import row_name
from schemas.bodies.event import Event
from schemas.bodies.round import (
    BolterCheck,
    BoltSeen,
    CountedRow,
    LengthReading,
    Method,
    ProfileSeen,
    Round,
    RowSeen,
    SheetSeen,
    SpacingSeen,
    SpotCheck,
)
from schemas.bundle import Bundle
from schemas.standard import Measuring, Standard, SupportClass


@dataclass(frozen=True)
class Row:
    """One row: what it demands, where it is, and its bolts.

    Numbered as in `words.row_name`. `ahead` is None where nobody measured; the row is then
    taken to be where the standard puts it.
    """

    number: int
    chainage_m: Decimal
    ahead: LengthReading | None
    demanded: DemandedRow
    profile: Profile
    """The drive's outline at this row: its own, or that of its round."""
    line: SupportedLine
    bolts: BoltsOfRow
    rules: Rules
    """What makes a bolt of it count: of an old row, as its own class and revision had it."""
    spacings: tuple[SpacingSeen, ...] = ()
    spots: tuple[SpotCheck, ...] = ()
    """Bolts that the app drew, as they were looked at or are still to be."""
    counted: CountedRow | None = None
    marks: tuple[BoltSeen, ...] = ()
    """As they were marked, before they are put to their positions."""
    domain: int = 0
    """Of the round's ground domains, the one that it stands in."""
    step_m: float = 0.0
    """How far the rock steps out from the row before, where the profile changes between them."""

    @property
    def name(self) -> str:
        """As people say it."""
        return row_name(self.number)

    @cached_property
    def all_bolts(self) -> tuple[Bolt, ...]:
        """Those at positions, then the extra ones."""
        return (*self.bolts.positions, *self.bolts.extra)

    @cached_property
    def taped(self) -> tuple[SpacingSeen, ...]:
        """The latest reading of each spacing between two bolts that are there."""
        there = {bolt.position for bolt in self.bolts.positions if bolt.is_there}
        latest = spacing_readings(self.spacings)
        return tuple(it for it in latest if {it.from_position, it.to_position} <= there)

    @property
    def looked_at(self) -> bool:
        """Whether every position was."""
        return all(bolt.looked_at for bolt in self.bolts.positions)

    @property
    def is_known(self) -> bool:
        """Whether it was looked at and no bolt is missing without a place."""
        return self.looked_at and not self.bolts.unplaced


@dataclass(frozen=True)
class Domain:
    """A ground domain of a round, and what its class demands of the rows that stand in it."""

    support_class: SupportClass
    to_m: Decimal | None
    """Where it ends inbye; None: it does not end in the round."""
    profile: Profile
    borders: ZoneBorders
    rules: Rules
    line: SupportedLine


@dataclass(frozen=True)
class Seen:
    """A round as it was seen, beside what it is measured with."""

    round: Round
    support_class: SupportClass
    measuring: Measuring
    as_at: datetime
    profile: Profile
    borders: ZoneBorders
    rules: Rules
    old_rows: tuple[Row, ...]
    rows: tuple[Row, ...]
    domains: tuple[Domain, ...]
    """From the joint inbye; the first one's class is the round's own."""
    shaken_by: tuple[Event, ...]
    """What happened to the ground, and nobody has inspected after."""
    has_face: bool = True
    """False of one that ends between two of its rows: nothing is read to a face there."""
    sheets_before: tuple[SheetSeen, ...] = ()
    """The sheets of mesh that were placed in the round before."""

    @cached_property
    def all_rows(self) -> tuple[Row, ...]:
        """Old rows first, in order to the face."""
        return (*self.old_rows, *self.rows)

    def row_at(self, chainage_m: Decimal) -> Row:
        """Give the row that a place lies by: the nearest; of two as near the one inbye."""
        return min(reversed(self.all_rows), key=lambda row: abs(row.chainage_m - chainage_m))

    @cached_property
    def doubts_m(self) -> dict[Method, Decimal]:
        """The standard uncertainty of a length, by the method that it was read by [m]."""
        return {
            "tape": self.measuring.tape_m,
            "staff": self.measuring.staff_m,
            "laser": self.measuring.laser_m,
            "paced": self.measuring.paced_m,
            "photo": self.measuring.photo_m,
            "assumed": self.measuring.assumed_m,
        }

    def doubt_m(self, method: Method, own_m: Decimal | None) -> Decimal:
        """Give the standard uncertainty of a reading: its method's, or its own if greater [m].

        They are two evaluations of one doubt, so they are not added up: each of its causes is
        counted once. Source: JCGM 100:2008, 4.3.10.
        """
        return max(self.doubts_m[method], own_m or Decimal(0))


def seen_in(bundle: Bundle) -> Seen:
    """Work out what was seen.

    Parameters
    ----------
    bundle : Bundle
        Round, standard, the round before, and the time. [various]

    Returns
    -------
    Seen
        Profile, demanded positions, bolts and what counts. [various]

    Raises
    ------
    UnknownSupportClass
        The round's class is not in the standard.

    Source
    ------
    Common practice, no source.
    """
    support_class = bundle.standard.support_class(bundle.round.support_class)
    if support_class is None:
        raise UnknownSupportClass(bundle.round.support_class, bundle.standard.name)
    numbers = [row.number for row in bundle.round.rows]
    planned = max([bundle.round.rows_planned, *numbers])
    seen = bundle.round.model_copy(update={"rows_planned": planned})
    previous = bundle.previous_round
    domains = tuple(_domains(bundle, support_class, seen))
    first = domains[0]
    old_rows = tuple(_old_rows(bundle, seen))
    return Seen(
        round=seen,
        support_class=support_class,
        measuring=bundle.standard.measuring,
        as_at=bundle.as_at,
        profile=first.profile,
        borders=first.borders,
        rules=first.rules,
        old_rows=old_rows,
        rows=tuple(_rows(seen, domains, old_rows)),
        domains=domains,
        shaken_by=bundle.shaken_by,
        sheets_before=previous.sheets if previous else (),
    )


def _domains(bundle: Bundle, support_class: SupportClass, seen: Round) -> Iterator[Domain]:
    """Yield the ground domains of a round, from the joint inbye."""
    second = seen.second_domain
    yield _domain(bundle.standard, support_class, seen, second.from_m if second else None)
    if second is not None:
        found = bundle.standard.support_class(second.support_class)
        if found is None:
            raise UnknownSupportClass(second.support_class, bundle.standard.name)
        bolts = {"bolt_type": second.bolt_type, "bolt_length_m": second.bolt_length_m}
        told = {name: it for name, it in bolts.items() if it is not None}
        bolter = seen.bolter.model_copy(update=told)
        yield _domain(
            bundle.standard, found, seen.model_copy(update={"bolter": bolter}), to_m=None
        )


def _domain(
    standard: Standard, support_class: SupportClass, seen: Round, to_m: Decimal | None
) -> Domain:
    profile = profile_of(support_class.profile, seen.profile)
    return Domain(
        support_class=support_class,
        to_m=to_m,
        profile=profile,
        borders=borders_of(support_class, profile),
        rules=rules_of(standard, support_class, seen.bolter),
        line=line_of(support_class, seen.profile),
    )


def _as_broken_at(domain: Domain, broken: ProfileSeen | None) -> Domain:
    """Give a domain as it is at a row with a profile of its own."""
    if broken is None:
        return domain
    profile = profile_of(domain.support_class.profile, broken)
    borders = borders_of(domain.support_class, profile)
    line = line_of(domain.support_class, broken)
    return replace(domain, profile=profile, borders=borders, line=line)


def borders_of(support_class: SupportClass, profile: Profile) -> ZoneBorders:
    """Find where the zones of a class meet on an outline.

    Walls end at the springline; the back reaches as far from the crown as the class says.

    Parameters
    ----------
    support_class : SupportClass
        The class. [m]
    profile : Profile
        The drive's outline. [m]

    Returns
    -------
    ZoneBorders
        Distances from the crown. [m]

    Source
    ------
    Common practice, no source.
    """
    left = profile.left_s_at_height_m(profile.springline_m)
    right = -profile.mirrored().left_s_at_height_m(profile.springline_m)
    half = float(support_class.profile.back_half_m)
    return ZoneBorders(left, max(left, -half), min(right, half), right)


def _old_rows(bundle: Bundle, seen: Round) -> Iterator[Row]:
    """Yield the old rows, each by the class and the revision that it was put in by."""
    for index, old in enumerate(sorted(seen.old_rows, key=lambda row: row.chainage_m)):
        chainage = min(old.chainage_m, seen.joint_m)
        standard, support_class = class_before(bundle, chainage)
        before = profile_before(bundle.previous_round, old)
        profile = profile_of(support_class.profile, before)
        demanded = replace(
            old_row_demanded(support_class, old, before),
            number=index + 1 - len(seen.old_rows),
            chainage_m=float(chainage),
        )
        marks = RowMarks(old.confirmed, old.bolts, old=True)
        borders = borders_of(support_class, profile)
        rules = rules_of(standard, support_class, BolterCheck())
        yield Row(
            number=demanded.number,
            chainage_m=chainage,
            ahead=None,
            demanded=demanded,
            profile=profile,
            line=line_of(support_class, before),
            bolts=bolts_of_row(demanded, marks, rules, borders),
            rules=rules,
            counted=old.confirmed,
            marks=old.bolts,
        )


def _rows(seen: Round, domains: Sequence[Domain], old_rows: Sequence[Row]) -> Iterator[Row]:
    """Yield the rows, each by the class of the domain that it stands in, as broken there."""
    joint = old_rows[-1] if old_rows else domains[0]
    beside = (joint.profile, joint.line)
    touched = {row.number: row for row in seen.rows}
    chainage = seen.joint_m
    laid_out = [rows_demanded(it.support_class, seen) for it in domains]
    for index in range(seen.rows_planned):
        row = touched.get(index + 1, RowSeen(number=index + 1))
        ahead = row.ahead_of_row_before
        number, chainage = _domain_of(domains, chainage, ahead)
        domain, demanded = _as_broken_at(domains[number], row.profile), laid_out[number][index]
        here = (domain.profile, domain.line)
        placed = replace(demanded, chainage_m=float(chainage))
        marks = RowMarks(row.counted, row.bolts)
        bolts = bolts_of_row(placed, marks, domain.rules, domain.borders)
        yield Row(
            number=demanded.number,
            chainage_m=chainage,
            ahead=ahead,
            demanded=placed,
            profile=domain.profile,
            line=domain.line,
            bolts=_with_drawn(bolts, row, domain.rules),
            rules=domain.rules,
            spacings=row.spacings,
            spots=row.spot_checks,
            counted=row.counted,
            marks=row.bolts,
            domain=number,
            step_m=0.0 if here == beside else step_between_m(beside, here),
        )
        beside = here


def _domain_of(
    domains: Sequence[Domain], before_m: Decimal, ahead: LengthReading | None
) -> tuple[int, Decimal]:
    """Give the domain that a row stands in, and its chainage.

    A row that nobody measured stands where the class of its domain puts it.
    """
    for number, domain in enumerate(domains):
        spacing_m = domain.support_class.pattern.row_spacing_m
        at_m = before_m + (spacing_m if ahead is None else ahead.value_m)
        if domain.to_m is None or at_m <= domain.to_m:
            return number, at_m
    return len(domains) - 1, at_m


def _with_drawn(bolts: BoltsOfRow, row: RowSeen, rules: Rules) -> BoltsOfRow:
    looks = {spot.position: spot.plate_gap for spot in row.spot_checks}
    positions = []
    for bolt in bolts.positions:
        gap = None if bolt.position is None else looks.get(bolt.position)
        positions.append(
            bolt
            if gap is None
            else with_plate(bolt, seated=is_within(gap, rules.plate_at_most_mm))
        )
    return replace(bolts, positions=tuple(positions))
