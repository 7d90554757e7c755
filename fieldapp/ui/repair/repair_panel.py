"""One line of the rehab list over the whole glass: what was seen, and what is done about it."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

from kivy.properties import ListProperty, ObjectProperty, StringProperty

from fieldapp.report.label.printed import write_label
from fieldapp.report.words.lengths import chainage_words
from fieldapp.ui import theme
from fieldapp.ui.damage_work import RankWords
from fieldapp.ui.long_paths import path_words
from fieldapp.ui.photo.before_after_sheet import BeforeAfterSheet
from fieldapp.ui.photo.photo_sheet import PhotoSheet
from fieldapp.ui.rehab_work import CORRECT, Act, Observed, RehabLine
from fieldapp.ui.repair.repairing import Repairing
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.rank_card import RankCard
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.stated_row import StatedRow
from fieldapp.work.damage.stating import DamageKnown
from fieldapp.work.rehab.before_after import Sides, sides_of
from schemas.bodies.rehab import Rehab

__all__ = ["Key", "PagedList", "RankCard", "RepairPanel", "StatedRow"]


KEY_WIDTH = theme.mm(24)
"""Seven keys stand in one line of a wide glass: a second one would take the facts' room."""
SHOWN_AT_ONCE = 5
"""Observations on keys: with the way to older ones they stand in two lines, held either way."""
NO_ENTRY_SHARE = 0.75
"""Beside six others it is no narrower than a main key is to be."""


class RepairPanel(Sheet):
    """Shows a repair or a damage. A key that a person may not touch says so by being dark."""

    rank: RankWords = ObjectProperty(RankWords(), rebind=True)
    facts = ListProperty()
    make_row: Any = ObjectProperty(None, allownone=True)
    bears = StringProperty()

    def __init__(self, shell: Any, line: RehabLine) -> None:
        super().__init__(place="full", title=line.title, note=line.detail, make_row=_fact)
        self._shell, self._line = shell, line
        self.ids.key_row.least_width = KEY_WIDTH
        self._no_entry.size_hint_x = NO_ENTRY_SHARE
        self.rank = line.rank
        ordered = [_(line.order_of_work)] if line.order_of_work else []
        self.facts = [*line.done, *ordered, *line.seen, *line.rank.reasons]
        bears = _("on its label {code}").format(code=line.called)
        self.bears = ", ".join(filter(None, (line.rank.title, bears)))
        for act in line.acts(shell.session):
            self._offer(act)
        self._add(_("Photos"), self._photos)
        if line.row.damages:
            self._add(_("Seen again"), self._see_again)
            self._add(_("More"), self._more)
        self._add(_("Return"), lambda: None)

    def _offer(self, act: Act) -> None:
        repairing = Repairing(self._shell, self._line)
        key = self._add(act.title, partial(repairing.ask, act.name))
        key.second = self._line.why_not(act, self._shell.session)
        key.disabled = bool(key.second)
        main = act is self._line.acts(self._shell.session)[0] and not key.disabled
        key.role = "main" if main else "ordinary"

    def _add(self, title: str, then: Callable[[], object]) -> Key:
        key = Key(title=title, tall=True)
        key.bind(on_release=lambda *_args: self._go(then))
        self.add_widget(key)
        return key

    def _go(self, then: Callable[[], object]) -> None:
        self.close()
        then()

    def _photos(self) -> None:
        """Show its photos; of a repair, the damage's own from before it too."""
        row = self._line.row
        if row.rehab is None or not row.damages:
            self._photos_of(*(row.damages[0].observations if row.damages else (row.id,)))
            return
        look = partial(sides_of, self._shell.site, row.id, row.rehab)
        self._shell.do(look, then=partial(self._ask_photos, row.rehab))

    def _ask_photos(self, rehab: Rehab, sides: Sides) -> None:
        row = self._line.row
        sheet = KeySheet(_("Photos: of what?"), self._line.title)
        if sides.are_both:
            sheet.offer(
                _("Before and after"),
                lambda: BeforeAfterSheet(self._shell, row.id, rehab).open(),
                _("beside each other"),
            )
        for it in row.damages:
            sheet.offer(
                _("Before"), partial(self._photos_of, *it.observations), self._place_of(it)
            )
        after = partial(self._photos_of, row.id, shown_before=row.seen)
        sheet.offer(_("After"), after, _("of the repair"))
        sheet.open()

    def _photos_of(self, *things: str, shown_before: tuple[str, ...] = ()) -> None:
        title = self._line.title
        PhotoSheet(self._shell, *things, title=title, shown_before=shown_before).open()

    def _place_of(self, it: DamageKnown) -> str:
        units = self._shell.site.settings.units
        return f"{_(it.newest.kind)}, {chainage_words(it.newest.chainage_m, units)}"

    def _more(self) -> None:
        """Offer what is seldom done: putting an observation right, printing the label."""
        sheet = KeySheet(self._line.title, self.bears)
        why_not = self._line.why_not(CORRECT, self._shell.session)
        correct = sheet.offer(_("Correct"), self._correct, why_not or _("what was seen"))
        correct.disabled = bool(why_not) or not self._line.observed
        sheet.offer(_("Label"), self._print_label, _("to be printed"))
        sheet.open()

    def _print_label(self) -> None:
        write = partial(write_label, self._shell.site, self._line.row.damages[0].id)
        self._shell.do(write, then=self._tell_of_label, lane="long")

    def _tell_of_label(self, written: tuple[Path, Path]) -> None:
        page, picture = written
        note = _("{page} for a sheet of A4, {picture} for a roll 62 mm wide, in {folder}").format(
            page=page.name, picture=picture.name, folder=path_words(str(page.parent))
        )
        KeySheet(_("The label is ready to be printed"), note).open()

    def _see_again(self) -> None:
        row = self._line.row
        self._shell.open("damage", heading_id=row.heading_id, again=row.damages[0].id)

    def _correct(self) -> None:
        """Ask which observation is to be put right, where there is more than one."""
        first, *more = self._line.observed
        if more:
            self._ask_which(self._line.observed)
        else:
            self._open_correction(first.id)

    def _ask_which(self, observed: tuple[Observed, ...]) -> None:
        """Offer some of them, and the way to those before."""
        title = _("Which is to be put right?")
        sheet = KeySheet(title, self._line.title, holds_sentences=True)
        shown, older = observed[:SHOWN_AT_ONCE], observed[SHOWN_AT_ONCE:]
        for it in shown:
            sheet.offer(it.seen, partial(self._open_correction, it.id), it.told)
        if older:
            sheet.offer(_("Older ones"), partial(self._ask_which, older))
        sheet.open()

    def _open_correction(self, observation_id: str) -> None:
        heading_id = self._line.row.heading_id
        self._shell.open("damage", heading_id=heading_id, corrects=observation_id)


def _fact(words: str) -> StatedRow:
    return StatedRow(detail=words, role="row", height=theme.mm(20))
