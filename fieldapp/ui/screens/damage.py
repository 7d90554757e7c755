"""The Damage screen: where it is on the unrolled drive, one question at a time, what it comes to.

Every touch is on the disk before it shows; nothing counts before it is kept. The priority, the
due date and what entry will be stand there before that.
"""

from decimal import Decimal
from functools import partial
from typing import Any

from kivy.properties import BooleanProperty, ObjectProperty, StringProperty

from fieldapp.report.words.damage import extent_words
from fieldapp.ui.damage_work import (
    NOT_YET,
    DamagePage,
    RankWords,
    damage_page,
    opened_damage,
)
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.panels.cards_panel import CardsPanel
from fieldapp.ui.photo.photo_sheet import PhotoSheet
from fieldapp.ui.touch_by_touch import TouchByTouch
from fieldapp.ui.translate import _
from fieldapp.ui.typing_answers import touched_at
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.drive_map import DriveMap
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.question_panel import QuestionPanel
from fieldapp.ui.widgets.rank_card import RankCard
from fieldapp.work.asked import Choice
from fieldapp.work.damage.draft import (
    DamageWork,
    keep_damage,
    keep_damage_touch,
    let_go,
    undo_damage,
)
from fieldapp.work.damage.questions import measured_on_photo
from fieldapp.work.known import Known
from fieldapp.work.said_touches import SaidTouch
from schemas.bodies.damage import Damage, DamageExtent

__all__ = [
    "CautionLine",
    "DamageScreen",
    "DriveMap",
    "Header",
    "Key",
    "KeyRow",
    "QuestionPanel",
    "RankCard",
]


class DamageScreen(TouchByTouch, PairedScreen):
    """One observation of damage on its way to being kept."""

    page: DamagePage | None = ObjectProperty(None, allownone=True)
    heading_id = StringProperty()
    title = StringProperty()
    subtitle = StringProperty()
    rank: RankWords = ObjectProperty(NOT_YET, rebind=True)
    wide = BooleanProperty(True)
    busy = BooleanProperty(False)
    can_undo = BooleanProperty(False)
    can_keep = BooleanProperty(False)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._goes_back = False

    def opened(
        self,
        heading_id: str,
        again: str | None = None,
        corrects: str | None = None,
        draft_id: str | None = None,
    ) -> None:
        """Go on with what is being recorded here, or begin; see damage `again`; or put right.

        `draft_id` is what was begun on another screen, which comes back once it is kept.
        """
        self._goes_back = draft_id is not None
        self.heading_id, self.title, self.subtitle, self.page = heading_id, "", "", None
        self.busy, self.can_keep, self.can_undo, self.rank = False, False, False, NOT_YET
        self.ids.map.drawing, self.ids.map.selected = None, None
        self.ids.question.show(None)
        shell = self.shell
        seen = again, corrects
        job = partial(opened_damage, shell.site, heading_id, seen, shell.session, draft_id)
        shell.do(job, then=self._take, otherwise=shell.go_back)

    def refreshed(self) -> None:
        """Rank it again: what it comes to depends on the day."""
        if self.page is not None and not self.busy:
            self._send(lambda page: page.work)

    # --- one touch ----------------------------------------------------------------------------

    def answer(self, choice: Choice) -> None:
        """Give the answer that stands on a chip."""
        if choice.says:
            self._say(choice.says)
        elif self.page is not None and self.page.question is not None:
            CardsPanel(self.page.question, self.answer).open()

    def ground_touched(self, x_m: float, s_m: float) -> None:
        """Take a place that was touched on the drive."""
        zone = self.page.zone_at(s_m) if self.page else None
        if zone is not None:
            at = {"chainage_m": touched_at(x_m), "s_m": touched_at(s_m), "zone": str(zone)}
            self._say(at)

    def photos(self) -> None:
        """Take or choose photos of it; what is measured on one is a reading of its size."""
        if self.page is not None:
            title, of = _("Photos of this damage"), self.page.work.observation_id
            before = self.page.seen_before
            measured = self._measured
            sheet = PhotoSheet(
                self.shell, of, title=title, on_measured=measured, shown_before=before
            )
            sheet.open()

    def keep(self) -> None:
        """Keep it: it counts from then on."""
        page, shell = self.page, self.shell
        if self.busy or page is None or not page.can_keep:
            return
        self.busy = True
        job = partial(keep_damage, shell.site, page.work, shell.session)
        shell.do(job, then=self._kept, otherwise=self._not_kept)

    # --- inside -------------------------------------------------------------------------------

    def _touched(self, work: DamageWork, touch: SaidTouch) -> DamageWork:
        return keep_damage_touch(self.shell.site, work, touch)

    def _undone(self, work: DamageWork) -> DamageWork:
        return undo_damage(self.shell.site, work, self._by)

    def _let_go(self, work: DamageWork) -> None:
        let_go(self.shell.site, work)

    def _page_of(self, work: DamageWork) -> DamagePage:
        return damage_page(self.shell.site, work, self.shell.session)

    def _measured(self, quantity: str, value: Decimal, plus_minus: Decimal) -> None:
        says = measured_on_photo(quantity, value, plus_minus)
        self._say(says)
        read = DamageExtent.model_validate(says["extent"])
        told = extent_words(read, self.shell.site.settings.units)
        KeySheet(_("Taken over as its size"), told).open()

    def _kept(self, known: Known[Damage]) -> None:
        self.busy = False
        if self._goes_back:
            self.shell.go_back()
        else:
            self.shell.open("rehab_list", damage_id=known.body.again or known.id)

    def _take(self, page: DamagePage) -> None:
        if page.heading_id != self.heading_id:
            return
        self.busy, self.page = False, page
        again = page.work.said.get("again")
        self.title = page.name
        told = _("damage seen again") if again else _("record damage")
        told = _("correct damage") if page.work.about.corrects else told
        self.subtitle = ", ".join(filter(None, (told, page.where)))
        self.rank = page.rank
        self.can_undo = page.work.can_undo
        self.can_keep = page.can_keep
        done = _("Everything is answered: look at it once more, then keep it.")
        self.ids.question.show(page.question, done, page.told)
        moved = self._shows_other_ground(page)
        self.ids.map.drawing = page.drawing
        if page.place is not None and moved:
            self.ids.map.focus(*page.place, page.along_m)
        elif page.place is not None:
            self.ids.map.selected = page.place

    def _shows_other_ground(self, page: DamagePage) -> bool:
        before, now = self.ids.map.drawing, page.drawing
        return before is None or now is None or before.x_from_m != now.x_from_m
