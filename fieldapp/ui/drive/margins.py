"""What stands at the edges of the map and stays there while the ground moves."""

from collections.abc import Iterator

from kivy.graphics import InstructionGroup
from kivy.graphics.texture import Texture

from fieldapp.report.shapes import Drawing, RowFrame, ZoneBand
from fieldapp.ui import theme
from fieldapp.ui.drive.letters import word_texture
from fieldapp.ui.drive.meshes import add_words
from fieldapp.ui.drive.view import View
from fieldapp.ui.theme import look
from fieldapp.ui.translate import _

INSET = theme.mm(2.5)
"""Marks and frames reach so far beyond the ground that is fitted into the window."""
BESIDE = INSET + theme.mm(0.8)


def room_for_chainages(drawing: Drawing) -> float:
    """Give the width that the chainages take beside the ground; nothing where there are none."""
    widest = max((word_texture(tick.text).width for tick in drawing.ticks), default=0)
    return BESIDE - INSET + widest + theme.mm(1) if widest else 0


def room_for_grounds(drawing: Drawing) -> float:
    """Give the width that support classes beside row numbers take more than the numbers alone."""
    named = (row for row in drawing.rows if row.ground)
    wider = (
        word_texture(_row_words(row), bold=True).width - word_texture(_(row.label)).width
        for row in named
    )
    return max(wider, default=0)


class Margins:
    """Row numbers and the face at the left, zones above, chainages at the right."""

    def __init__(self, canvas: InstructionGroup) -> None:
        self._group = InstructionGroup()
        canvas.add(self._group)

    def write(self, drawing: Drawing, view: View, *, chainages: bool) -> None:
        """Write what belongs to the ground in sight; where words would touch, one gives way."""
        self._group.clear()
        self._rows(drawing, view)
        self._zones(drawing, view)
        if chainages:
            self._ticks(drawing, view)

    def _rows(self, drawing: Drawing, view: View) -> None:
        labels = [
            (row.x_m, _row_words(row), "lamp" if row.selected else "quiet", row.selected)
            for row in drawing.rows
        ]
        if drawing.face is not None and drawing.face.places:
            end = _("old") if drawing.face.over_old else _("face")
            labels.append((drawing.face.places[0][0], end, "text", True))
        # What matters most is written first, so that it is never the one that gives way.
        labels.sort(key=lambda label: not label[3])
        taken: list[float] = []
        for x_m, text, colour, bold in labels:
            y = view.pixel(x_m, 0)[1]
            if not self._free(y, view, taken):
                continue
            texture = word_texture(text, bold=bold)
            right = view.window.left - BESIDE - texture.width
            self._put(texture, (right, y - texture.height / 2), colour)

    def _ticks(self, drawing: Drawing, view: View) -> None:
        taken: list[float] = []
        for tick in drawing.ticks:
            y = view.pixel(tick.x_m, 0)[1]
            if self._free(y, view, taken):
                texture = word_texture(tick.text)
                right = view.window.left + view.window.width + BESIDE
                self._put(texture, (right, y - texture.height / 2), "quiet")

    def _zones(self, drawing: Drawing, view: View) -> None:
        bottom = view.window.bottom + view.window.height + INSET + theme.mm(0.3)
        for left, width, zone in _zones_in_sight(drawing, view):
            texture = _fitting(_(zone.name), width)
            if texture is not None:
                self._put(texture, (left + (width - texture.width) / 2, bottom), "quiet")

    def _free(self, y: float, view: View, taken: list[float]) -> bool:
        window, high = view.window, theme.LINE_HEIGHT
        inside = window.bottom + high / 4 <= y <= window.bottom + window.height - high / 4
        if not inside or any(abs(y - other) < high for other in taken):
            return False
        taken.append(y)
        return True

    def _put(self, texture: Texture, corner: tuple[float, float], colour: str) -> None:
        add_words(self._group, texture, corner, getattr(look, colour))


def _row_words(row: RowFrame) -> str:
    """Name a row; beside a change of ground with its support class."""
    return " ".join(filter(None, (row.ground, _(row.label))))


def _zones_in_sight(drawing: Drawing, view: View) -> Iterator[tuple[float, float, ZoneBand]]:
    window = view.window
    for zone in drawing.zones:
        left = max(view.pixel(0, zone.s_from_m)[0], window.left)
        right = min(view.pixel(0, zone.s_to_m)[0], window.left + window.width)
        if right > left:
            yield left, right - left, zone


def _fitting(name: str, width: float) -> Texture | None:
    """Give a zone's name on one line or on two, or nothing where neither fits."""
    for text in (name, name.replace(" ", "\n")):
        texture = word_texture(text)
        if texture.width + theme.mm(1) <= width:
            return texture
    return None
