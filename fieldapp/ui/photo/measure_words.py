"""What the measuring sheet says: what to tap next, by what is measured, what came out."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from fieldapp.report.photo_shapes import Shape, Tapping, result_words, shapes_of_taps
from fieldapp.ui.translate import _
from fieldapp.work.photo.frames_known import Yardstick
from fieldapp.work.photo.taps import OnPhoto
from schemas.taps import MeasuredOnPhoto, Measurement, What

WHATS: Final[tuple[tuple[What, str, str], ...]] = (
    ("length", _("Length"), _("between two places")),
    ("spacing", _("Spacing"), _("of two bolts")),
    ("lap", _("Lap"), _("edge to edge")),
    ("offset", _("Offset"), _("off a line")),
    ("area", _("Area"), _("of a tear")),
)
NAMES: Final = {what: name for what, name, _second in WHATS}
_FRAME: Final = {
    "mesh": (
        _("Tap a crossing of the mesh."),
        _("Tap a crossing along the same wire."),
        _("Round the corner: tap the third crossing."),
        _("Tap the fourth crossing."),
    ),
    "plate": (
        _("Tap a corner of the plate."),
        _("Tap the next corner of the plate."),
        _("Tap the third corner."),
        _("Tap the last corner."),
    ),
    "target": (
        _("Tap the target's upper left corner mark."),
        _("Tap its upper right corner mark."),
        _("Tap its lower right corner mark."),
        _("Tap its lower left corner mark."),
    ),
}
_THINGS: Final[dict[What, tuple[str, ...]]] = {
    "length": (_("Tap one end."), _("Tap the other end.")),
    "spacing": (_("Tap the middle of one bolt."), _("Tap the middle of the next.")),
    "lap": (
        _("Tap one end of the upper sheet's edge."),
        _("Tap that edge at its other end."),
        _("Tap the edge of the sheet below."),
    ),
    "offset": (
        _("Tap one end of the line."),
        _("Tap the other end of the line."),
        _("Tap what is off the line."),
    ),
    "area": (_("Tap round it, corner by corner."),),
}


def asks(work: OnPhoto | None) -> str:
    """Say what to do next."""
    if work is None:
        return _("Choose a frame: something in the photo whose size is known.")
    if not work.is_framed:
        return _FRAME[work.by.kind][len(work.corners)]
    if not work.things or work.things[-1].is_full:
        return _("Choose what to measure.")
    thing = work.things[-1]
    words = _THINGS[thing.what]
    return words[min(len(thing.points), len(words) - 1)]


def asks_of_proposal(openings: tuple[int, int]) -> str:
    """Ask whether the mesh was found where it is."""
    words = _("Is each corner on a crossing, {across} × {along} openings apart?")
    return words.format(across=openings[0], along=openings[1])


def yardstick_words(by: Yardstick) -> tuple[str, str]:
    """Name something to measure by, and its size."""
    size = _size(by.across_mm, by.along_mm)
    if by.kind == "mesh":
        return _("Mesh"), _("pitch {size}").format(size=size)
    return (_("Plate") if by.kind == "plate" else _("Printed target")), size


def frame_words(work: OnPhoto) -> str:
    """Name the frame on the photo."""
    name, size = yardstick_words(work.by)
    if work.by.kind != "mesh":
        return f"{name} {size}"
    across, along = work.openings
    return _("{across} × {along} openings").format(across=across, along=along)


def shapes_of(work: OnPhoto | None, found: Measurement | None) -> tuple[Shape, ...]:
    """Draw what was tapped, with the results that there are."""
    if work is None:
        return ()
    results = list(found.results) if found else []
    named = frame_words(work) if work.is_framed else ""
    things = []
    for thing in work.things:
        result = results.pop(0) if thing.is_whole and results else None
        words = result_words(result) if result else ""
        things.append(Tapping(thing.what, thing.points, words))
    return shapes_of_taps(work.corners, named, things)


def said(result: MeasuredOnPhoto) -> str:
    """Say a result with its name."""
    return f"{NAMES[result.what]}: {result_words(result)}"


def cautions(found: Measurement) -> str:
    """Say what to mind, each once."""
    return "\n".join(dict.fromkeys(_cautions(found)))


def _cautions(found: Measurement) -> Iterator[str]:
    for words in (*found.warnings, *(it for one in found.results for it in one.warnings)):
        yield _("Mind: {caution}.").format(caution=_(words))
    if found.focal_length == "assumed":
        yield _("The camera does not tell its lens: a usual one is assumed.")


def _size(across: Decimal, along: Decimal) -> str:
    if across == along:
        return f"{across} mm"
    return f"{across} × {along} mm"
