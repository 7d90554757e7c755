"""`lastrow measure`: lengths and areas on a photo, from taps. Opens no records."""

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from fieldapp.cli.door import Home
from fieldapp.cli.files import content_of, save_picture

if TYPE_CHECKING:
    from schemas.taps import MeasuredOnPhoto, Measurement, Taps

Photo = Annotated[Path, typer.Argument(metavar="PHOTO", help="The photo.")]
Drawn = Annotated[
    Path | None, typer.Option(metavar="FILE", help="Draw what is measured on a copy of the photo.")
]
TapsFile = Annotated[Path, typer.Argument(metavar="TAPS", help="The frame and the points, JSON.")]
UNITS = {"mm": "mm", "m2": "m²"}


def measure(
    photo: Photo,
    taps: TapsFile,
    *,
    as_json: Annotated[bool, typer.Option("--json", help="Answer with JSON.")] = False,
    drawn: Drawn = None,
    home: Home = None,  # noqa: ARG001 - every command takes it; this one opens no records
) -> int:
    """Measure on a photo by a frame of known size: mesh, a plate or a printed target.

    Example: lastrow measure torn.jpg taps.json --json
    """
    from fieldapp.work.photo.file import photo_facts
    from fieldapp.work.photo.measuring import measurement
    from schemas.reading import read_model
    from schemas.taps import Taps

    wanted = read_model(content_of(taps), Taps, source=taps.name)
    found = measurement(photo_facts(photo), wanted)
    if drawn is not None:
        _draw(photo, drawn, wanted, found)
    if as_json:
        print(json.dumps(found.model_dump(mode="json"), ensure_ascii=False, sort_keys=True))
    else:
        _tell(found)
    return 0


def _draw(photo: Path, drawn: Path, taps: "Taps", found: "Measurement") -> None:
    from fieldapp.report.paint.photo import painted
    from fieldapp.report.photo_shapes import shapes_of_measurement
    from fieldapp.work.photo.file import upright

    picture = upright(photo)
    shapes = shapes_of_measurement(taps, found.results, picture.size)
    save_picture(painted(picture, shapes), drawn)


def _tell(found: "Measurement") -> None:
    from fieldapp.cli.table import table

    rows = [_row(it) for it in found.results]
    print("\n".join(table(("what", "name", "measured, 95 %", "mind"), rows, (10, 30, 24, 60))))
    print(f"\nTaken from about {found.distance_m} m, {found.obliquity_deg}° aside.")
    if found.focal_length == "assumed":
        print("The camera does not tell its focal length: a usual one was assumed.")
    for caution in found.warnings:
        print(f"Mind: {caution}.")
    print("Measured on a photo: mesh that bulges is measured straight, not along the mesh.")


def _row(it: "MeasuredOnPhoto") -> tuple[str, str, str, str]:
    value = f"{it.value} ± {it.plus_minus} {UNITS[it.unit]}"
    return it.what, it.name, value, "; ".join(it.warnings)
