"""How the support of a round was done and what went into it. No verdict comes of it.

By crew and method, never by name. What nobody stated is None or empty.
"""

from typing import Literal

from pydantic import AwareDatetime, Field

from schemas.numbers import SquareMetres
from schemas.part import Part

WorkMethod = Literal["hand-held", "mechanised"]


class Delay(Part):
    """Time in which nobody could go on, and why."""

    minutes: int = Field(ge=1, le=1_440)
    cause: str = Field(min_length=1, max_length=200)


class BoltsUsed(Part):
    """How many bolts of one type went in."""

    bolt_type: str
    bolts: int = Field(ge=0, le=2_000)


class Used(Part):
    """What really went into the round, those that were spoilt too."""

    bolts: tuple[BoltsUsed, ...] = Field(default=(), max_length=60)
    plates: int | None = Field(default=None, ge=0, le=2_000)
    mesh_pieces: int | None = Field(default=None, ge=0, le=200)
    """Sheets, or strips of a roll."""
    mesh_m2: SquareMetres | None = None
    capsules: int | None = Field(default=None, ge=0, le=9_999)


class WorkSeen(Part):
    """The work of one round in figures."""

    started_at: AwareDatetime | None = None
    finished_at: AwareDatetime | None = None
    """Of the support: barring down, meshing, bolting."""
    crew_size: int | None = Field(default=None, ge=1, le=60)
    method: WorkMethod | None = None
    delays: tuple[Delay, ...] | None = Field(default=None, max_length=60)
    """None: nobody said; empty: there was none."""
    used: Used = Used()
    beyond_last_row: bool | None = None
    """Whether anyone had to go beyond the last row."""
    beyond_reason: str | None = Field(default=None, max_length=200)
