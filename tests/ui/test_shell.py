"""What holds the screens: where one goes and returns to, what is told, no entry from anywhere."""

from collections.abc import Iterator
from pathlib import Path
from threading import Event

import pytest

from fieldapp.ui.density import BadPixelsPerInch
from fieldapp.ui.screens import SCREENS
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.work.events import events
from fieldapp.work.notices import notices
from tests.ui.harness import Tablet
from tests.ui.mine import Hands, at_the_demo
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

HEADING = "4155 Ore Drive S"
"""A round is open there, so that every screen has something to show."""
NAMES = tuple(screen.__module__.rpartition(".")[2] for screen in SCREENS)
ABOUT_A_HEADING = (
    "round",
    "review",
    "entry",
    "damage",
    "bolt_test",
    "intersection",
    "condition_walk",
)


@pytest.fixture
def bounces_long(monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine that is busy is no quicker than a glove: both touches come within this."""
    monkeypatch.setattr("fieldapp.ui.widgets.bounce.BOUNCE_S", 2.0)


slow_to_forget = pytest.mark.usefixtures("bounces_long")


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        hands.signed_in()
        yield hands


def go(hands: Hands, name: str) -> str:
    """Be at a screen, about a heading where it is about one."""
    place = hands.heading_id(HEADING)
    if name in ABOUT_A_HEADING:
        hands.go(name, heading_id=place)
    elif name == "sign_in":
        hands.shell.lock()
        hands.rest()
        hands.tablet.touches = 0
    else:
        hands.go(name, **({"key": "coverage"} if name == "trend" else {}))
    return place


def test_two_screens_never_stand_on_the_glass_together(hands: Hands) -> None:
    """Before the first frame the one that was left is gone: its words lie under no other's."""
    hands.shell.open("review", heading_id=hands.heading_id(HEADING))

    assert [it.name for it in hands.shell.manager.children] == ["review"]


@pytest.mark.parametrize("name", NAMES)
def test_no_entry_takes_two_touches_from_every_screen(hands: Hands, name: str) -> None:
    place = go(hands, name)
    before = len(notices(hands.site, place))
    second = "Whole heading" if name in ABOUT_A_HEADING else HEADING

    hands.tap("No entry", second)

    stated = [it.body for it in notices(hands.site, place)]
    assert hands.tablet.touches == 2
    assert len(stated) == before + 1
    assert stated[-1].what == "no entry"
    assert stated[-1].reason is None


def test_no_entry_takes_two_touches_while_a_number_is_typed(hands: Hands) -> None:
    place = go(hands, "entry")
    hands.tap("Report", "Fired", "3")
    hands.tablet.touches = 0

    hands.tap("No entry", "Whole heading")

    assert hands.tablet.touches == 2
    assert [it.body.what for it in notices(hands.site, place)] == ["no entry"]
    hands.tap("Return")
    assert "3" in hands.tablet.texts()  # what was typed is still there


def test_no_entry_takes_two_touches_while_a_code_is_typed(hands: Hands) -> None:
    place = go(hands, "sign_in")
    hands.tap("Day supervisor", "1")
    hands.tablet.touches = 0

    hands.tap("No entry", HEADING)

    assert hands.tablet.touches == 2
    assert [it.body.what for it in notices(hands.site, place)] == ["no entry"]


def test_no_entry_never_waits_for_a_slow_look(hands: Hands) -> None:
    place = hands.heading_id(HEADING)
    ends = Event()
    hands.shell.do(ends.wait, lane="look")

    hands.tablet.tap("No entry")
    hands.sees("4155 Junction")
    last_rows_wait = hands.tablet.find("4155 Junction").disabled
    hands.tablet.tap(hands.tablet.find_all("Whole heading")[-1])
    hands.tablet.until(lambda: bool(notices(hands.site, hands.heading_id("4155 Junction"))))
    ends.set()
    hands.rest()

    assert last_rows_wait
    assert hands.tablet.touches == 2
    assert notices(hands.site, place) == ()


@pytest.mark.parametrize("name", NAMES)
def test_every_screen_says_that_the_mine_is_invented(hands: Hands, name: str) -> None:
    go(hands, name)

    assert "DEMO · Wrenfall" in hands.tablet.texts()


def test_every_screen_is_listed_once_under_the_name_of_its_module() -> None:
    import fieldapp.ui.screens as package

    modules = {path.stem for path in Path(package.__file__).parent.glob("[!_]*.py")}

    assert sorted(NAMES) == sorted(modules)


def test_a_screen_is_built_at_the_first_visit_and_kept(hands: Hands) -> None:
    built = {screen.name for screen in hands.shell.manager.screens}
    hands.go("entry", heading_id=hands.heading_id(HEADING))
    first = hands.shell.screen
    hands.shell.to_board()
    hands.go("entry", heading_id=hands.heading_id("4155 Main"))

    assert built == {"sign_in", "shift_board"}
    assert hands.shell.screen is first


def test_one_returns_to_where_one_came_from(hands: Hands) -> None:
    hands.go("entry", heading_id=hands.heading_id(HEADING))
    hands.go("standard", heading_id=hands.heading_id(HEADING))

    hands.shell.go_back()
    hands.rest()
    returned = hands.is_at("entry"), HEADING in hands.tablet.texts()
    hands.shell.go_back()
    hands.shell.go_back()

    assert returned == (True, True)
    assert hands.is_at("shift_board")


def test_a_trouble_is_told_in_its_three_sentences(hands: Hands) -> None:
    def job() -> None:
        raise BadPixelsPerInch(ppi="1490")

    told: list[str] = []
    hands.shell.do(job, otherwise=lambda: told.append("after"))
    hands.rest()

    texts = hands.tablet.texts()
    assert all(sentence in texts for sentence in BadPixelsPerInch(ppi="1490").sentences())
    assert told == ["after"]
    hands.tap("Understood")
    assert hands.is_at("shift_board")


def test_a_caller_may_take_a_trouble_itself(hands: Hands) -> None:
    def job() -> None:
        raise BadPixelsPerInch(ppi="1490")

    taken: list[object] = []
    hands.shell.do(job, on_trouble=taken.append)
    hands.rest()

    assert [type(it) for it in taken] == [BadPixelsPerInch]
    assert "Understood" not in hands.tablet.texts()


def test_a_bug_in_a_job_is_raised_where_the_apps_handler_meets_it(hands: Hands) -> None:
    def job() -> None:
        raise ZeroDivisionError

    hands.shell.do(job)

    with pytest.raises(ZeroDivisionError):
        hands.tablet.until(lambda: False)


def test_a_number_is_asked_for_on_the_apps_own_pad(hands: Hands) -> None:
    told: list[str] = []

    hands.shell.ask_number("How far?", told.append, unit="m", limit="at most 1.0 m", largest="9")
    hands.tablet.settle()
    seen = hands.tablet.texts()
    hands.type("0.8")

    assert told == ["0.8"]
    assert {"How far?", "m", "at most 1.0 m"} <= set(seen)
    assert "How far?" not in hands.tablet.texts()


def test_leaving_a_pad_tells_nothing(hands: Hands) -> None:
    told: list[str] = []

    hands.shell.ask_number("How far?", told.append)
    hands.tablet.settle()
    hands.tap("Return")

    assert told == []
    assert hands.is_at("shift_board")


@slow_to_forget
def test_a_glove_that_bounces_answers_once(hands: Hands) -> None:
    before = events(hands.site, hands.heading_id("4180 Main"))
    hands.tap("Report", "4180 Main")
    where = hands.tablet.place_of("Seismic")

    hands.tablet.tap(where)
    hands.tablet.press_at_once(where)
    hands.tablet.let_go()
    hands.rest()

    assert hands.tablet.find("Seismic in 4180 Main: where?")
    assert events(hands.site, hands.heading_id("4180 Main")) == before


@slow_to_forget
def test_a_bounce_on_the_last_key_of_a_sheet_does_nothing_below_it(hands: Hands) -> None:
    hands.tap("Report")
    where = hands.tablet.place_of("Return")

    hands.tablet.tap(where)
    hands.tablet.press_at_once(where)
    hands.tablet.let_go()
    hands.rest()

    assert hands.is_at("shift_board")
    assert not hands.tablet.find_all(Sheet)


@slow_to_forget
def test_a_bounce_on_a_key_that_leads_on_does_nothing_there(hands: Hands) -> None:
    where = hands.tablet.place_of(hands.tablet.find_all("4180 Main")[0])

    hands.tablet.tap(where)
    hands.tablet.press_at_once(where)
    hands.tablet.let_go()
    hands.rest()

    assert hands.is_at("entry")
    assert not hands.tablet.find_all(Sheet)


def test_a_told_trouble_has_no_fault(hands: Hands) -> None:
    hands.shell.say(BadPixelsPerInch(ppi="1490"))
    hands.tablet.settle()

    assert faults_both_ways(hands.tablet) == []
