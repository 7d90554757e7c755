"""What the mine's standard says of tests: what is pulled, turned and cored, and what follows."""

from typing import Literal

from pydantic import Field

from schemas.numbers import (
    CubicMetres,
    Factor,
    Kilonewtons,
    Megapascals,
    Millimetres,
    NewtonMetres,
)
from schemas.part import Part

Occasion = Literal["change of ground", "change of batch", "new crew"]
Follows = Literal["neighbours", "row", "round", "batch in doubt", "tell the engineer"]


class AfterFailure(Part):
    """What is done when a test fails. A failed bolt is replaced by one beside it."""

    then: tuple[Follows, ...] = Field(min_length=1, max_length=5)
    neighbours: int = Field(default=2, ge=0, le=20)
    """How many of the nearest bolts are tested next."""
    because: str = Field(min_length=3)


class BoltTestRule(Part):
    """Pull tests: the share of bolts, the proof load, the hold and the slip allowed."""

    bolt_type: str
    kind: Literal["proof", "destructive"] = "proof"
    """Destructive tests are made on bolts put in for it, never on bolts of the support."""
    one_in: int = Field(ge=1, le=100_000)
    at_least: int = Field(ge=1, le=1_000)
    """Of each kind of bolt in each heading, before the share counts."""
    proof_kn: Kilonewtons
    """Load to hold in a proof test; least load to reach in a destructive one."""
    hold_min: int = Field(ge=0, le=120)
    slip_at_most_mm: Millimetres
    calibrated_within_days: int | None = Field(default=None, ge=1, le=3_650)
    """How long before a test its rig was calibrated at most; None: nothing is asked of it."""
    also_after: tuple[Occasion, ...] = Field(default=(), max_length=3)
    """One more test is due after each of these."""
    after_failure: AfterFailure | None = None
    because: str = Field(min_length=3)


class TorqueTestRule(Part):
    """Torque read again later, on bolts that hold by their tension."""

    bolt_type: str
    one_in: int = Field(ge=1, le=100_000)
    every_days: int = Field(ge=1, le=3_650)
    at_least_nm: NewtonMetres
    after_failure: AfterFailure | None = None
    because: str = Field(min_length=3)


class CoreRule(Part):
    """Cores of shotcrete: how many in a set, and which shares of the strength they must reach."""

    cores: int = Field(ge=1, le=20)
    strength_mpa: Megapascals = Field(gt=0)
    mean_share_at_least: Factor
    each_share_at_least: Factor
    age_days: int = Field(ge=1, le=365)
    one_set_per_m3: CubicMetres | None = Field(default=None, gt=0)
    """A set for each so much sprayed, the last part too; None: volume asks for none."""
    one_set_per_day: bool = False
    """Whether each day on which something was sprayed asks for a set."""
    after_failure: AfterFailure | None = None
    """Its neighbours, row and round are so many more sets, pressed near the failed one."""
    because: str = Field(min_length=3)
