"""What a photo can be measured by here: the mine's mesh, its plates, the app's printed target."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, Literal

from fieldapp.work.site import Sight
from fieldapp.work.standard_in_force import adopted
from schemas.bodies.photo_measurement import PhotoMeasurement
from schemas.taps import Corners, MeshFrame, SizedFrame

TARGET_MM: Final = (Decimal(160), Decimal(220))
"""Across and along, between the centres of the printed target's corner marks."""


@dataclass(frozen=True)
class Yardstick:
    """Something whose size is known: openings of mesh, or four corners."""

    kind: Literal["mesh", "plate", "target"]
    across_mm: Decimal
    """Of one opening, or of the whole."""
    along_mm: Decimal

    def frame(self, corners: Corners, openings: tuple[int, int]) -> MeshFrame | SizedFrame:
        """Give the frame that it makes on a photo."""
        if self.kind == "mesh":
            return MeshFrame(
                kind="mesh",
                corners_px=corners,
                openings_across=openings[0],
                openings_along=openings[1],
                pitch_across_mm=self.across_mm,
                pitch_along_mm=self.along_mm,
            )
        return SizedFrame(
            kind=self.kind,
            corners_px=corners,
            width_mm=self.across_mm,
            height_mm=self.along_mm,
        )


TARGET: Final = Yardstick("target", *TARGET_MM)


def yardsticks(site: Sight) -> tuple[Yardstick, ...]:
    """Give what the standards adopted here demand, each once, and the printed target.

    Chain link is none of them: it gives way, and its openings tell no size.
    """
    return tuple(dict.fromkeys((*_demanded(site), TARGET)))


def _demanded(site: Sight) -> Iterator[Yardstick]:
    classes = [it for known in adopted(site) for it in known.body.classes]
    for each in classes:
        if each.mesh is not None and each.mesh.kind == "sheets of welded mesh":
            yield Yardstick("mesh", each.mesh.pitch_mm, each.mesh.pitch_mm)
    for each in classes:
        for bolt in each.bolts:
            if bolt.plate_mm:
                yield Yardstick("plate", bolt.plate_mm, bolt.plate_mm)


def of_measurement(measured: PhotoMeasurement) -> tuple[Yardstick, tuple[int, int]]:
    """Say by what something was measured, and by how many openings of it."""
    frame = measured.taps.frame
    if isinstance(frame, MeshFrame):
        by = Yardstick("mesh", frame.pitch_across_mm, frame.pitch_along_mm)
        return by, (frame.openings_across, frame.openings_along)
    return Yardstick(frame.kind, frame.width_mm, frame.height_mm), (1, 1)
