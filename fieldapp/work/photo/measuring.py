"""Measuring on a photo: taps in, lengths and areas with their uncertainty out."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from typing import Final

import numpy as np

from fieldapp.assess.photo.camera import Lens, focal_length_px
from fieldapp.assess.photo.cautions import far_from_frame, frame_cautions
from fieldapp.assess.photo.frame import Frame, Kind, mesh_frame, plate_frame
from fieldapp.assess.photo.homography import NoPlane, Points, homography
from fieldapp.assess.photo.measured import (
    Doubts,
    Measured,
    Picture,
    area_m2,
    length_mm,
    offset_mm,
)
from fieldapp.work.photo.file import PhotoFacts
from schemas.numbers import STEP_MM, rounded, text
from schemas.taps import (
    MeasuredOnPhoto,
    Measurement,
    MeshFrame,
    Point,
    SizedFrame,
    Taps,
    ToMeasure,
    What,
)
from schemas.trouble import BadInput

METHOD_VERSION: Final = 1
USUAL_EQUIVALENT_MM: Final = 27.0
"""Common practice, no source: what tablets and telephones have where they don't tell."""
STEP_PHOTO_M2: Final = Decimal("0.001")
HOW_SURE: Final[Mapping[Kind, float]] = {"mesh": 0.006, "plate": 0.01, "target": 0.003}
"""Standard uncertainty of the pitch, or of the size, as a share; common practice, no source."""
POINTS: Final[Mapping[What, tuple[int, int]]] = {
    "length": (2, 2),
    "spacing": (2, 2),
    "lap": (3, 3),
    "offset": (3, 3),
    "area": (3, 500),
}
"""Fewest and most points of each thing that is measured."""


@dataclass(eq=False)
class NotMeasured(BadInput):
    """These taps measure nothing."""

    where: str
    reason: str

    happened = "Nothing can be measured at {where}: {reason}."
    kept = "The photo was left as it is, and nothing was changed."
    do_next = "Put the points of {where} again, one after another round it."


def measurement(photo: PhotoFacts, taps: Taps) -> Measurement:
    """Measure what was tapped.

    Raises
    ------
    NotMeasured
        A point lies outside the photo or beyond the horizon of the frame's plane, the frame's
        corners cross, three of them lie on one line, or something has too few or many points.
    """
    picture = _picture(photo, taps)
    try:
        aside = picture.taken_from.obliquity_deg(picture.frame.places.mean(axis=0))
        cautions = frame_cautions(picture, float(taps.sheets_apart_mm))
    except NoPlane as error:
        raise NotMeasured("the frame", str(error)) from error
    return Measurement(
        method_version=METHOD_VERSION,
        photo_width_px=photo.width_px,
        photo_height_px=photo.height_px,
        obliquity_deg=text(rounded(aside, Decimal(1))),
        distance_m=text(rounded(picture.taken_from.distance_mm / 1000, Decimal("0.1"))),
        focal_length="told by the camera" if photo.focal_equivalent_mm else "assumed",
        warnings=cautions,
        results=tuple(_result(photo, picture, it) for it in taps.measure),
    )


def frame_of(photo: PhotoFacts, taps: Taps) -> Frame:
    """Give the frame that was tapped.

    Raises
    ------
    NotMeasured
        A corner lies outside the photo, the corners cross, or three of them lie on one line.
    """
    corners = _points(photo, "the frame", taps.frame.corners_px)
    try:
        frame = _frame(taps.frame, corners)
        homography(frame.pixels, frame.places)
    except NoPlane as error:
        raise NotMeasured("the frame", str(error)) from error
    return frame


def _picture(photo: PhotoFacts, taps: Taps) -> Picture:
    frame = frame_of(photo, taps)
    equivalent = photo.focal_equivalent_mm or USUAL_EQUIVALENT_MM
    focal = focal_length_px(photo.width_px, photo.height_px, equivalent)
    lens = Lens(photo.width_px, photo.height_px, focal)
    return Picture(frame, lens, doubts_of(frame.kind, float(taps.tap_px)))


def doubts_of(kind: Kind, tap_px: float) -> Doubts:
    """Say how far everything that a photo is measured by is doubted.

    So that of 1,000 scenes with sagging, curved and bent mesh the interval holds 93 to 97 %.
    """
    return Doubts(
        tap_px=tap_px,
        pitch=HOW_SURE[kind],
        bulge_mm=8.0,
        curve_mm=4_000.0,
        bulge_reach_mm=300.0,
        bend=0.01,
    )


def _frame(said: MeshFrame | SizedFrame, corners: Points) -> Frame:
    if isinstance(said, MeshFrame):
        pitch = float(said.pitch_across_mm), float(said.pitch_along_mm)
        return mesh_frame(corners, said.openings_across, said.openings_along, pitch)
    return plate_frame(corners, float(said.width_mm), float(said.height_mm), said.kind)


def _result(photo: PhotoFacts, picture: Picture, wanted: ToMeasure) -> MeasuredOnPhoto:
    where = wanted.name or wanted.what
    fewest, most = POINTS[wanted.what]
    if not fewest <= len(wanted.points_px) <= most:
        number = f"{fewest}" if fewest == most else f"{fewest} or more"
        raise NotMeasured(where, f"it has {len(wanted.points_px)} points, {number} are needed")
    pixels = _points(photo, where, wanted.points_px)
    try:
        found = _MEASURES[wanted.what](picture, pixels)
        cautions = far_from_frame(picture, pixels)
    except NoPlane as error:
        raise NotMeasured(where, str(error)) from error
    step = STEP_PHOTO_M2 if wanted.what == "area" else STEP_MM
    return MeasuredOnPhoto(
        what=wanted.what,
        name=wanted.name,
        value=text(rounded(found.value, step)),
        plus_minus=text(Decimal(repr(found.plus_minus)).quantize(step, ROUND_CEILING)),
        unit="m2" if wanted.what == "area" else "mm",
        warnings=cautions,
    )


_MEASURES: Final[Mapping[What, Callable[[Picture, Points], Measured]]] = {
    "length": length_mm,
    "spacing": length_mm,
    "lap": offset_mm,
    "offset": offset_mm,
    "area": area_m2,
}


def _points(photo: PhotoFacts, where: str, said: "tuple[Point, ...]") -> Points:
    points = np.array(said, dtype=np.float64)
    if (points > (photo.width_px, photo.height_px)).any():
        raise NotMeasured(where, "a point lies outside the photo")
    return points
