"""Which part of the drive is seen, at one scale in both directions.

Pixels count from the lower left of the window, metres as everywhere: `x_m` is the chainage and
runs upwards to the face, `s_m` is the distance from the crown and runs to the right.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import hypot

Pixel = tuple[float, float]
Place = tuple[float, float]

LONG_DRIVE = 2.5
"""So many screens long, a drive is shown at full width from the face instead of whole."""


@dataclass(frozen=True)
class Ground:
    """The ground that can be seen at all: chainages and distances from the crown."""

    x_from_m: float
    x_to_m: float
    s_from_m: float
    s_to_m: float

    @property
    def along_m(self) -> float:
        """Its length along the drive."""
        return max(self.x_to_m - self.x_from_m, 0.1)

    @property
    def across_m(self) -> float:
        """Its length along the rock, from wall to wall."""
        return max(self.s_to_m - self.s_from_m, 0.1)


@dataclass(frozen=True)
class Window:
    """The part of the glass that the ground is seen through, in pixels."""

    left: float
    bottom: float
    width: float
    height: float

    @property
    def middle(self) -> Pixel:
        """The pixel in its middle."""
        return self.left + self.width / 2, self.bottom + self.height / 2

    def holds(self, at: Pixel) -> bool:
        """Tell whether a pixel lies in the window."""
        beside, above = at[0] - self.left, at[1] - self.bottom
        return 0 <= beside <= self.width and 0 <= above <= self.height


@dataclass(frozen=True)
class View:
    """A window on the ground. `left_px`, `bottom_px` is where the ground's corner lies."""

    ground: Ground
    window: Window
    px_per_m: float
    left_px: float
    bottom_px: float

    def pixel(self, x_m: float, s_m: float) -> Pixel:
        """Give where a place lies on the glass."""
        across = (s_m - self.ground.s_from_m) * self.px_per_m
        along = (x_m - self.ground.x_from_m) * self.px_per_m
        return self.left_px + across, self.bottom_px + along

    def place(self, at: Pixel) -> Place:
        """Give the place (x_m, s_m) that lies at a pixel."""
        x_m = self.ground.x_from_m + (at[1] - self.bottom_px) / self.px_per_m
        s_m = self.ground.s_from_m + (at[0] - self.left_px) / self.px_per_m
        return x_m, s_m

    def panned(self, right: float, up: float) -> "View":
        """Move the ground under the window, never out of it."""
        moved = replace(self, left_px=self.left_px + right, bottom_px=self.bottom_px + up)
        return moved.kept_inside()

    def zoomed(self, times: float, about: Pixel) -> "View":
        """Make the ground larger or smaller; what lies at `about` stays there."""
        px_per_m = min(max(self.px_per_m * times, self.least_scale), self.most_scale)
        times = px_per_m / self.px_per_m
        return replace(
            self,
            px_per_m=px_per_m,
            left_px=about[0] + (self.left_px - about[0]) * times,
            bottom_px=about[1] + (self.bottom_px - about[1]) * times,
        ).kept_inside()

    def stepped(self, times: float, wanted: Pixel | None) -> "View":
        """Zoom about a pixel that somebody looks at; out of sight, or none, about the middle."""
        if wanted is None or not self.window.holds(wanted):
            wanted = self.window.middle
        return self.zoomed(times, wanted)

    def pinched(self, before: Sequence[Pixel], now: Sequence[Pixel]) -> "View":
        """Make the ground larger or smaller as two fingers went, and move it with them."""
        (x0, y0), (x1, y1) = before[:2]
        (u0, v0), (u1, v1) = now[:2]
        apart = max(hypot(x1 - x0, y1 - y0), 1.0)
        middle = ((u0 + u1) / 2, (v0 + v1) / 2)
        moved = self.panned(middle[0] - (x0 + x1) / 2, middle[1] - (y0 + y1) / 2)
        return moved.zoomed(hypot(u1 - u0, v1 - v0) / apart, middle)

    def centred(self, x_m: float, s_m: float) -> "View":
        """Bring a place into the middle of the window."""
        x, y = self.pixel(x_m, s_m)
        middle_x, middle_y = self.window.middle
        return self.panned(middle_x - x, middle_y - y)

    def kept_inside(self) -> "View":
        """Hold the ground's edges at the window's; ground smaller than it lies in the middle."""
        window = self.window
        wide, high = self.ground.across_m * self.px_per_m, self.ground.along_m * self.px_per_m
        return replace(
            self,
            left_px=_held(self.left_px, wide, window.left, window.width),
            bottom_px=_held(self.bottom_px, high, window.bottom, window.height),
        )

    @property
    def least_scale(self) -> float:
        """The scale at which all of the ground is seen."""
        return min(
            self.window.width / self.ground.across_m, self.window.height / self.ground.along_m
        )

    @property
    def most_scale(self) -> float:
        """The scale at which two metres fill the window."""
        return max(self.least_scale, min(self.window.width, self.window.height) / 2)


def fitted(ground: Ground, window: Window) -> View:
    """Show all of the ground; of a long drive the full width, from the face."""
    across = window.width / ground.across_m
    along = window.height / ground.along_m
    long = across > along * LONG_DRIVE
    px_per_m = across if long else min(across, along)
    top = window.bottom + window.height - ground.along_m * px_per_m
    return View(ground, window, px_per_m, window.left, top).kept_inside()


def _held(start: float, length: float, window_start: float, window_length: float) -> float:
    free = window_length - length
    if free >= 0:
        return round(window_start + free / 2)
    return round(min(window_start, max(window_start + free, start)))
