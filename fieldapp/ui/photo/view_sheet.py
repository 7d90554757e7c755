"""One photo: looked at, made lighter for the eye, drawn over. Each mark is kept at once."""

from collections.abc import Callable
from functools import partial
from typing import Any, Final
from zoneinfo import ZoneInfo

from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty, StringProperty

from fieldapp.report.photo_shapes import At, shapes_of_marks, shapes_of_measurement
from fieldapp.report.words.findings import when
from fieldapp.ui.panels.letters_panel import LettersPanel
from fieldapp.ui.photo.measure_sheet import MeasureSheet, OpenPhoto
from fieldapp.ui.photo.photo_view import PhotoView
from fieldapp.ui.photo.textures import EDGE_PX, let_go, show, texture_of
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.work.known import Known
from fieldapp.work.photo.before import taken_at
from fieldapp.work.photo.file import PhotoSeen, photo_seen
from fieldapp.work.photo.light import stretched
from fieldapp.work.photo.marks import add_mark, marks_on, outline, spot, undo_mark
from fieldapp.work.photo.measured import measured_on
from fieldapp.work.photo.photographs import photo_path
from schemas.bodies.photo import Photo
from schemas.bodies.photo_marks import Arrow, Mark, Ring, Words
from schemas.taps import What

__all__ = ["Key", "PhotoView", "ViewSheet"]

IDLE: Final = _("One finger moves it; two, or + and −, make it larger.")
LONGEST: Final = 40
"""Letters that stand beside something without covering the photo."""
PHRASES: Final = (
    _("torn"),
    _("bagged"),
    _("rusted"),
    _("plate loose"),
    _("plate gone"),
    _("bolt broken"),
    _("drummy"),
    _("cracked"),
    _("lap open"),
    _("water"),
    _("look here"),
    _("repaired"),
)
"""What is written beside something on a photo, picked: a glove types badly."""


class ViewSheet(Sheet):
    """Shows a kept photo. What is drawn is data over it; the photo itself is never changed."""

    texture: Any = ObjectProperty(None, allownone=True)
    shapes = ObjectProperty(())
    tool = StringProperty("look")
    lighter = BooleanProperty(False)
    drawn = NumericProperty(0)
    """How many marks stand."""

    def __init__(
        self,
        shell: Any,
        photo: Known[Photo],
        on_measured: Callable[..., None] | None = None,
        quantity: What | None = None,
    ) -> None:
        time = when(taken_at(photo), ZoneInfo(shell.site.settings.zone))
        title = _("Photo of {time}") if photo.body.taken_at else _("Photo, kept {time}")
        super().__init__(place="full", title=title.format(time=time), note=_("it is being opened"))
        self._shell, self._photo = shell, photo
        self._on_measured, self._quantity = on_measured, quantity
        self._seen: PhotoSeen | None = None
        self._marks: tuple[Mark, ...] = ()
        self._take_place: Callable[[tuple[At, ...]], Mark | None] | None = None
        job = partial(photo_seen, photo_path(shell.site, photo.body), EDGE_PX)
        shell.do(job, then=self._opened, otherwise=self.close, lane="long")

    # --- what is touched --------------------------------------------------------------------

    def turn_light(self) -> None:
        """Show it lighter, or as it was taken."""
        if self._seen is not None:
            self.lighter = not self.lighter
            picture = self._seen.picture
            job = partial(stretched, picture) if self.lighter else lambda: picture
            self._shell.do(job, then=self._show_picture, lane="long")

    def draw(self) -> None:
        """Ask what to draw."""
        if self.texture is None:
            return
        sheet = KeySheet(_("What is drawn over the photo?"))
        sheet.offer(_("Arrow"), partial(self._take, "draw", _arrow, _("Drag to what it shows.")))
        around = _("Drag from the middle of it outwards.")
        sheet.offer(_("Ring"), partial(self._take, "draw", _ring, around))
        sheet.offer(_("Outline"), partial(self._take, "draw", outline, _("Go round it.")))
        sheet.offer(_("Words"), partial(self._take, "tap", None, _("Tap where they belong.")))
        sheet.open()

    def undo(self) -> None:
        """Take the last mark away."""
        if self.drawn:
            self._send(partial(undo_mark, self._shell.site, self._photo.id, self._shell.session))

    def measure(self) -> None:
        """Measure on it."""
        if self._seen is not None:
            opened = OpenPhoto(self._photo, self._seen, self.texture)
            use = self._use if self._on_measured is not None else None
            sheet = MeasureSheet(self._shell, opened, use, self._quantity)
            sheet.bind(on_closed=lambda *_args: self._look_again())
            sheet.open()

    def placed(self, path: tuple[At, ...]) -> None:
        """Take what a finger did on the photo."""
        if self._take_place is not None:
            mark = self._take_place(path)
            if mark is not None:
                self._keep(mark)
        else:
            sheet = KeySheet(_("Which words?"))
            for words in PHRASES:
                sheet.offer(words, partial(self._write, path[0], words))
            sheet.offer(_("Other words"), partial(self._type, path[0]), _("type them"))
            sheet.open()

    def on_closed(self) -> None:
        self.texture, self._seen = None, None
        let_go()

    def _use(self, *measured: Any) -> None:
        self.close()
        if self._on_measured is not None:
            self._on_measured(*measured)

    # --- inside -----------------------------------------------------------------------------

    def _opened(self, seen: PhotoSeen) -> None:
        self._seen, self.note = seen, IDLE
        self.texture = texture_of(seen.picture)
        self._look_again()

    def _show_picture(self, picture: Any) -> None:
        if self.texture is not None:
            show(picture, self.texture)
            self.ids.photo.canvas.ask_update()

    def _take(self, tool: str, give: Any, note: str) -> None:
        self.tool, self._take_place, self.note = tool, give, note

    def _type(self, at: At) -> None:
        LettersPanel(_("Which words?"), partial(self._write, at), longest=LONGEST).open()

    def _write(self, at: At, words: str) -> None:
        self._keep(Words(kind="words", at=spot(at), text=words))

    def _keep(self, mark: Mark) -> None:
        shell = self._shell
        self._send(partial(add_mark, shell.site, self._photo.id, mark, shell.session))

    def _send(self, job: Callable[[], tuple[Mark, ...]]) -> None:
        self.tool, self._take_place, self.note = "look", None, IDLE
        self._shell.do(job, then=self._take_marks)

    def _look_again(self) -> None:
        site, photo_id = self._shell.site, self._photo.id
        self._shell.do(
            lambda: (marks_on(site, photo_id), measured_on(site, photo_id)),
            then=lambda found: self._take_marks(*found),
        )

    def _take_marks(self, marks: tuple[Mark, ...], measured: Any = None) -> None:
        if self._seen is None:
            return
        self._measured = measured or getattr(self, "_measured", None)
        self._marks, self.drawn = marks, len(marks)
        shapes = shapes_of_marks(marks, self.ids.photo.aspect)
        if self._measured is not None:
            body, facts = self._measured.body, self._seen.facts
            size = (facts.width_px, facts.height_px)
            shapes = (*shapes_of_measurement(body.taps, body.found.results, size), *shapes)
        self.shapes = shapes


def _arrow(path: tuple[At, ...]) -> Mark | None:
    return Arrow(kind="arrow", from_spot=spot(path[0]), to_spot=spot(path[-1]))


def _ring(path: tuple[At, ...]) -> Mark | None:
    return Ring(kind="ring", centre=spot(path[0]), rim=spot(path[-1]))
