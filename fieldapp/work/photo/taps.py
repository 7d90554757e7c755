"""Measuring on a photo by hand: a frame first, then one thing after another.

Undo is going back to the one before. Nothing here computes: `measuring` does, from the taps.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, Decimal
from typing import Final

from fieldapp.work.photo.file import PhotoFacts
from fieldapp.work.photo.frames_known import Yardstick, of_measurement
from fieldapp.work.photo.measuring import POINTS
from schemas.bodies.photo_measurement import PhotoMeasurement
from schemas.numbers import rounded
from schemas.taps import Corners, Point, Taps, ToMeasure, What

At = tuple[float, float]
"""A place on a photo as shares of its width and height, from its upper left corner."""
CORNERS: Final = 4
STEP_PX: Final = Decimal("0.1")
LEAST_TAP_PX: Final = Decimal("1.5")
"""However large a photo is shown, its own blur stays. Common practice, no source."""


@dataclass(frozen=True)
class Thing:
    """Something that is measured, as far as it was tapped."""

    what: What
    points: tuple[At, ...] = ()

    @property
    def is_whole(self) -> bool:
        """Whether it has points enough to be measured."""
        return len(self.points) >= POINTS[self.what][0]

    @property
    def is_full(self) -> bool:
        """Whether it takes no further point."""
        return len(self.points) >= POINTS[self.what][1]


@dataclass(frozen=True)
class OnPhoto:
    """What was tapped on one photo. Each touch gives the next one."""

    facts: PhotoFacts
    by: Yardstick
    corners: tuple[At, ...] = ()
    openings: tuple[int, int] = (1, 1)
    things: tuple[Thing, ...] = ()
    tap_px: Decimal = LEAST_TAP_PX
    """Standard uncertainty of the least sure tap, each way."""

    @property
    def is_framed(self) -> bool:
        """Whether the frame has its four corners."""
        return len(self.corners) == CORNERS

    @property
    def measured(self) -> tuple[Thing, ...]:
        """What can be measured already."""
        return tuple(thing for thing in self.things if thing.is_whole)

    @property
    def last(self) -> At | None:
        """The place that was tapped last, which can be nudged."""
        placed = (*self.corners, *(at for thing in self.things for at in thing.points))
        return placed[-1] if placed else None

    def tapped(self, at: At, doubt_px: float) -> "OnPhoto":
        """Take a tap, which is unsure by so many pixels of the photo."""
        unsure = rounded(doubt_px, STEP_PX)
        now = replace(self, tap_px=max(self.tap_px, unsure))
        if not self.is_framed:
            return replace(now, corners=(*self.corners, at))
        if not self.things:
            return self
        *before, last = self.things
        if last.is_full:
            return replace(now, things=(*self.things, Thing(last.what, (at,))))
        grown = replace(last, points=(*last.points, at))
        return replace(now, things=(*before, grown))

    def nudged(self, right_px: float, down_px: float) -> "OnPhoto":
        """Move the place that was tapped last by pixels of the photo, never out of it."""
        if self.last is None:
            return self
        x = self.last[0] + right_px / self.facts.width_px
        y = self.last[1] + down_px / self.facts.height_px
        at = (min(max(x, 0.0), 1.0), min(max(y, 0.0), 1.0))
        for number in reversed(range(len(self.things))):
            thing = self.things[number]
            if thing.points:
                moved = replace(thing, points=(*thing.points[:-1], at))
                return replace(
                    self, things=(*self.things[:number], moved, *self.things[number + 1 :])
                )
        return replace(self, corners=(*self.corners[:-1], at))

    def begun(self, what: What) -> "OnPhoto":
        """Begin to measure a thing; one that is not whole is dropped."""
        return replace(self, things=(*self.measured, Thing(what)))

    def taps(self) -> Taps | None:
        """Give what can be measured; None while there is nothing."""
        if not (self.is_framed and self.measured):
            return None
        corners: Corners = tuple(self._px(at) for at in self.corners)  # type: ignore[assignment]
        measure = tuple(
            ToMeasure(what=it.what, points_px=tuple(map(self._px, it.points)))
            for it in self.measured
        )
        return Taps(
            frame=self.by.frame(corners, self.openings), measure=measure, tap_px=self.tap_px
        )

    def _px(self, at: At) -> Point:
        size = (self.facts.width_px, self.facts.height_px)
        x, y = (rounded(value * most, STEP_PX) for value, most in zip(at, size, strict=True))
        return x, y


def gone_on_with(facts: PhotoFacts, measured: PhotoMeasurement) -> OnPhoto:
    """Give what was tapped, to go on with it."""
    by, openings = of_measurement(measured)

    def shares(points: Sequence[Point]) -> tuple[At, ...]:
        size = (facts.width_px, facts.height_px)
        return tuple((float(x) / size[0], float(y) / size[1]) for x, y in points)

    return OnPhoto(
        facts=facts,
        by=by,
        corners=shares(measured.taps.frame.corners_px),
        openings=openings,
        things=tuple(Thing(it.what, shares(it.points_px)) for it in measured.taps.measure),
        tap_px=measured.taps.tap_px,
    )


def doubt_px(shown_px_per_px: float, glass_px_per_mm: float, loupe: float) -> float:
    """Say how unsure a tap is [px of the photo] at the scale at which the photo is shown.

    A finger under a loupe hits to half a millimetre of the glass: common practice, no source.
    """
    half_a_mm = 0.5 * glass_px_per_mm / (shown_px_per_px * loupe)
    return float(Decimal(half_a_mm).quantize(STEP_PX, ROUND_CEILING))
