"""Hands that record a round: they touch the chips that a person would touch."""

import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from time import sleep
from typing import Any

from fieldapp.ui.widgets.chip import Chip
from fieldapp.ui.widgets.finding_row import FindingRow
from fieldapp.ui.widgets.question_panel import QuestionPanel
from fieldapp.work.demo import READY
from fieldapp.work.demo.walking import Look, StoryClock, as_standard, walk
from fieldapp.work.questions import Question
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import begin_round, open_round
from tests.ui.harness import BOUNCE_S, Tablet
from tests.ui.mine import DAY, Hands, at_the_demo

A_MOMENT = timedelta(seconds=9)
"""From one answer to the next: long enough to have looked."""
MOST_ANSWERS = 120


class Recorder:
    """Somebody who records a round, by touches alone."""

    def __init__(self, hands: Hands) -> None:
        self.hands, self.tablet = hands, hands.tablet
        self.readings = 0
        """Touches that gave a measured value."""

    # --- where one is -----------------------------------------------------------------------

    @property
    def screen(self) -> Any:
        return self.hands.shell.screen

    @property
    def on_round(self) -> bool:
        return self.hands.is_at("round")

    @property
    def work(self) -> RoundWork:
        work: RoundWork = self.screen.work
        return work

    @property
    def question(self) -> Question:
        question = self.screen.view.question
        assert question is not None, "nothing is asked"
        return question

    @property
    def panel(self) -> QuestionPanel:
        return self.tablet.find(QuestionPanel)

    @property
    def chips(self) -> list[str]:
        """The answers on the glass."""
        return [chip.value for chip in self.tablet.find_all(Chip, self.panel)]

    @property
    def findings(self) -> list[tuple[str, str]]:
        """The findings on the glass: title and verdict."""
        return [(row.title, row.verdict) for row in self.tablet.find_all(FindingRow)]

    def on_disk(self) -> RoundWork:
        """Give the draft as it is on the disk."""
        known = open_round(self.hands.site, self.hands.heading_id(READY))
        assert known is not None
        return known.work

    def rest(self) -> None:
        """Wait until everything is kept, judged and shown."""
        self.tablet.until(self._is_judged)
        if self.on_round:
            self.tablet.frames(2)
        else:
            self.hands.rest()

    def _is_judged(self) -> bool:
        if not self.on_round:
            return True
        screen = self.screen
        return bool(screen.judged and screen.judged.work is screen.work and not screen.busy)

    # --- what is touched --------------------------------------------------------------------

    def begin(self, name: str = READY) -> None:
        self.hands.go("round", heading_id=self.hands.heading_id(name))
        self.tablet.until(lambda: self.screen.work is not None)
        self.rest()

    def touch(self, label: str, *, later: timedelta = A_MOMENT) -> None:
        """Touch the chip with this label."""
        sleep(BOUNCE_S)
        self.hands.clock.at += later
        self.tablet.tap(self.tablet.find(label, self.panel))
        self.rest()

    def answer(self, found: Mapping[str, str] | None = None) -> None:
        """Touch the chip of what is there: as the standard has it, or as `found` says."""
        question = self.question
        if question.digits is not None and question.stage != "old rows":
            self.readings += not question.key.startswith("count")
        self.touch((found or {}).get(question.key) or self.chip_as_standard(question))

    def answer_until(self, key: str = "", found: Mapping[str, str] | None = None) -> None:
        """Answer question after question until one is asked, or until all are answered."""
        for _ in range(MOST_ANSWERS):
            if not self.on_round or self.screen.view.is_complete or self.question.key == key:
                return
            self.answer(found)
        raise AssertionError(f"{key} was never asked")

    def chip_as_standard(self, question: Question) -> str:
        """Name the chip that a tape or a count of conforming support leads to."""
        wanted = as_standard(self.work, question, Look())
        if isinstance(wanted, str):
            return wanted
        return min(question.choices, key=lambda chip: abs(Decimal(chip.label) - wanted)).label

    def type(self, digits: str) -> None:
        """Type a value on the pad."""
        sleep(BOUNCE_S)
        self.hands.tap("Other…")
        self.hands.type(digits)
        self.rest()

    def touch_bolt(self, row: int, position: int) -> None:
        """Touch a bolt on the map."""
        drive = self.screen.ids.map
        bolt = next(it for it in drive.drawing.bolts if (it.row, it.position) == (row, position))
        self.tablet.tap(drive.view.pixel(bolt.x_m, bolt.s_m))
        self.tablet.settle()


@contextmanager
def at_a_round(
    tablet: Tablet, folder: Path, stops_before: str = "ground", look: Look | None = None
) -> Iterator[Recorder]:
    """Open the demo mine, with the day supervisor at a round looked at up to a question."""
    with at_the_demo(tablet, folder) as hands:
        hands.signed_in(DAY)
        looked = replace(look or Look(), stops_before=stops_before or None)
        look_at(hands, looked)
        recorder = Recorder(hands)
        recorder.begin()
        tablet.touches = 0
        yield recorder


def look_at(hands: Hands, look: Look, name: str = READY) -> None:
    """Have a round looked at by the jobs behind the screen, each touch on the disk.

    One that is open is gone on with.
    """
    session = hands.shell.session
    assert session is not None
    is_open = open_round(hands.site, hands.heading_id(name))
    work = is_open.work if is_open else begin_round(hands.site, hands.heading_id(name), session)
    clock = StoryClock(hands.clock.at)
    walk(hands.site, clock, work, session, look)
    hands.clock.at = clock.at


def as_a_power_cut_leaves_it(hands: Hands, folder: Path) -> None:
    """Go on with a copy of the records as they are on the disk now, nothing closed."""
    shutil.copytree(hands.home, folder)
    hands.close()
    hands.home = folder
    hands.open()
