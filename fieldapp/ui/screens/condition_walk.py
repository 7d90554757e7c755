"""The Condition walk: section by section along the drive, last time beside this time.

Most sections take one touch. Every touch is on the disk before it shows; nothing counts before
the walk is ended, and what is not answered stays due.
"""

from collections.abc import Callable, Sequence
from decimal import Decimal
from functools import partial
from typing import Any, Final

from kivy.properties import BooleanProperty, ListProperty, ObjectProperty, StringProperty

from fieldapp.report.words.findings import BETWEEN
from fieldapp.report.words.section import order_words
from fieldapp.report.words.walk import month_words
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.panels.cards_panel import CardsPanel
from fieldapp.ui.panels.lines_panel import Line, LinesPanel
from fieldapp.ui.panels.plan_panel import PlanPanel
from fieldapp.ui.photo.photo_cell import PhotoCell
from fieldapp.ui.translate import _
from fieldapp.ui.typing_answers import ask_other, touched_at
from fieldapp.ui.walk_anew import ask_anew
from fieldapp.ui.walk_ending import WalkEnding
from fieldapp.ui.walk_note import ask_note
from fieldapp.ui.walk_photos import WalkPhotos
from fieldapp.ui.walk_sample import WalkSample
from fieldapp.ui.walk_work import (
    WalkPage,
    begun_walk,
    known_lines,
    opened_walk,
    plan_lines,
    walk_page,
)
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.drive_map import DriveMap
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.question_panel import QuestionPanel
from fieldapp.ui.widgets.seen_card import SeenCard
from fieldapp.work.asked import CARDS, Asked, Choice
from fieldapp.work.walk.damage_on_the_spot import begin_damage_of_walk
from fieldapp.work.walk.draft import (
    SAMPLE,
    WalkWork,
    keep_walk_touch,
    touch_of,
    undo_walk,
)
from fieldapp.work.walk.section_work import ANEW, Place
from schemas.bodies.walk import LookedAt

__all__ = [
    "CautionLine",
    "ConditionWalkScreen",
    "DriveMap",
    "Header",
    "Key",
    "KeyRow",
    "PhotoCell",
    "QuestionPanel",
    "SeenCard",
]


CAUTION: Final = _("Look from supported ground only. A barricade outranks this screen.")


class ConditionWalkScreen(PairedScreen):
    """One outing along one heading, on its way to being kept."""

    page: WalkPage | None = ObjectProperty(None, allownone=True)
    heading_id = StringProperty()
    title = StringProperty()
    subtitle = StringProperty()
    last_title = StringProperty()
    last_told = ListProperty()
    this_title = StringProperty()
    this_told = ListProperty()
    closed = StringProperty()
    """That nobody goes there, and why: on a wide screen, which is low, in the caution's place."""
    caution = StringProperty(CAUTION)
    wide = BooleanProperty(True)
    busy = BooleanProperty(False)
    can_undo = BooleanProperty(False)
    can_end = BooleanProperty(False)
    can_note = BooleanProperty(False)
    takes_photo = BooleanProperty(False)
    """A photo is asked for: the old one stands where the drive was."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._photos = WalkPhotos(self.shell, self._photo_kept)
        self._ending = WalkEnding(self.shell, self._go_to)

    def opened(self, heading_id: str) -> None:
        """Go on with the walk that was begun here, or show the plan of the month."""
        self.heading_id, self.title, self.subtitle, self.page = heading_id, "", "", None
        self.closed = ""
        self.busy, self.can_undo, self.can_end, self.takes_photo = False, False, False, False
        self.can_note = False
        self.ids.map.drawing, self.ids.map.selected = None, None
        self.ids.question.show(None)
        self._photos.stop()
        shell = self.shell
        job = partial(opened_walk, shell.site, heading_id)
        shell.do(job, then=self._first, otherwise=shell.go_back)

    def on_closed(self, *_changed: Any) -> None:
        """Leave the drive its height."""
        self.caution = "" if self.closed and self.wide else CAUTION

    def on_wide(self, *_changed: Any) -> None:
        """Say both where there is room."""
        self.on_closed()

    def on_leave(self) -> None:
        """Look for no more photos once another screen is in sight."""
        self._photos.stop()

    # --- one touch ----------------------------------------------------------------------------

    def answer(self, choice: Choice) -> None:
        """Give the answer that stands on a chip, or go where it leads."""
        question = self.page.question if self.page else None
        if choice.says:
            self._say(choice.says)
        elif question is None:
            return
        elif choice is CARDS:
            CardsPanel(question, self.answer).open()
        elif question.key == "photo":
            self._photos.take_here()
        else:
            self._record_damage()

    def other_value(self, question: Asked) -> None:
        """Ask for a value that stands on no chip."""
        ask_other(self.shell, question, self._say)

    def ground_touched(self, x_m: float, s_m: float) -> None:
        """Take a place that was touched on the drive: something is new there."""
        page = self.page
        if page is not None and page.now is not None:
            says = page.touched(Decimal(touched_at(x_m)), Decimal(touched_at(s_m)))
            if says is not None:
                self._say(says)

    def show_last(self) -> None:
        """Show every line of what was seen last time, and of rust: the card has room for few."""
        page = self.page
        if page is not None:
            lines = partial(known_lines, self.shell.site, page)
            self.shell.do(lines, then=lambda told: self._show_seen(page, page.last.title, told))

    def show_this(self) -> None:
        """Show every line of what was said this time."""
        if self.page is not None:
            self._show_seen(self.page, self.page.this.title, self.page.this.lines)

    def undo(self) -> None:
        """Take the last touch back."""
        by = self.shell.session.person_id if self.shell.session else None
        self._send(lambda work: undo_walk(self.shell.site, work, by))

    def show_plan(self) -> None:
        """Show what is due this month, the late sections first."""
        if self.page is not None:
            lines = partial(plan_lines, self.shell.site, self.page)
            self.shell.do(lines, then=self._show_plan)

    def sample(self) -> None:
        """Tell what came of the bolts and bays that were drawn to be looked at."""
        page, shell = self.page, self.shell
        if page is not None and page.work is not None:
            told = page.work.looked_at
            WalkSample(shell, page.plan.looked_at, self._sampled).ask(told)

    def note(self) -> None:
        """Note something about the section at hand, in a phrase or in letters."""
        page, place = self.page, self._place
        if page is not None and page.work is not None and place is not None:
            ask_note(page.where, page.work.section(place).said.get("note", ""), self._say)

    def end(self) -> None:
        """Say what ending comes to, and ask whether to."""
        if self.page is not None and not self.busy:
            self._ending.ask(self.page)

    def no_entry(self) -> None:
        """State no entry at once; the next touch confirms."""
        self.shell.no_entry(heading_id=self.heading_id, from_m=self._here_m)

    # --- inside -------------------------------------------------------------------------------

    @property
    def _place(self) -> Place | None:
        at = self.page.now.at if self.page and self.page.now else None
        return (at.section.from_m, at.section.to_m) if at else None

    @property
    def _here_m(self) -> Decimal | None:
        place = self._place
        return place[0] if place else None

    def _show_seen(self, page: WalkPage, title: str, lines: Sequence[str]) -> None:
        on_the_drive = _("{n} on the drive")
        told = [Line("", it) for it in lines]
        told += [Line(on_the_drive.format(n=n), it) for n, it in page.on_the_drive]
        LinesPanel(title, page.where, told).open()

    def _say(self, says: dict[str, Any]) -> None:
        self._say_of(self._place, says)

    def _say_of(self, place: Place | None, says: dict[str, Any]) -> None:
        shell = self.shell
        touch = touch_of(shell.site, shell.session, place, says)
        self._send(lambda work: keep_walk_touch(shell.site, work, touch))

    def _sampled(self, told: LookedAt) -> None:
        shell = self.shell
        touch = touch_of(shell.site, shell.session, None, {SAMPLE: told.model_dump(mode="json")})
        self._send(lambda work: keep_walk_touch(shell.site, work, touch))

    def _send(self, step: Callable[[WalkWork], WalkWork]) -> None:
        page, shell = self.page, self.shell
        if self.busy or page is None or page.work is None:
            return
        self.busy, work, plan = True, page.work, page.plan
        shell.do(
            lambda: walk_page(shell.site, step(work), plan),
            then=self._take,
            otherwise=self._not_kept,
        )

    def _not_kept(self) -> None:
        self.busy = False

    def _record_damage(self) -> None:
        page, shell, place = self.page, self.shell, self._place
        if self.busy or page is None or page.now is None or place is None:
            return
        self.busy = True
        job = partial(begin_damage_of_walk, shell.site, page.now, shell.session)
        shell.do(job, then=self._to_damage, otherwise=self._not_kept)

    def _to_damage(self, damage_id: str) -> None:
        self.busy = False
        self.shell.open("damage", heading_id=self.heading_id, draft_id=damage_id)

    def _photo_kept(self, photo_id: str) -> None:
        self._say({"photo": photo_id})

    def _show_plan(self, lines: Any) -> None:
        page = self.page
        if page is None:
            return
        begins = page.work is None
        month = month_words(page.plan.month)
        title = _("Plan of {month}: {heading}").format(month=month, heading=page.name)
        note = _("{n} sections are due. Late ones stand first; they are walked along the drive.")
        order = order_words(page.plan)
        if order:
            note = f"{_('{n} sections are due')}; {order}."
        note = " ".join(filter(None, (note, page.plan_closed)))
        go = _("Begin the walk") if begins else _("Go on")
        then = self._begin if begins else self._go_to
        left = self.shell.go_back if begins else _stay
        PlanPanel(title, note.format(n=len(lines)), lines, go, then, left).open()

    def _begin(self, place: Place | None) -> None:
        page, shell = self.page, self.shell
        if page is None:
            return
        self.busy = True
        job = partial(begun_walk, shell.site, page.plan, place, shell.session)
        shell.do(job, then=self._take, otherwise=self._could_not_begin)

    def _could_not_begin(self) -> None:
        self.busy = False
        self.shell.go_back()

    def _go_to(self, place: Place | None) -> None:
        page = self.page
        if place is None or page is None:
            return
        if page.is_answered(place):
            ask_anew(self.shell.site, page, place, lambda: self._say_of(place, {ANEW: True}))
        else:
            self._say_of(place, {})

    def _first(self, page: WalkPage) -> None:
        if page.heading_id == self.heading_id:
            self._take(page)
            if page.work is None:
                self.show_plan()

    def _take(self, page: WalkPage) -> None:
        if page.heading_id != self.heading_id:
            return
        self.busy, self.page = False, page
        self.title, self.closed = page.name, page.closed
        self.subtitle = BETWEEN.join(filter(None, (page.where, page.progress)))
        self.last_title, self.last_told = page.last.title, page.last.fitting
        self.this_title, self.this_told = page.this.title, page.this.fitting
        self.can_undo = page.work is not None and page.work.can_undo
        self.can_end = page.work is not None
        self.can_note = self._place is not None
        done = _("Every section of the plan is answered."), _("End the walk: then it counts.")
        not_begun = _("The walk is not begun yet."), _("The plan leads to it.")
        self.ids.question.show(page.question, *(done if page.work else not_begun))
        self.ids.map.drawing = page.drawing
        self._show_photo(page)

    def _show_photo(self, page: WalkPage) -> None:
        self.takes_photo = page.question is not None and page.question.key == "photo"
        if self.takes_photo and page.now is not None:
            self._photos.wait(page.now, self.ids.old_photo)
        else:
            self._photos.stop()


def _stay() -> None:
    """Go on with the section at hand."""
