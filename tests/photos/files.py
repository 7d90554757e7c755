"""Photo files for tests, and taps on them."""

import json
import os
from pathlib import Path
from typing import Any, Final

from PIL import ExifTags, Image

METRE_PX: Final = (("592.114", "259.4498"), ("1287.8974", "202.0853"),
                   ("1223.9068", "741.2555"), ("670.7918", "838.0436"))  # fmt: skip
"""Ten openings of 100 mm each way, by a pinhole of 1400 px, turned by 30° and −15°."""
FOUR_HUNDRED_PX: Final = (("760.4243", "447.4483"), ("1023.715", "417.2132"))
IN_2100_S: Final = 4_102_444_800
EQUIVALENT_MM: Final = 26
"""1400 px across 1920 px, to a whole number as cameras write it."""


def photo(path: Path, size: tuple[int, int] = (1920, 1080), **exif: int) -> Path:
    """Write a photo of nothing, with what its camera tells."""
    told = Image.Exif()
    told[ExifTags.Base.Orientation] = exif.get("orientation", 1)
    if "equivalent_mm" in exif:
        told.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.FocalLengthIn35mmFilm] = exif[
            "equivalent_mm"
        ]
    Image.new("RGB", size, "#443322").save(path, exif=told)
    return undated(path)


def undated(path: Path) -> Path:
    """Give a file a time that can't be: the tests' clocks are not those by which it is written."""
    os.utime(path, (IN_2100_S, IN_2100_S))
    return path


def mesh(corners: Any = METRE_PX, **other: Any) -> dict[str, Any]:
    return {
        "kind": "mesh",
        "corners_px": corners,
        "openings_across": 10,
        "openings_along": 10,
        "pitch_across_mm": "100",
        "pitch_along_mm": "100",
        **other,
    }


def wanted(what: str = "length", points: Any = FOUR_HUNDRED_PX, **other: Any) -> dict[str, Any]:
    return {"what": what, "points_px": points, **other}


def taps(path: Path, *measure: dict[str, Any], frame: dict[str, Any] | None = None) -> Path:
    """Write a file of taps: by default the metre of mesh, and a length of 400 mm."""
    said = {"frame": frame or mesh(), "measure": measure or (wanted(),)}
    path.write_text(json.dumps(said))
    return path
