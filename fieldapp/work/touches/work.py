"""Touches that state how the support was done and what went into it."""

from typing import Literal

from pydantic import AwareDatetime, Field

from fieldapp.work.touches.touch import Touch, with_fields
from schemas.bodies.round import Round
from schemas.bodies.work_seen import BoltsUsed, Delay, Used, WorkMethod, WorkSeen
from schemas.numbers import SquareMetres


def _with_work(seen: Round, **changes: object) -> Round:
    return with_fields(seen, work=with_fields(seen.work or WorkSeen(), **changes))


def _with_used(seen: Round, **changes: object) -> Round:
    used = seen.work.used if seen.work else Used()
    return _with_work(seen, used=with_fields(used, **changes))


class SupportBegun(Touch):
    """When the support of the round was started."""

    what: Literal["support begun"] = "support begun"
    started_at: AwareDatetime

    def onto(self, seen: Round) -> Round:
        return _with_work(seen, started_at=self.started_at)


class SupportFinished(Touch):
    """When it was finished."""

    what: Literal["support finished"] = "support finished"
    finished_at: AwareDatetime

    def onto(self, seen: Round) -> Round:
        return _with_work(seen, finished_at=self.finished_at)


class CrewCounted(Touch):
    """How many people did it."""

    what: Literal["crew counted"] = "crew counted"
    people: int = Field(ge=1, le=60)

    def onto(self, seen: Round) -> Round:
        return _with_work(seen, crew_size=self.people)


class MethodNamed(Touch):
    """How it was done."""

    what: Literal["method"] = "method"
    method: WorkMethod

    def onto(self, seen: Round) -> Round:
        return _with_work(seen, method=self.method)


class NotDelayed(Touch):
    """Nothing held it up."""

    what: Literal["not delayed"] = "not delayed"

    def onto(self, seen: Round) -> Round:
        return _with_work(seen, delays=())


class Delayed(Touch):
    """Something held it up, for so long."""

    what: Literal["delayed"] = "delayed"
    delay: Delay

    def onto(self, seen: Round) -> Round:
        before = seen.work.delays if seen.work else None
        return _with_work(seen, delays=(*(before or ()), self.delay))


class BoltsOfTypeUsed(Touch):
    """How many bolts of a type went in."""

    what: Literal["bolts used"] = "bolts used"
    used: BoltsUsed

    def onto(self, seen: Round) -> Round:
        before = seen.work.used.bolts if seen.work else ()
        others = tuple(it for it in before if it.bolt_type != self.used.bolt_type)
        return _with_used(seen, bolts=(*others, self.used))


class PlatesUsed(Touch):
    """How many plates went in."""

    what: Literal["plates used"] = "plates used"
    plates: int = Field(ge=0, le=2_000)

    def onto(self, seen: Round) -> Round:
        return _with_used(seen, plates=self.plates)


class MeshUsed(Touch):
    """How many sheets or strips went in."""

    what: Literal["mesh used"] = "mesh used"
    pieces: int = Field(ge=0, le=200)

    def onto(self, seen: Round) -> Round:
        return _with_used(seen, mesh_pieces=self.pieces)


class MeshAreaUsed(Touch):
    """How much mesh went in, where that isn't whole sheets."""

    what: Literal["mesh area used"] = "mesh area used"
    mesh_m2: SquareMetres

    def onto(self, seen: Round) -> Round:
        return _with_used(seen, mesh_m2=self.mesh_m2)


class CapsulesUsed(Touch):
    """How many capsules of resin went in."""

    what: Literal["capsules used"] = "capsules used"
    capsules: int = Field(ge=0, le=9_999)

    def onto(self, seen: Round) -> Round:
        return _with_used(seen, capsules=self.capsules)


class NobodyBeyond(Touch):
    """Nobody had to go beyond the last row."""

    what: Literal["nobody beyond"] = "nobody beyond"

    def onto(self, seen: Round) -> Round:
        return _with_work(seen, beyond_last_row=False, beyond_reason=None)


class WentBeyond(Touch):
    """Somebody had to go beyond the last row, and why."""

    what: Literal["went beyond"] = "went beyond"
    reason: str = Field(min_length=1, max_length=200)

    def onto(self, seen: Round) -> Round:
        return _with_work(seen, beyond_last_row=True, beyond_reason=self.reason)
