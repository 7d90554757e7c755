"""The demo's past for tests, made once a process, without the story of the last days."""

import atexit
import shutil
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from functools import cache, cached_property
from pathlib import Path
from tempfile import mkdtemp

from fieldapp.assess.statistics.interval import Interval
from fieldapp.assess.statistics.proportion import clopper_pearson
from fieldapp.start import open_site
from fieldapp.work.demo import make_demo
from fieldapp.work.demo.history.truth import WET, Crew
from fieldapp.work.headings import heading, headings
from fieldapp.work.known import Known, current
from fieldapp.work.rounds import rounds
from fieldapp.work.site import Site
from fieldapp.work.standard_in_force import in_force
from schemas.bodies.damage import Damage
from schemas.bodies.round import Round
from schemas.bodies.walk import SteelRead, Walk
from schemas.corrosion_rules import Steel
from schemas.standard import Limits, Standard
from tests.demo_mine import SetClock

SURE = Decimal("0.99")
"""An interval that does not hold the truth is a past that tells something else."""


@dataclass(frozen=True)
class Read:
    """One reading of steel, with when it was taken."""

    at: datetime
    body: SteelRead


@dataclass(frozen=True)
class Past:
    """The mine as it stood when the story of the last days began."""

    site: Site

    @property
    def now(self) -> datetime:
        return self.site.now()

    @property
    def standard(self) -> Standard:
        return in_force(self.site, self.now).body

    def limits(self, seen: Round) -> Limits:
        demanded = self.standard.support_class(seen.support_class)
        assert demanded is not None
        return demanded.limits

    @cached_property
    def rounds(self) -> tuple[Known[Round], ...]:
        return tuple(it for place in headings(self.site) for it in rounds(self.site, place.id))

    @cached_property
    def walks(self) -> tuple[Walk, ...]:
        return tuple(it.body for it in current(self.site, "walk", Walk))

    @cached_property
    def damages(self) -> tuple[Known[Damage], ...]:
        return current(self.site, "damage", Damage)

    @property
    def first_seen(self) -> dict[str, Damage]:
        """The first observation of each damage, by its id."""
        return {it.id: it.body for it in self.damages if it.body.again is None}

    def of(self, crew: Crew) -> tuple[Known[Round], ...]:
        return tuple(it for it in self.rounds if it.body.bolter.crew == crew.name)

    def walked(self, name: str) -> Iterator[Walk]:
        place = heading(self.site, name)
        return (it for it in self.walks if it.heading == place.id)

    def steel(self, name: str, steel: Steel, *, wet: bool) -> Iterator[Read]:
        """Yield what was read of one kind of steel in a heading, in its wet stretch or not."""
        for walk in self.walked(name):
            for section in walk.sections:
                for read in section.steel:
                    is_wet = WET.from_m <= read.chainage_m < WET.to_m and name == WET.heading
                    if (read.steel, is_wet) == (steel, wet):
                        yield Read(section.at, read)


@cache
def the_past() -> Past:
    """Make it the first time."""
    above = Path(mkdtemp(prefix="lastrow-past-"))
    atexit.register(shutil.rmtree, above, ignore_errors=True)
    site = open_site(above / "home", now=SetClock())
    atexit.register(site.store.close)
    return Past(make_demo(site, past=lambda _: None, story=()))


def share(found: Iterable[bool]) -> Interval:
    """Give the exact interval of a share, at 99 %."""
    seen = list(found)
    return clopper_pearson(sum(seen), len(seen), SURE)


def holds(found: Interval, truth: float) -> bool:
    return float(found.low) <= truth <= float(found.high)
