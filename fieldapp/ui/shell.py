"""What every screen is given: the site, who is signed in, where to go, what to ask and tell.

Screens know the shell, never each other or the running app. Slow work goes through `do`.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from functools import partial
from pathlib import Path
from typing import Any, TypeVar
from zoneinfo import ZoneInfo

from kivy.clock import Clock
from kivy.event import EventDispatcher
from kivy.properties import ObjectProperty, StringProperty
from kivy.uix.screenmanager import NoTransition, ScreenManager

from fieldapp.report.words.findings import day
from fieldapp.ui.background import Lane, in_background
from fieldapp.ui.idle import Idle
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.panels.no_entry_panel import NoEntryPanel
from fieldapp.ui.theme import look
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import CodeSheet, TroubleSheet
from fieldapp.ui.widgets.bounce import bounce
from fieldapp.ui.widgets.pad_panel import PadPanel
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.urgent import urgent
from fieldapp.work.picked_from import picked_from
from fieldapp.work.questions import Known
from fieldapp.work.share.exchange import is_old, last_exchange
from fieldapp.work.site import Session, Site
from schemas.trouble import Trouble
from schemas.wrapped_key import WrongSignCode

Answer = TypeVar("Answer")
Codes = tuple[tuple[str, str], ...]

FIRST = "shift_board"
LOCKED = "sign_in"
OPEN_TO_ANYONE = (LOCKED, "share_folder")
"""A locked tablet that is carried to the surface shares all the same."""
LOOK_AGAIN_S = 5.0
"""How often the clock is looked at: for the lock, and for permissions that end."""


@dataclass(frozen=True)
class Place:
    """A screen, and what it is about."""

    name: str
    about: dict[str, Any] = field(default_factory=dict)


class Shell(EventDispatcher):
    """One opened mine on the screen: builds a screen when it is first asked for.

    `who` and `clock` are words that a header shows; they follow by themselves. `manager` is
    the widget to put on the glass.

    Parameters
    ----------
    site : Site
        The mine's records.
    screens : tuple of screen classes
        Every screen; each is named as its module.
    demo_codes : tuple of (name, code)
        Shown where codes are asked for, in the demo mine only.
    """

    who = StringProperty()
    clock = StringProperty()
    heard = StringProperty()
    """How old is what other tablets said, and what time it is."""
    session: Session | None = ObjectProperty(None, allownone=True)

    def __init__(
        self,
        site: Site,
        screens: tuple[type[PairedScreen], ...],
        demo_codes: Codes = (),
    ) -> None:
        super().__init__()
        self.site = site
        self.demo_codes = demo_codes if site.mine.demo else ()
        self.known = Known(crews=site.settings.crews)
        """What answers are picked from."""
        self.code_digits = 0
        """Digits of the code that opened the session; only in memory."""
        self.camera_number = 0
        """Which of the tablet's own cameras photos are taken with, as it was chosen last."""
        self.photos_from: Path | None = None
        """The folder that a photo was chosen from last."""
        self.manager = ScreenManager(transition=NoTransition())
        self._classes = {screen.__module__.rpartition(".")[2]: screen for screen in screens}
        self._went: list[Place] = []
        self._left: tuple[str, list[Place]] | None = None
        self._idle = Idle(site.now)
        self._looking = Clock.schedule_interval(self._look_at_clock, LOOK_AGAIN_S)
        _window().bind(**self._heard_of_window)
        look.badge = self.badge
        urgent.act = self._no_entry_from_pad
        self._heard_at: datetime | None = None
        self._tell_time()
        self.heard_again()

    @property
    def badge(self) -> str:
        """What marks the demo mine on every screen."""
        return _("DEMO · {mine}").format(mine=self.site.mine.name) if self.is_demo else ""

    @property
    def is_demo(self) -> bool:
        """Whether this is the invented mine."""
        return self.site.mine.demo

    def now(self) -> datetime:
        """Ask the mine's clock."""
        return self.site.now()

    def local(self, at: datetime) -> datetime:
        """Give a time by the clock on the mine's wall."""
        return at.astimezone(ZoneInfo(self.site.settings.zone))

    def clock_words(self, at: datetime | None = None) -> str:
        """Give a time as the mine's clock shows it."""
        return f"{self.local(at or self.now()):%H:%M}"

    def heard_again(self) -> None:
        """Look when other tablets were last heard of, by the shared folder."""
        self.do(partial(last_exchange, self.site), then=self._take_heard)

    # --- where one goes -----------------------------------------------------------------------

    @property
    def screen(self) -> PairedScreen | None:
        """The screen in sight."""
        return self.manager.current_screen

    def open(self, name: str, **about: Any) -> None:
        """Go to a screen and tell it what it is about. A locked tablet goes nowhere."""
        if self.session is None and name not in OPEN_TO_ANYONE:
            name, about = LOCKED, {}
        if name in (FIRST, LOCKED):
            self._went.clear()
        if self._went and self._went[-1].name == name:
            self._went.pop()
        self._went.append(Place(name, about))
        self._show()

    def go_back(self) -> None:
        """Return to the screen before this one; from the first, to the board."""
        self._went = self._went[:-1] or [Place(FIRST)]
        self._show()

    def to_board(self) -> None:
        """Return to the Shift board."""
        self.open(FIRST)

    def refresh(self) -> None:
        """Have the screen in sight look again at what is kept."""
        if self.screen is not None:
            self.screen.refreshed()

    # --- who is here --------------------------------------------------------------------------

    def signed_in(self, session: Session, code_digits: int = 0) -> None:
        """Begin a session: where this person was when the tablet locked, else at the board."""
        left, self._left = self._left, None
        self.session, self.code_digits = session, code_digits
        self.touched()
        self._tell_time()
        self.do(lambda: picked_from(self.site), then=self._take_known)
        if left is None or left[0] != session.person_id:
            self.to_board()
            return
        self._went = left[1]
        self._show()

    def lock(self) -> None:
        """End the session: whoever goes on says who they are."""
        if self.session is not None:
            self._left = (self.session.person_id, list(self._went))
        self.session, self.code_digits = None, 0
        self.close_sheets()
        self.touched()
        self._tell_time()
        self.open(LOCKED)

    def touched(self) -> None:
        """Note that somebody is there."""
        self._idle.touched()

    def lock_when_idle(self) -> None:
        """Lock after ten minutes without a touch, or when the clock went backwards."""
        if self._idle.is_over:
            self.lock()

    # --- slow work ----------------------------------------------------------------------------

    def do(
        self,
        job: Callable[[], Answer],
        *,
        then: Callable[[Answer], None] | None = None,
        on_trouble: Callable[[Trouble], None] | None = None,
        otherwise: Callable[[], None] | None = None,
        lane: Lane = "save",
    ) -> None:
        """Run a job beside the screen.

        A trouble is told, unless the caller takes it by `on_trouble`; `otherwise` is called
        once it is told.
        """

        def met(trouble: Trouble) -> None:
            (on_trouble or self.say)(trouble)
            if otherwise is not None:
                otherwise()

        in_background(job, then=then or _nothing, on_trouble=met, lane=lane)

    def state(
        self, job: Callable[[], object], *, on_trouble: Callable[[Trouble], None] | None = None
    ) -> None:
        """Have something stated that changes what the screen in sight shows; it looks again."""
        if self.screen is not None:
            self.screen.awaited()

        def met(trouble: Trouble) -> None:
            (on_trouble or self.say)(trouble)
            self.refresh()

        self.do(job, then=lambda _stated: self.refresh(), on_trouble=met)

    # --- asking and telling, over any screen ----------------------------------------------------

    def say(
        self, trouble: Trouble, again: Callable[[], None] | None = None, act: str = ""
    ) -> None:
        """Tell a trouble: what happened, what was kept, what to do next.

        `again` is offered as a way on, on a key that says `act`: "Confirm" where nothing is said.
        """
        TroubleSheet(trouble, again, act).open()

    def ask_code(self, question: str, then: Callable[[str], None], digits: int = 0) -> None:
        """Ask for a sign code; with `digits` known it is taken at the last, else at the key."""
        CodeSheet(question, then, self.demo_codes, digits).open()

    def say_of_code(self, trouble: Trouble, again: Callable[[], None]) -> None:
        """Tell a trouble that a sign code met; after a wrong one the pad is one touch away."""
        if isinstance(trouble, WrongSignCode):
            self.say(trouble, again, _("Once more"))
        else:
            self.say(trouble)

    def ask_number(self, question: str, then: Callable[[str], None], **pad: Any) -> None:
        """Ask for a number; `pad` are the pad's own properties, such as `unit` and `limit`."""
        PadPanel(then, question=question, **pad).open()

    def no_entry(self, heading_id: str | None = None, from_m: Decimal | None = None) -> None:
        """Take the first touch of *no entry*; the next one states it. Open to anyone."""
        NoEntryPanel(self, heading_id=heading_id, from_m=from_m).open()

    def close_sheets(self) -> None:
        """Take away everything that lies over the screen."""
        for sheet in _sheets():
            sheet.close()

    def laid_aside(self, *_args: object) -> None:
        """Tell what lies over the screen that the app goes out of sight."""
        for sheet in _sheets():
            sheet.laid_aside()

    def stop(self) -> None:
        """Let go of the clock and the glass."""
        self._looking.cancel()
        urgent.act = None
        _window().unbind(**self._heard_of_window)

    # --- inside -------------------------------------------------------------------------------

    @property
    def _heard_of_window(self) -> dict[str, Callable[..., object]]:
        return {
            "on_touch_down": self._on_any_touch,
            "on_restore": self._woken,
            "on_minimize": self.laid_aside,
            "on_hide": self.laid_aside,
        }

    def _show(self) -> None:
        place = self._went[-1]
        if not self.manager.has_screen(place.name):
            self.manager.add_widget(self._classes[place.name](name=place.name, shell=self))
        self.manager.current = place.name
        self.manager.transition.stop()  # at once: Kivy leaves the old one for a frame, a slow one
        bounce.begin()
        self.manager.get_screen(place.name).opened(**place.about)

    def _no_entry_from_pad(self) -> None:
        self.no_entry(self._went[-1].about.get("heading_id") if self._went else None)

    def _take_known(self, found: Known) -> None:
        self.known = found

    def _on_any_touch(self, _glass: object, _touch: object) -> bool:
        """Take no touch that was meant for what lay here before: long ago, or just now."""
        if self.session is not None and self._idle.is_over:
            self.lock()
            return True
        self.touched()
        return bounce.is_on

    def _woken(self, *_args: object) -> None:
        self.lock_when_idle()

    def _look_at_clock(self, _elapsed: float) -> None:
        self.lock_when_idle()
        self._tell_time()

    def _tell_time(self) -> None:
        self.who = self.session.name if self.session else _("nobody signed in")
        self.heard = self._heard_words()
        if self.clock != self.clock_words():
            self.clock = self.clock_words()
            self.refresh()

    def _take_heard(self, at: datetime | None) -> None:
        self._heard_at = at
        self.heard = self._heard_words()

    def _heard_words(self) -> str:
        at, now = self._heard_at, self.clock_words()
        if at is None:
            return _("this tablet only, {time}").format(time=now)
        if is_old(self.site, at):
            is_today = self.local(at).date() == self.local(self.now()).date()
            said = self.clock_words(at) if is_today else day(at, ZoneInfo(self.site.settings.zone))
            return _("heard {day}: ask, now {time}").format(day=said, time=now)
        return _("as heard {heard}, now {time}").format(heard=self.clock_words(at), time=now)


def _window() -> Any:
    from kivy.core.window import Window  # imported here: it opens the window

    return Window


def _sheets() -> list[Sheet]:
    return [layer for layer in _window().children if isinstance(layer, Sheet)]


def _nothing(_answer: object) -> None:
    """Take an answer that nobody waits for."""
