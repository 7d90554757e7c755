"""`lastrow frame`: the mesh in a photo found, and a frame on it proposed. Opens no records."""

import json
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from fieldapp.cli.door import Home
from fieldapp.cli.files import save_picture
from fieldapp.cli.measure import Photo

if TYPE_CHECKING:
    from fieldapp.work.photo.framing import Framed

Pitch = Annotated[
    str,
    typer.Option(metavar="MM", help="Between wire centres: 100, or across and along, 100x200."),
]
Drawn = Annotated[
    Path | None, typer.Option(metavar="FILE", help="Draw the frame on a copy of the photo.")
]


def frame(
    photo: Photo,
    *,
    pitch: Pitch,
    drawn: Drawn = None,
    dark: Annotated[
        bool, typer.Option("--dark-wires", help="Wires darker than what is behind them.")
    ] = False,
    as_json: Annotated[bool, typer.Option("--json", help="Answer as a file of taps.")] = False,
    home: Home = None,  # noqa: ARG001 - every command takes it; this one opens no records
) -> int:
    """Find welded mesh in a photo and propose a frame, to be looked at before it measures.

    Example: lastrow frame torn.jpg --pitch 100 --drawn frame.png --json
    """
    from fieldapp.work.photo.framing import framed

    found = framed(photo, *_pitch(pitch), dark=dark)
    if drawn is not None:
        _draw(photo, drawn, found)
    if as_json:
        print(json.dumps({"frame": found.frame.model_dump(mode="json"), "measure": []}, indent=1))
        return 0
    corners = ", ".join(f"({x}, {y})" for x, y in found.frame.corners_px)
    openings = f"{found.frame.openings_across} × {found.frame.openings_along} openings"
    print(
        f"Proposed: {openings}, corners {corners}; "
        f"{len(found.crossings_px)} crossings belong to the mesh."
    )
    print(
        "Look at it before you measure by it: each corner on a crossing, and count the openings."
    )
    return 0


def _pitch(said: str) -> tuple[Decimal, Decimal]:
    try:
        pitches = [Decimal(it) for it in said.lower().replace("×", "x").split("x")]
    except InvalidOperation:
        pitches = []
    if len(pitches) not in (1, 2) or not all(5 <= it <= 1_000 for it in pitches):  # noqa: PLR2004
        raise typer.BadParameter("a pitch is 5 to 1000 mm: 100, or 100x200")
    return pitches[0], pitches[-1]


def _draw(photo: Path, drawn: Path, found: "Framed") -> None:
    from fieldapp.report.paint.photo import painted
    from fieldapp.report.photo_shapes import shapes_of_proposed
    from fieldapp.work.photo.file import upright

    picture = upright(photo)
    shapes = shapes_of_proposed(found.frame.corners_px, found.crossings_px, picture.size)
    save_picture(painted(picture, shapes), drawn)
