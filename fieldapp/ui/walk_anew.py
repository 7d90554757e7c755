"""Going back to a section that was answered on this walk: it is answered anew, or stays."""

from collections.abc import Callable

from fieldapp.assess.walk import Section
from fieldapp.report.words.section import span_of
from fieldapp.ui.translate import _
from fieldapp.ui.walk_work import WalkPage
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.site import Site
from fieldapp.work.walk.section_work import Place


def ask_anew(site: Site, page: WalkPage, place: Place, then: Callable[[], None]) -> None:
    """Ask whether a section is to be answered anew; what was answered after it stays."""
    units = site.settings.units
    title = _("{where} is answered.").format(where=span_of(Section(*place), units))
    note = _("{answer}. Its photo, its note and damage that was recorded stay.")
    told = page.answer_of(place, units)
    sheet = KeySheet(title, note.format(answer=told[:1].upper() + told[1:]))
    sheet.offer(_("Answer it anew"), then, _("Undo brings this answer back"))
    sheet.open()
