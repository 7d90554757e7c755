"""Touches that answer what is asked before any bolt is looked at."""

from typing import Literal

from pydantic import AwareDatetime, Field

from fieldapp.work.touches.touch import (
    Touch,
    with_fields,
)
from schemas.bodies.round import (
    Called,
    GroundSeen,
    Round,
)
from schemas.numbers import Metres


class GroundAnswered(Touch):
    """The ground against what was expected."""

    what: Literal["ground"] = "ground"
    condition: Literal["as expected", "wetter", "fault or wedge", "noise", "spalling"]

    def onto(self, seen: Round) -> Round:
        return with_fields(seen, ground=GroundSeen(condition=self.condition))


class PersonCalled(Touch):
    """The person whom the standard names was told of the ground."""

    what: Literal["called"] = "called"
    who: str
    answer: str

    def onto(self, seen: Round) -> Round:
        if seen.ground is None:  # whoever was called, nobody has said what the ground is like
            return seen
        called = Called(who=self.who, at=self.at, answer=self.answer)
        return with_fields(seen, ground=with_fields(seen.ground, called=called))


class BarredBefore(Touch):
    """Barred down before bolting: by whom, and when."""

    what: Literal["barred before"] = "barred before"
    before_by: str
    before_when: str

    def onto(self, seen: Round) -> Round:
        barring = with_fields(seen.barring, before_by=self.before_by, before_when=self.before_when)
        return with_fields(seen, barring=barring)


class BarredAfter(Touch):
    """Barred down again after bolting."""

    what: Literal["barred after"] = "barred after"
    done: bool

    def onto(self, seen: Round) -> Round:
        return with_fields(seen, barring=with_fields(seen.barring, after_bolting=self.done))


class FaceAnswered(Touch):
    """The face: scaled and supported as required."""

    what: Literal["face"] = "face"
    scaled_and_supported: bool

    def onto(self, seen: Round) -> Round:
        face = with_fields(seen.face, scaled_and_supported=self.scaled_and_supported)
        return with_fields(seen, face=face)


class ButtsAnswered(Touch):
    """Misfires and butts: looked for, and found or not."""

    what: Literal["butts"] = "butts"
    answer: Literal["none found", "found"]

    def onto(self, seen: Round) -> Round:
        return with_fields(seen, face=with_fields(seen.face, misfires_and_butts=self.answer))


class BolterAnswered(Touch):
    """The bolter's own check: done by which crew, or not done."""

    what: Literal["bolter"] = "bolter"
    done: bool
    crew: str | None = None

    def onto(self, seen: Round) -> Round:
        return with_fields(seen, bolter=with_fields(seen.bolter, done=self.done, crew=self.crew))


class CrewNamed(Touch):
    """The crew that bolted a round whose own check was not done."""

    what: Literal["crew"] = "crew"
    crew: str

    def onto(self, seen: Round) -> Round:
        return with_fields(seen, bolter=with_fields(seen.bolter, crew=self.crew))


class BoltedByName(Touch):
    """Who bolted it is named person by person, from the start."""

    what: Literal["bolted by name"] = "bolted by name"
    checked: bool = True
    """Whether they did their own check: told with the first name, not before it."""

    def onto(self, seen: Round) -> Round:
        done = None if self.checked else False
        return with_fields(seen, bolter=with_fields(seen.bolter, done=done), installed_by=())


class InstallerNamed(Touch):
    """One person who bolted it, and so can't sign it."""

    what: Literal["installer"] = "installer"
    person: str
    checked: bool
    """Whether the bolter's own check was done."""

    def onto(self, seen: Round) -> Round:
        bolter = with_fields(seen.bolter, done=self.checked)
        named = tuple(dict.fromkeys((*seen.installed_by, self.person)))
        return with_fields(seen, bolter=bolter, installed_by=named)


class InstallersAllNamed(Touch):
    """Nobody else bolted it."""

    what: Literal["installers all named"] = "installers all named"

    def onto(self, seen: Round) -> Round:
        return seen


class BlockedHolesCounted(Touch):
    """How many holes were given up."""

    what: Literal["blocked holes"] = "blocked holes"
    holes: int = Field(ge=0, le=200)

    def onto(self, seen: Round) -> Round:
        return with_fields(seen, bolter=with_fields(seen.bolter, blocked_holes=self.holes))


class BoltsNamed(Touch):
    """Which bolts and batches were used, and how that is known."""

    what: Literal["bolts"] = "bolts"
    bolt_type: str
    bolt_length_m: Metres
    basis: Literal["pack label", "told by the bolter"]
    batches: tuple[str, ...] = ()

    def onto(self, seen: Round) -> Round:
        bolter = with_fields(
            seen.bolter,
            bolt_type=self.bolt_type,
            bolt_length_m=self.bolt_length_m,
            basis=self.basis,
            batches=self.batches,
        )
        return with_fields(seen, bolter=bolter)


class BoltingFinished(Touch):
    """When the last bolt of the round was in."""

    what: Literal["bolting finished"] = "bolting finished"
    finished_at: AwareDatetime

    def onto(self, seen: Round) -> Round:
        return with_fields(
            seen, bolter=with_fields(seen.bolter, bolting_finished_at=self.finished_at)
        )
