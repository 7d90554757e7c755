"""What a trend is made of: samples with their evidence, and the points that they come to."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from typing import Literal, get_args

from fieldapp.assess.statistics.control_chart import ControlChart
from fieldapp.assess.statistics.interval import Interval
from fieldapp.assess.statistics.median_interval import Middle
from fieldapp.assess.statistics.trend import Trend
from schemas.bodies.heading import Heading

Grouping = Literal[
    "mine",
    "heading",
    "support class",
    "crew",
    "method",
    "heading and method",
    "batch",
    "section",
]
GROUPINGS: tuple[Grouping, ...] = get_args(Grouping)
Summary = Literal["each", "share", "count"]
"""A point for each sample; or the samples of a month as a share, or counted."""
EvidenceKind = Literal["round", "event", "damage", "walk", "bolt_test"]


@dataclass(frozen=True)
class Evidence:
    """What a point stands on: a person reaches it from there."""

    kind: EvidenceKind
    id: str
    heading_id: str
    words: str
    """"4180 Main, round 87"."""
    chainage_m: Decimal | None = None


@dataclass(frozen=True)
class Sample:
    """One thing that happened or was read, and whose it is."""

    at: datetime
    value: Decimal
    evidence: Evidence
    groups: Mapping[Grouping, str]
    """Under which name it counts in each grouping; one that is missing doesn't count there."""
    of: Decimal = Decimal(1)
    """For a share: how much there was in all."""
    place: str = ""
    """What is read again and again: how it changes is told from its own readings alone."""


@dataclass(frozen=True)
class Measure:
    """One thing that is followed over time."""

    key: str
    title: str
    unit: str
    summary: Summary
    step: Decimal
    """To what it is rounded."""
    wanted: Literal["more", "less", "as it is"]
    """Which way is better."""
    charted: bool = False
    """Whether control limits are drawn: for measured values, never for grades or counts."""
    counted: bool = True
    """For a share: whether its samples are counted, so that an exact interval can be given."""
    has_middle: bool = False
    """Whether its middle is said, so that one group is told from another."""
    of_places: bool = False
    """Whether it tells how places stand: each by its last look, the worst of them in front."""


@dataclass(frozen=True)
class Point:
    """A value at a time, with what it stands on."""

    at: datetime
    value: Decimal
    evidence: tuple[Evidence, ...]
    of: Decimal = Decimal(1)
    interval: Interval | None = None
    """95 %, of a share that was counted."""
    place: str = ""
    """Of which it is one reading; empty where it sums up several."""


@dataclass(frozen=True)
class Series:
    """One measure of one group over time, oldest point first."""

    measure: Measure
    group: str
    points: tuple[Point, ...]
    chart: ControlChart | None = None
    trend: Trend | None = None
    middle: Middle | None = None
    """Of a measure that has one."""
    outside: frozenset[int] = field(default_factory=frozenset)
    """Points that ask for their reason: outside the limits, a jump, or a run."""
    in_all: Point | None = None
    """All months of a share together, where each sample is counted once."""

    @property
    def newest(self) -> Point:
        """The last point."""
        return self.points[-1]

    @property
    def stands(self) -> Point:
        """What it stands at: the last point; of places, the worst of the last of each."""
        if not self.measure.of_places:
            return self.newest
        read_at = {it.place: it.at for it in self.points}
        last = [it for it in self.points if it.at == read_at[it.place]]
        worst = min if self.measure.wanted == "more" else max
        return worst(reversed(last), key=lambda it: it.value)


def groups_of(
    place: Heading,
    *,
    support_class: str | None = None,
    crew: str | None = None,
    method: str | None = None,
    batch: str | None = None,
    section: str | None = None,
) -> Mapping[Grouping, str]:
    """Give the groups of a sample of a heading; what is not known of it doesn't count there."""
    groups: dict[Grouping, str] = {
        "mine": "",
        "heading": place.name,
        "support class": support_class or place.support_class,
    }
    if crew is not None:
        groups["crew"] = crew
    if method is not None:
        groups["method"] = method
        groups["heading and method"] = f"{place.name}, {method}"
    if batch is not None:
        groups["batch"] = batch
    if section is not None:
        groups["section"] = section
    return groups
