"""By what is measured on a photo: what people are asked, and mesh that is found by itself."""

from collections.abc import Callable, Sequence
from decimal import Decimal
from functools import partial
from typing import Any

from fieldapp.ui.photo.measure_words import yardstick_words
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.photo.file import PhotoFacts
from fieldapp.work.photo.frames_known import Yardstick
from fieldapp.work.photo.framing import Framed, framed
from fieldapp.work.photo.photographs import photo_path
from fieldapp.work.photo.taps import OnPhoto
from schemas.bodies.photo import Photo
from schemas.trouble import Trouble

With = Callable[[Yardstick], None]


def ask_by_what(shell: Any, known: Sequence[Yardstick], *, begin: With, find: With) -> None:
    """Ask what in the photo has a known size; mesh can be tapped, or found by itself."""
    sheet = KeySheet(_("What in the photo has a known size?"))
    for by in known:
        name, size = yardstick_words(by)
        if by.kind == "mesh":
            sheet.offer(_("Find the mesh"), partial(find, by), size)
        sheet.offer(name, partial(begin, by), size)
    sheet.offer(_("Other mesh"), partial(_ask_size, shell, "mesh", begin), _("type its pitch"))
    sheet.offer(_("Other plate"), partial(_ask_size, shell, "plate", begin), _("type its edge"))
    sheet.open()


def ask_openings(shell: Any, then: Callable[[tuple[int, int]], None]) -> None:
    """Ask how many openings lie between the corners of a frame on mesh, both ways."""

    def ask_along(across: int) -> None:
        question = _("How many openings from the second corner to the third?")
        _ask_count(shell, question, lambda along: then((across, along)))

    _ask_count(shell, _("How many openings from the first corner to the second?"), ask_along)


def find_mesh(
    shell: Any,
    photo: Photo,
    by: Yardstick,
    found: Callable[[Yardstick, Framed], None],
    not_found: Callable[[Trouble], None],
) -> None:
    """Look for the mesh in a photo, beside the screen."""
    job = partial(framed, photo_path(shell.site, photo), by.across_mm, by.along_mm)
    shell.do(job, then=partial(found, by), on_trouble=not_found, lane="long")


def proposed_by(found: Framed, by: Yardstick, facts: PhotoFacts) -> OnPhoto:
    """Give the frame that was found, as if somebody had tapped its corners."""
    frame = found.frame
    corners = tuple(
        (float(x) / facts.width_px, float(y) / facts.height_px) for x, y in frame.corners_px
    )
    openings = (frame.openings_across, frame.openings_along)
    return OnPhoto(facts, by, corners=corners, openings=openings)


def _ask_size(shell: Any, kind: Any, begin: With) -> None:
    pitch, edge = _("Mesh: from wire centre to wire centre?"), _("Plate: how long is its edge?")
    shell.ask_number(
        pitch if kind == "mesh" else edge,
        lambda typed: begin(Yardstick(kind, Decimal(typed), Decimal(typed))),
        unit="mm",
        limit=_("5 to 1000"),
        smallest="5",
        largest="1000",
        decimals=0,
    )


def _ask_count(shell: Any, question: str, then: Callable[[int], None]) -> None:
    shell.ask_number(
        question,
        lambda typed: then(int(typed)),
        unit=_("openings"),
        limit=_("1 to 50"),
        smallest="1",
        largest="50",
        decimals=0,
    )
