"""The rehab list under a glove: planned, begun behind a barrier, done, verified by another."""

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from threading import Event

import pytest

from fieldapp.ui.photo.before_after_sheet import ALIGNED, NOT_ALIGNED, BeforeAfterSheet
from fieldapp.ui.repair.repair_panel import RepairPanel
from fieldapp.work.damage.stating import damage_known, damages, record_damage
from fieldapp.work.entry import entry
from fieldapp.work.known import current
from fieldapp.work.photo.file import PhotoFacts
from fieldapp.work.photo.frames_known import Yardstick
from fieldapp.work.photo.measured import keep_measured
from fieldapp.work.photo.photographs import keep_photo
from fieldapp.work.photo.taps import OnPhoto, Thing
from fieldapp.work.rehab.steps import plan, plan_of, start
from schemas.bodies.rehab import Barricade, Rehab
from tests.demo_mine import CODES
from tests.photos.files import photo
from tests.photos.taken import taken
from tests.ui.at_damage import OPEN, a_tear
from tests.ui.harness import Tablet
from tests.ui.mine import BOLTER, ENGINEER, LONG_NAMES, Hands, at_a_mine, at_the_demo, long_names
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

MESH = Yardstick("mesh", Decimal(100), Decimal(100))
CORNERS = ((0.2, 0.2), (0.6, 0.2), (0.6, 0.6), (0.2, 0.6))
LENGTH = (Thing("length", CORNERS[:2]),)
TECHNICIAN = "Geotechnical technician"
BARRICADED = "Wrenfall Decline"
LINE = "P2\N{NO-BREAK SPACE}· 4180 Main, 590.4 m"
TOLD = "restored 6 May 2031, Bolter, crew A, 4 bolts, a sheet of mesh, no photo: the camera failed"
ORDER = "bar down from supported ground, patch with a sheet, plate it all round"


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        yield hands


def at(hands: Hands, who: str, *touches: str) -> None:
    """Have somebody at the list, and touch one thing after the other."""
    hands.signed_in(who)
    hands.go("rehab_list")
    hands.tap(*touches)


def state(hands: Hands) -> str:
    return entry(hands.site, hands.heading_id(OPEN), hands.clock()).state


def test_a_tear_is_repaired_and_verified_by_somebody_else(hands: Hands, tmp_path: Path) -> None:
    tear = record_damage(hands.site, a_tear(hands), None)
    keep_photo(hands.site, taken(tmp_path / "before.jpg"), None, tear.id)

    at(hands, TECHNICIAN, LINE, "More", "Label")
    hands.sees("The label is ready to be printed")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Return", LINE, "Propose repair", ORDER)
    hands.tap(LINE)
    hands.sees("the engineer only")
    hands.tap("Return")
    at(hands, ENGINEER, LINE, "Plan repair", ORDER)
    at(hands, BOLTER, LINE, "Begin", BOLTER)
    hands.type("585")
    hands.rest()
    barred = state(hands)
    hands.tap(LINE, "Photos", "Before")
    hands.rest()
    assert "1 photo is kept" in hands.tablet.texts()
    hands.tap("Return", LINE, "Done", "Restored", "?")
    hands.type("4")
    hands.rest()
    hands.tap(
        "a sheet of mesh",
        "plates",
        "plates",
        "That is all",
        "All of it",
        "the camera failed",
        LINE,
    )
    told = [it for it in hands.tablet.texts() if it.startswith("restored 6 May 2031")]
    hands.sees("supervisor or technician")
    assert faults_both_ways(hands.tablet) == []
    (repair,) = current(hands.site, "rehab", Rehab)
    hands.tap("Return")
    at(hands, TECHNICIAN, LINE, "Verify", "Take a photo")
    keep_photo(hands.site, photo(tmp_path / "after.jpg"), None, repair.id)
    hands.tap("Return", "3", "Good, and the barrier is down")
    hands.type(CODES[TECHNICIAN])
    hands.rest()

    (verified,) = current(hands.site, "rehab", Rehab)
    assert barred == "barricaded"
    assert told == [TOLD]
    assert (verified.body.state, verified.body.bolts_added) == ("verified", 4)
    assert verified.body.lap_openings == 3, "as whoever verified it measured it"
    assert [it.outcome for it in damages(hands.site, hands.clock())] == ["restored"]
    assert state(hands) == "entry allowed"
    hands.sees("0 to repair, 1 repaired below")


def test_nothing_is_shown_as_it_was_while_something_is_looked_at_or_stated(hands: Hands) -> None:
    """An empty list would say that nothing is damaged; a stale one offers what was done."""
    tear, may_look, may_end = record_damage(hands.site, a_tear(hands), None), Event(), Event()
    hands.signed_in(ENGINEER)
    by = hands.shell.session
    assert by is not None
    hands.shell.do(may_look.wait, lane="look")
    hands.shell.open("rehab_list")
    hands.tablet.frames(3)
    before = hands.tablet.texts()
    may_look.set()
    hands.sees(LINE)

    def planned() -> object:
        may_end.wait(5)
        return plan(hands.site, plan_of(damage_known(hands.site, tear.id, hands.clock())), by)

    hands.rest()
    hands.shell.state(planned)
    hands.tablet.tap(LINE)
    hands.tablet.frames(3)
    stated, opened = hands.tablet.texts(), hands.tablet.find_all(RepairPanel)
    may_end.set()

    assert "Being worked out …" in before
    assert "being worked out …" in stated
    assert opened == []
    hands.sees("Begin")

    hands.go("entry", heading_id=hands.heading_id(BARRICADED))
    closed, may_look = hands.tablet.texts(), Event()
    hands.shell.do(may_look.wait, lane="look")
    hands.shell.open("entry", heading_id=hands.heading_id(OPEN))
    hands.tablet.frames(3)
    after = hands.tablet.texts()
    may_look.set()

    assert "barricaded" in closed
    assert "barricaded" not in after
    assert after.count("Being worked out …") == 3, "outbye, inbye, and what was stated"


def test_the_list_says_what_is_overdue_and_nothing_is_cut(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_mine(tablet, tmp_path, long_names) as hands:
        hands.signed_in("Engineer")
        hands.go("rehab_list")
        assert faults_both_ways(tablet) == []
        for name in LONG_NAMES[:7]:
            record_damage(hands.site, a_tear(hands, name, "12321.4"), None)
        hands.clock.at += timedelta(days=9)
        hands.signed_in("Engineer")
        hands.go("rehab_list")

        assert "7 to repair, 7 overdue" in tablet.texts()
        assert faults_both_ways(tablet) == []
        first = next(it for it in tablet.texts() if it.startswith("P2"))
        hands.tap(first, "Plan repair")
        assert faults_both_ways(tablet) == []
        hands.tap("Return", first, "Priority")
        hands.sees("in 7 days, nobody on foot beneath")
        assert faults_both_ways(tablet) == []
        hands.tap("P4", "people no longer go there")
        assert "7 to repair, 6 overdue" in tablet.texts()


def test_a_photo_from_after_the_work_lies_beside_the_one_from_before(
    tablet: Tablet, hands: Hands, tmp_path: Path
) -> None:
    tear = record_damage(hands.site, a_tear(hands), None)
    photos = [keep_photo(hands.site, photo(tmp_path / "was.jpg"), None, tear.id)]
    hands.clock.at += timedelta(minutes=1)
    known = damage_known(hands.site, tear.id, hands.clock())
    hands.signed_in(ENGINEER)
    by = hands.shell.session
    assert by is not None
    repair = start(
        hands.site,
        plan(hands.site, plan_of(known), by).id,
        by,
        barricade=Barricade(who=BOLTER, where="585 m, chain and sign"),
    )
    at(hands, ENGINEER, LINE, "Photos")
    hands.sees("Photos: of what?")
    offered_before = tablet.find_all("Before and after")
    hands.tap("Return")
    photos.append(
        keep_photo(hands.site, photo(tmp_path / "now.jpg", (1800, 1200)), None, repair.id)
    )

    hands.tap(LINE, "Photos", "Before and after")
    sheet = tablet.find(BeforeAfterSheet)
    tablet.until(lambda: sheet.note == NOT_ALIGNED)
    faults = faults_both_ways(tablet)
    work = OnPhoto(PhotoFacts(1800, 1200, None), MESH, CORNERS, (1, 1), LENGTH)
    for it in photos:
        keep_measured(hands.site, it.id, work, by)
    hands.tap("Return", LINE, "Photos", "Before and after")
    sheet = tablet.find(BeforeAfterSheet)
    tablet.until(lambda: sheet.note == ALIGNED)
    aligned = sheet.before.size, sheet.after.size
    hands.tap("Return")

    assert offered_before == []
    assert faults == []
    assert aligned == ((1200, 675), (1200, 675))
    assert (sheet.before, sheet.after) == (None, None)
