"""What every screen is given: the site, who is signed in, and a few ways to go on.

Screens know the shell, never each other or the running app. Slow work goes through `do`.
"""

from collections.abc import Callable
from datetime import datetime
from decimal import Decimal
from typing import TypeVar
from zoneinfo import ZoneInfo

from kivy.uix.screenmanager import NoTransition, Screen, ScreenManager

from fieldapp.ui.background import Lane, in_background
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import CodeSheet, KeySheet, TroubleSheet
from fieldapp.work.batches import batches
from fieldapp.work.entry import entry
from fieldapp.work.headings import heading, headings
from fieldapp.work.notices import say_no_entry
from fieldapp.work.people import is_idle
from fieldapp.work.site import Session, Site
from schemas.bodies.batch import Batch
from schemas.trouble import Trouble

Answer = TypeVar("Answer")

LOCKED = "sign_in"
FIRST = "shift_board"


class Shell:
    """One opened mine on the screen: builds screens when they are first asked for.

    Parameters
    ----------
    site : Site
        The mine's records.
    screens : tuple of screen classes
        Every screen; each is built at its first visit.
    demo_codes : tuple of (name, code)
        Shown where codes are asked for, in the demo mine only.
    """

    def __init__(
        self,
        site: Site,
        screens: tuple[type[Screen], ...],
        demo_codes: tuple[tuple[str, str], ...] = (),
    ) -> None:
        self.site = site
        self.session: Session | None = None
        self.code_digits = 0
        """Digits of the code that opened the session; only in memory."""
        self.demo_codes = demo_codes if site.mine.demo else ()
        self.batches: tuple[Batch, ...] = ()
        self.manager = ScreenManager(transition=NoTransition())
        self._classes = {screen.NAME: screen for screen in screens}
        self._last_touch_at = site.now()
        self._open_sheets: list[KeySheet] = []

    @property
    def badge(self) -> str:
        """What marks the demo mine on every screen."""
        return _("DEMO · {mine} mine").format(mine=self.site.mine.name) if self.is_demo else ""

    @property
    def is_demo(self) -> bool:
        """Whether this is the invented mine."""
        return self.site.mine.demo

    def now(self) -> datetime:
        """Ask the clock."""
        return self.site.now()

    def clock_words(self, at: datetime | None = None) -> str:
        """Give a time as the mine's clock shows it."""
        return f"{(at or self.now()).astimezone(ZoneInfo(self.site.settings.zone)):%H:%M}"

    # --- going on ---------------------------------------------------------------------------

    def open(self, name: str, **about: object) -> None:
        """Go to a screen and tell it what it is about. A locked tablet goes nowhere."""
        if self.session is None and name != LOCKED:
            name, about = LOCKED, {}
        if not self.manager.has_screen(name):
            self.manager.add_widget(self._classes[name](name=name, shell=self))
        self.manager.current = name
        self.manager.get_screen(name).opened(**about)

    def signed_in(self, session: Session, code_digits: int) -> None:
        """Begin a session, and show the Shift board."""
        self.session, self.code_digits = session, code_digits
        self._last_touch_at = self.now()
        self.do(lambda: batches(self.site), then=self._take_batches)
        self.open(FIRST)

    def lock(self) -> None:
        """End the session: whoever goes on says who they are."""
        self.session, self.code_digits = None, 0
        self.open(LOCKED)

    def touched(self) -> None:
        """Note that somebody is there."""
        self._last_touch_at = self.now()

    def lock_when_idle(self) -> None:
        """Lock after ten minutes without a touch, or when the clock went backwards."""
        if self.session is not None and is_idle(self._last_touch_at, self.now()):
            self.lock()

    def _take_batches(self, found: tuple[Batch, ...]) -> None:
        self.batches = found

    # --- slow work --------------------------------------------------------------------------

    def do(
        self,
        job: Callable[[], Answer],
        *,
        then: Callable[[Answer], None] = lambda _answer: None,
        on_trouble: Callable[[Trouble], None] | None = None,
        lane: Lane = "save",
    ) -> None:
        """Run a job beside the screen; a trouble is told in its three sentences."""
        in_background(job, then=then, on_trouble=on_trouble or self.say, lane=lane)

    # --- asking and telling -----------------------------------------------------------------

    def say(self, trouble: Trouble, again: Callable[[], None] | None = None) -> None:
        """Tell a trouble: what happened, what was kept, what to do next."""
        TroubleSheet(trouble, again).open()

    def ask_code(self, question: str, then: Callable[[str], None], digits: int = 0) -> None:
        """Ask for a sign code; with `digits` known it is taken at the last of them."""
        CodeSheet(question, then, digits, self.demo_codes).open()

    def no_entry(self, heading_id: str | None = None, from_m: Decimal | None = None) -> None:
        """Offer to state *no entry*: the next touch states it. Open to anyone, locked or not."""
        self.touched()
        if heading_id is not None:
            self.do(lambda: self._place(heading_id, from_m), then=self._confirm)
        else:
            self.do(self._places, then=self._pick)

    def _place(self, heading_id: str, from_m: Decimal | None) -> tuple[str, str, Decimal]:
        known = heading(self.site, heading_id)
        line = entry(self.site, known.id, self.now()).line_m if from_m is None else from_m
        return known.id, known.body.name, line

    def _places(self) -> tuple[tuple[str, str, Decimal], ...]:
        return tuple(self._place(known.id, None) for known in headings(self.site))

    def _confirm(self, place: tuple[str, str, Decimal]) -> None:
        self._pick((place,))

    def _pick(self, places: tuple[tuple[str, str, Decimal], ...]) -> None:
        sheet = KeySheet(
            _("No entry"), _("The next touch states it. Anyone may; a person lifts it.")
        )
        for heading_id, name, line_m in places:
            words = _("from {line} m inbye").format(line=f"{line_m:.1f}")
            sheet.offer(
                name, lambda h=heading_id, m=line_m: self._state(h, m), words, role="grave"
            )
        sheet.open()

    def _state(self, heading_id: str, from_m: Decimal) -> None:
        self.do(
            lambda: say_no_entry(self.site, heading_id, from_m, self.session),
            then=lambda notice: self._stated(heading_id, notice.id),
        )

    def _stated(self, heading_id: str, notice_id: str) -> None:
        if self.session is not None:
            self.open("entry", heading_id=heading_id, notice_id=notice_id)
        else:
            KeySheet(
                _("No entry stands"), _("Put the barrier up now, then sign in and say so.")
            ).open()
