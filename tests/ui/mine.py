"""A mine opened on a tablet in somebody's hands: the demo mine, or a bare one."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from fieldapp.start import open_site
from fieldapp.ui import theme
from fieldapp.ui.background import Lane
from fieldapp.ui.screens import SCREENS
from fieldapp.ui.shell import Shell
from fieldapp.work.demo import SITE_CODE
from fieldapp.work.demo.making import demo_standard
from fieldapp.work.headings import add_heading, heading
from fieldapp.work.mine import start_mine
from fieldapp.work.people import enrol
from fieldapp.work.site import Site
from fieldapp.work.standard_in_force import adopt
from schemas.bodies.heading import Heading
from tests.demo_mine import CODES, SetClock, demo_home, session
from tests.ui.harness import Tablet

LONG_ENOUGH_S = theme.HOLD_S + 0.05
DAY = "Day supervisor"
BOLTER = "Bolter, crew A"
ENGINEER = "Geotechnical engineer"


class Hands:
    """Somebody at the tablet. `open` starts the app's screens, as after switching it on."""

    def __init__(self, tablet: Tablet, home: Path, clock: SetClock) -> None:
        self.tablet, self.home, self.clock = tablet, home, clock
        self.shell: Shell

    @property
    def site(self) -> Site:
        return self.shell.site

    def open(self) -> None:
        site = open_site(self.home, now=self.clock)
        codes = tuple((name, code) for name, code in CODES.items() if name != "site")
        self.shell = Shell(site, SCREENS, codes if site.mine.demo else ())
        self.tablet.show(self.shell.manager)
        self.shell.to_board()
        self.rest()

    def close(self) -> None:
        self.shell.close_sheets()
        self.shell.stop()
        self.shell.site.store.close()
        self.tablet.show()

    def switch_off_and_on(self) -> None:
        self.close()
        self.open()

    def sign_in(self, name: str = DAY) -> None:
        self.tablet.tap(name)
        self.type(CODES[name])
        self.tablet.until(lambda: self.shell.session is not None)
        self.rest()
        self.tablet.touches = 0

    def signed_in(self, name: str = DAY) -> None:
        """Have somebody signed in, where how they came in says nothing: it takes a while."""
        self.shell.signed_in(session(self.site, name))
        self.rest()
        self.tablet.touches = 0

    def type(self, digits: str, done: str = "Done") -> None:
        for digit in digits:
            self.tablet.tap(digit)
        self.tablet.tap(done)

    def go(self, name: str, **about: object) -> None:
        """Be at a screen, however one came there."""
        self.shell.open(name, **about)
        self.rest()
        self.tablet.touches = 0

    def tap(self, *targets: str) -> None:
        """Touch one thing after the other, each once what the one before led to is there."""
        for target in targets:
            self.sees(target)
            self.tablet.tap(target)
            self.rest()

    def hold(self, target: str) -> None:
        self.tablet.hold(target, LONG_ENOUGH_S)
        self.rest()

    def rest(self) -> None:
        """Wait until every job is done and shown: one that is done may begin another."""
        self._let_jobs_finish()
        shown = None
        while shown != self.tablet.texts():
            shown = self.tablet.texts()
            self._let_jobs_finish()

    def _let_jobs_finish(self) -> None:
        told: list[None] = []
        lanes: tuple[Lane, ...] = ("save", "look", "long")
        for lane in lanes:
            self.shell.do(lambda: None, then=told.append, lane=lane)
        self.tablet.until(lambda: len(told) == len(lanes))
        self.tablet.settle()

    def sees(self, text: str) -> None:
        self.tablet.until(lambda: bool(self.tablet.find_all(text)))

    def is_at(self, name: str) -> bool:
        return bool(self.shell.manager.current == name)

    def heading_id(self, name: str) -> str:
        return heading(self.site, name).id


@contextmanager
def at_the_demo(tablet: Tablet, folder: Path) -> Iterator[Hands]:
    """Open the demo mine on a tablet."""
    with _opened(Hands(tablet, demo_home(folder / "home"), SetClock())) as hands:
        yield hands


@contextmanager
def at_a_mine(
    tablet: Tablet, folder: Path, make: Callable[[Site], Site | None] = lambda _site: None
) -> Iterator[Hands]:
    """Open what `make` makes in an empty home."""
    clock = SetClock()
    site = open_site(folder / "home", now=clock)
    with site.store:
        make(site)
    with _opened(Hands(tablet, folder / "home", clock)) as hands:
        yield hands


@contextmanager
def _opened(hands: Hands) -> Iterator[Hands]:
    hands.open()
    try:
        yield hands
    finally:
        hands.close()


LONG_NAMES = tuple(
    f"4180 Sublevel ventilation return crosscut north {number}" for number in range(1, 13)
)
LONG_PERSON = "Supervisor of the afternoon shift, level 4180 and below"


def nobody_enrolled(site: Site) -> Site:
    return start_mine(site, "Wrenfall", site_code=SITE_CODE, demo=True)


def no_headings(site: Site) -> Site:
    """A mine with people and nothing else."""
    started = nobody_enrolled(site)
    enrol(started, DAY, ("shift supervisor",), sign_code=CODES[DAY], site_code=SITE_CODE)
    return started


def long_names(site: Site) -> Site:
    """A mine whose headings and people have the longest names that anybody gives."""
    started = no_headings(site)
    enrol(
        started,
        LONG_PERSON,
        ("shift supervisor", "geotechnical technician", "records keeper"),
        sign_code="7777",
        site_code=SITE_CODE,
    )
    enrol(started, "Engineer", ("geotechnical engineer",), sign_code="3333", site_code=SITE_CODE)
    engineer = session(started, "Engineer")
    adopt(started, demo_standard(started.now()), engineer)
    for name in LONG_NAMES:
        body = Heading.model_validate(
            {
                "name": name,
                "support_class": "D1",
                "face_m": "12345.60",
                "last_row_m": "12341.20",
                "last_round": 99_998,
                "demo": True,
            }
        )
        add_heading(started, body, engineer)
    return started
