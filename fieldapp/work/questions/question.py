"""A question that a round asks, and the answers that a gloved thumb can give."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Literal

from fieldapp.work.touches import AnyTouch
from schemas.bodies.batch import Batch
from schemas.bodies.round import Method
from schemas.taps import What

Stage = Literal["before", "old rows", "rows", "drawn", "mesh", "shotcrete", "torque", "last"]


@dataclass(frozen=True)
class Asker:
    """Who answers, and when, in the zone of the mine's clock: what every touch carries."""

    at: datetime
    by: str | None
    again: frozenset[str] = frozenset()
    """Keys of questions whose reading straddled its limit: asked once more, by a better
    method."""


@dataclass(frozen=True)
class Installer:
    """Somebody enrolled who may have bolted a round."""

    person_id: str
    name: str


@dataclass(frozen=True)
class Known:
    """What the site knows that answers are picked from."""

    crews: tuple[str, ...]
    """Crews as the bolter's check names them; never a person."""
    batches: tuple[Batch, ...] = ()
    installers: tuple[Installer, ...] = ()
    """Who can be named as having bolted it, those first who most likely did."""


@dataclass(frozen=True)
class Choice:
    """One answer on a chip. Nothing is chosen beforehand."""

    label: str
    touch: AnyTouch
    note: str = ""


@dataclass(frozen=True)
class OnPhoto:
    """An answer that is measured on a photo, with its own standard uncertainty."""

    quantity: What
    touch: Callable[[Decimal, Decimal], AnyTouch]
    """Of the value and its standard uncertainty [mm]."""


@dataclass(frozen=True)
class Digits:
    """An answer typed on the large pad, with its unit and limit in sight."""

    unit: str
    limit: str
    decimals: int
    least: Decimal
    most: Decimal
    methods: tuple[Method, ...]
    """Ways of reading that may be named; empty where it is a count."""
    touch: Callable[[Decimal, Method], AnyTouch]
    on_photo: OnPhoto | None = None
    """None: a photo is no way of reading it."""
    words: str = "Other…"
    """On the key that leads to it."""


@dataclass(frozen=True)
class Question:
    """One thing to look at. `answered` says whether a standing touch has answered it."""

    key: str
    stage: Stage
    ask: str
    hint: str
    choices: tuple[Choice, ...]
    answered: bool
    digits: Digits | None = None
    row: int | None = None
    """Row of the round it is about; 0 and -1 are the old rows, the nearest to the joint 0."""
    position: int | None = None
    """Bolt of that row, counted from the left."""
    where: str | None = None
    """How a finding names the place that this answer is about, where no row says it."""
    checks: tuple[str, ...] = ()
    """The checks that this answer settles, the one it is asked for first."""
