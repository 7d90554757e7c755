"""Measuring on a photo: a frame, then lengths and areas by it, each with how sure it is."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import partial
from typing import Any, Final

from kivy.clock import Clock
from kivy.properties import BooleanProperty, ObjectProperty, StringProperty

from fieldapp.report.photo_shapes import At, result_words
from fieldapp.ui import theme
from fieldapp.ui.photo.frame_asking import ask_by_what, ask_openings, find_mesh, proposed_by
from fieldapp.ui.photo.measure_words import (
    NAMES,
    WHATS,
    asks,
    asks_of_proposal,
    cautions,
    said,
    shapes_of,
)
from fieldapp.ui.photo.photo_view import LOUPE, PhotoView
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.words import Words
from fieldapp.work.known import Known
from fieldapp.work.photo.file import PhotoSeen
from fieldapp.work.photo.frames_known import Yardstick, yardsticks
from fieldapp.work.photo.framing import Framed
from fieldapp.work.photo.measured import keep_measured, measured_now, measured_on
from fieldapp.work.photo.taps import OnPhoto, doubt_px, gone_on_with
from schemas.bodies.photo import Photo
from schemas.taps import MeasuredOnPhoto, Measurement, What
from schemas.trouble import Trouble

__all__ = ["Key", "MeasureSheet", "PhotoView", "Words"]

NOTHING_YET: Final = _("Nothing is measured here yet.")
MEASURED_BEFORE: Final = _("Measured here before.")
KEEPS_AFTER_S: Final = 0.6
"""What stays as it is for so long is kept: nudging a place is one correction, not ten."""


@dataclass(frozen=True)
class OpenPhoto:
    """A kept photo that lies on the glass."""

    photo: Known[Photo]
    seen: PhotoSeen
    texture: Any


class MeasureSheet(Sheet):
    """Takes taps on a photo, shows what they come to, and keeps it."""

    texture: Any = ObjectProperty(None, allownone=True)
    shapes = ObjectProperty(())
    asked = StringProperty()
    newest = StringProperty()
    others = StringProperty()
    minded = StringProperty()
    frame_title = StringProperty()
    frame_second = StringProperty()
    use_title = StringProperty()
    use_second = StringProperty()
    what_second = StringProperty()
    can_undo = BooleanProperty(False)
    is_framed = BooleanProperty(False)
    wide = BooleanProperty(True)

    def __init__(
        self,
        shell: Any,
        photo: OpenPhoto,
        on_measured: Callable[[str, Decimal, Decimal], None] | None = None,
        quantity: What | None = None,
    ) -> None:
        super().__init__(place="full", title=_("Measure on the photo"), texture=photo.texture)
        self.note = NOTHING_YET
        self._shell, self._photo, self._seen = shell, photo.photo, photo.seen
        self._on_measured, self._quantity = on_measured, quantity
        self._work: OnPhoto | None = None
        self._proposed: OnPhoto | None = None
        """Mesh that was found by itself: it counts once somebody has looked at it."""
        self._before: list[OnPhoto | None] = []
        self._found: Measurement | None = None
        self._by: tuple[Yardstick, ...] = ()
        self._keep_soon = Clock.create_trigger(self._keep, KEEPS_AFTER_S)
        site = shell.site
        job = partial(_known, site, photo.photo.id)
        shell.do(job, then=self._opened)

    def on_kv_post(self, _base: object) -> None:
        # Inside its own look the ids are not there before this.
        self.fbind("wide", self._place_nudges)
        self._place_nudges()

    def _place_nudges(self, *_args: object) -> None:
        """Put the keys that nudge beside the photo's own on an upright tablet."""
        nudges, place = (
            self.ids.nudges.__self__,  # ids hold weakly
            self.ids.side if self.wide else self.ids.photo.ids.row_of_keys,
        )
        if nudges.parent is not place:
            nudges.parent.remove_widget(nudges)
            place.add_widget(nudges)

    # --- what is touched --------------------------------------------------------------------

    def choose_frame(self) -> None:
        """Ask by what is measured; or have the mesh that was found tapped by hand."""
        if self._proposed is not None:
            self._begin(self._proposed.by)
            return
        ask_by_what(self._shell, self._by, begin=self._begin, find=self._find)

    def choose_what(self) -> None:
        """Ask what to measure, unless one thing is wanted."""
        if self._quantity is not None:
            self._measure(self._quantity)
            return
        sheet = KeySheet(_("What is measured?"))
        for what, name, second in WHATS:
            sheet.offer(name, partial(self._measure, what), second)
        sheet.open()

    def tapped(self, at: At) -> None:
        """Take a place on the photo, unless what lies on it is still asked about."""
        if self._proposed is not None:
            return
        if self._work is None:
            self.choose_frame()
            return
        shown = self.ids.photo.wide_px / self._seen.facts.width_px
        now = self._work.tapped(at, doubt_px(shown, theme.PX_PER_MM, LOUPE))
        framed_now = now.is_framed and not self._work.is_framed
        self._go(now)
        if framed_now and now.by.kind == "mesh":
            ask_openings(self._shell, self._set_openings)

    def nudge(self, right: int, down: int) -> None:
        """Move the last place by the least that is seen on the glass."""
        if self._work is not None and self._proposed is None:
            step = max(1.0, self._seen.facts.width_px / self.ids.photo.wide_px)
            self._go(self._work.nudged(right * step, down * step))

    def undo(self) -> None:
        """Take the last touch back."""
        if self._proposed is not None:
            self._proposed = None
            self._show()
        elif self._before:
            self._work = self._before.pop()
            self._changed()

    def use(self) -> None:
        """Hand the newest result to whoever asked for it, and go; or take the mesh as found."""
        if self._proposed is not None:
            self._go(self._proposed)
            self.choose_what()
            return
        result = self._newest()
        self.close()
        if result is not None and self._on_measured is not None:
            value, plus_minus = Decimal(result.value), Decimal(result.plus_minus)
            self._on_measured(result.what, value, plus_minus)

    def on_closed(self) -> None:
        if self._keep_soon.is_triggered:
            self._keep_soon.cancel()
            self._keep()
        self.texture = None

    # --- the frame --------------------------------------------------------------------------

    def _opened(self, known: "tuple[tuple[Yardstick, ...], Any]") -> None:
        self._by, measured = known
        if measured is not None:
            self.note = MEASURED_BEFORE
            self._work = gone_on_with(self._seen.facts, measured.body)
            self._changed(keep=False)
        else:
            self._show()
            self.choose_frame()

    def _begin(self, by: Yardstick) -> None:
        self._go(OnPhoto(self._seen.facts, by))

    def _find(self, by: Yardstick) -> None:
        self.note = _("The mesh is being looked for.")
        find_mesh(self._shell, self._photo.body, by, self._propose, self._not_found)

    def _not_found(self, trouble: Trouble) -> None:
        self.note = NOTHING_YET
        self._shell.say(trouble)

    def _propose(self, by: Yardstick, found: Framed) -> None:
        self.note = NOTHING_YET
        if self.parent is not None:
            self._proposed = proposed_by(found, by, self._seen.facts)
            self._show()

    def _set_openings(self, openings: tuple[int, int]) -> None:
        if self._work is not None:
            self._work = replace(self._work, openings=openings)
            self._changed()
            self.choose_what()

    # --- inside -----------------------------------------------------------------------------

    def _measure(self, what: What) -> None:
        if self._work is not None:
            self._go(self._work.begun(what))

    def _go(self, work: OnPhoto) -> None:
        self._proposed = None
        if work == self._work:
            self._show()
            return
        self._before.append(self._work)
        self._work = work
        self._changed()

    def _changed(self, *, keep: bool = True) -> None:
        self._found = None
        work = self._work
        if work is not None and work.taps() is not None:
            job = partial(measured_now, work)
            self._shell.do(job, then=partial(self._take, work), on_trouble=self._refused)
        if keep:
            self._keep_soon()
        self.minded = ""
        self._show()

    def _take(self, work: OnPhoto, found: Measurement | None) -> None:
        if work is self._work:
            self._found = found
            self.minded = cautions(found) if found else ""
            self._show()

    def _refused(self, trouble: Trouble) -> None:
        self._keep_soon.cancel()
        self.minded = trouble.sentences()[0]

    def _keep(self, *_args: object) -> None:
        if self._work is None or self._shell.session is None:
            return
        shell = self._shell
        job = partial(keep_measured, shell.site, self._photo.id, self._work, shell.session)
        shell.do(job, then=self._kept)

    def _kept(self, known: object) -> None:
        words = _("on this tablet {time}").format(time=self._shell.clock_words())
        self.note = words if known is not None else NOTHING_YET

    def _newest(self) -> MeasuredOnPhoto | None:
        results = self._found.results if self._found else ()
        wanted = (it for it in reversed(results) if self._quantity in (None, it.what))
        return next(wanted, None)

    def _show(self) -> None:
        work, newest = self._work, self._newest()
        self.asked = asks(work)
        self.is_framed = work is not None and work.is_framed
        self.can_undo = bool(self._before)
        self.frame_title, self.frame_second = _("Frame"), _("known size")
        self.shapes = shapes_of(work, self._found)
        self.newest = said(newest) if newest else ""
        before = [it for it in self._found.results if it != newest] if self._found else []
        self.others = "\n".join(said(it) for it in before[-2:])
        self.what_second = NAMES[work.things[-1].what] if work and work.things else ""
        self.use_title, self.use_second = _("Done"), ""
        if newest is not None and self._on_measured is not None:
            self.use_title = _("Use it")
            self.use_second = result_words(newest)
        if self._proposed is not None:
            self._show_proposed(self._proposed)

    def _show_proposed(self, proposed: OnPhoto) -> None:
        """Let all of the photo be seen while it is asked whether the mesh lies there."""
        self.ids.photo.show_all()
        self.asked = asks_of_proposal(proposed.openings)
        self.newest = self.others = self.minded = ""
        self.shapes = shapes_of(proposed, None)
        self.is_framed, self.can_undo = False, True
        self.frame_title, self.frame_second = _("No"), _("I tap it myself")
        self.use_title, self.use_second = _("Yes"), _("measure by it")


def _known(site: Any, photo_id: str) -> "tuple[tuple[Yardstick, ...], Any]":
    return yardsticks(site), measured_on(site, photo_id)
