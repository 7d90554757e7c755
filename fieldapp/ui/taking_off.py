"""The take-off of a heading's next round on the glass: its advance and lap can be changed."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.report.words.findings import BETWEEN
from fieldapp.report.words.lengths import limits_in_units
from fieldapp.report.words.take_off import (
    how_lines,
    much_words,
    plain,
    priced_words,
    thing_words,
    wanted_words,
)
from fieldapp.ui import theme
from fieldapp.ui.names import short
from fieldapp.ui.panels.heading_panel import HeadingPanel
from fieldapp.ui.panels.lines_panel import Line, LinesPanel
from fieldapp.ui.translate import _, counted
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.headings import headings
from fieldapp.work.site import Site
from fieldapp.work.take_off import NextTakeOff, next_take_off

if TYPE_CHECKING:
    from fieldapp.ui.shell import Shell

MOST_ROWS = 6
ROW_HEIGHT = theme.mm(17)
LAPS_MORE_MM = (0, 50, 100, 200)
LONGEST_M, WIDEST_MM = "20", "1500"


@dataclass(frozen=True)
class HeadingChoice:
    """A heading on the keys that ask for one."""

    name: str
    entry: str
    heading_id: str


@dataclass(frozen=True)
class TakingOff:
    """Asks for a heading where none is known, then shows what its next round takes."""

    shell: "Shell"
    heading_id: str = ""
    advance_m: Decimal | None = None
    """None: as many rows as the last round had."""
    lap_mm: Decimal | None = None
    """None: the least that the class demands."""

    def ask(self) -> None:
        """Show it, or ask of which heading."""
        site = self.shell.site
        if self.heading_id:
            job = partial(next_take_off, site, self.heading_id, self.advance_m, self.lap_mm)
            self.shell.do(job, then=self._show)
        else:
            self.shell.do(partial(choices, site), then=self._ask_where)

    def _ask_where(self, known: tuple[HeadingChoice, ...]) -> None:
        HeadingPanel(_("Take-off: of which heading?"), known, self._take_heading).open()

    def _take_heading(self, choice: HeadingChoice) -> None:
        replace(self, heading_id=choice.heading_id).ask()

    def _show(self, found: NextTakeOff) -> None:
        title = _("Take-off, next round of {heading}").format(heading=short(found.heading))
        note = wanted_words(found.take_off, self.shell.site.settings.units)
        if found.measured_in is not None:
            measured = _("profile as measured in round {n}").format(n=found.measured_in)
            note = f"{note}{BETWEEN}{measured}"
        LinesPanel(title, note, tuple(self._lines(found)), ROW_HEIGHT).open()

    def _lines(self, found: NextTakeOff) -> Iterator[Line]:
        units, wanted = self.shell.site.settings.units, found.take_off.wanted
        advance = limits_in_units(f"{plain(wanted.advance_m)} m", units)
        change = _("touch to change it")
        yield Line(_("Advance {m}").format(m=advance), change, partial(self._ask_advance, found))
        if found.take_off.mesh is not None:
            lap = limits_in_units(f"{plain(wanted.lap_mm)} mm", units)
            yield Line(_("Lap {mm}").format(mm=lap), change, partial(self._ask_lap, found))
        for it in found.take_off.items:
            a_metre = _("{n} a metre").format(n=much_words(it, it.per_metre))
            yield Line(f"{thing_words(it)}: {much_words(it, it.per_round)}", a_metre)
        said = " ".join(how_lines(found.take_off, units))
        if said:
            yield Line(_("How it comes"), said)
        if found.priced is not None:
            yield Line(_("Prices"), priced_words(found.priced))

    def _ask_advance(self, found: NextTakeOff) -> None:
        sheet = KeySheet(_("How far does the round get?"))
        each = found.row_spacing_m
        for rows in range(2, MOST_ROWS + 1):
            label = limits_in_units(f"{plain(rows * each)} m", self.shell.site.settings.units)
            again = replace(self, advance_m=rows * each)
            sheet.offer(label, again.ask, counted("{} row", "{} rows", rows))
        sheet.offer(_("Other…"), self._type_advance, "m")
        sheet.open()

    def _type_advance(self) -> None:
        self.shell.ask_number(
            _("How far does the round get?"),
            lambda typed: replace(self, advance_m=Decimal(typed)).ask(),
            unit="m",
            smallest="0.3",
            largest=LONGEST_M,
        )

    def _ask_lap(self, found: NextTakeOff) -> None:
        sheet = KeySheet(_("How wide are the laps?"))
        for more in LAPS_MORE_MM:
            lap_mm = found.least_lap_mm + more
            label = limits_in_units(f"{plain(lap_mm)} mm", self.shell.site.settings.units)
            note = "" if more else _("least demanded")
            sheet.offer(label, replace(self, lap_mm=lap_mm).ask, note)
        sheet.offer(_("Other…"), self._type_lap, "mm")
        sheet.open()

    def _type_lap(self) -> None:
        self.shell.ask_number(
            _("How wide are the laps?"),
            lambda typed: replace(self, lap_mm=Decimal(typed)).ask(),
            unit="mm",
            decimals=0,
            smallest="0",
            largest=WIDEST_MM,
        )


def choices(site: Site) -> tuple[HeadingChoice, ...]:
    """Give every heading with its support class."""
    return tuple(
        HeadingChoice(short(it.body.name), it.body.support_class, it.id) for it in headings(site)
    )
