"""*No entry* takes two touches whatever lies over the screen: every sheet and panel is opened."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path
from time import sleep

import pytest

from fieldapp.ui import theme
from fieldapp.ui.bolt_test_work import ResultWords
from fieldapp.ui.evidence_ways import EvidenceWays
from fieldapp.ui.mesh.placing_sheet import PlacingSheet
from fieldapp.ui.panels.bolt_test_panel import BoltTestPanel
from fieldapp.ui.panels.cards_panel import CardsPanel
from fieldapp.ui.panels.dispute_panel import DisputePanel
from fieldapp.ui.panels.folder_panel import FolderPanel
from fieldapp.ui.panels.granting import GrantPanel
from fieldapp.ui.panels.heading_panel import HeadingPanel
from fieldapp.ui.panels.inspecting import InspectedPanel
from fieldapp.ui.panels.joining import ComparePanel, JoinPanel
from fieldapp.ui.panels.key_asking import KeyWaits
from fieldapp.ui.panels.letters_panel import LettersPanel, TypingPanel
from fieldapp.ui.panels.lines_panel import LinesPanel
from fieldapp.ui.panels.no_entry_panel import NoEntryPanel
from fieldapp.ui.panels.notice_panel import NoticePanel
from fieldapp.ui.panels.password_panel import PasswordPanel
from fieldapp.ui.panels.plan_panel import PlanPanel
from fieldapp.ui.panels.round_panel import RoundPanel, round_shown
from fieldapp.ui.panels.stated_panel import StatedPanel
from fieldapp.ui.photo.before_after_sheet import BeforeAfterSheet
from fieldapp.ui.photo.camera_sheet import CameraSheet
from fieldapp.ui.photo.measure_sheet import MeasureSheet, OpenPhoto
from fieldapp.ui.photo.photo_sheet import PhotoSheet
from fieldapp.ui.photo.textures import texture_of
from fieldapp.ui.photo.view_sheet import ViewSheet
from fieldapp.ui.rehab_work import RehabLine, rehab_lines
from fieldapp.ui.repair.repair_panel import RepairPanel
from fieldapp.ui.report_sheet import ReportSheet
from fieldapp.ui.signed_sheet import SignedSheet
from fieldapp.ui.widgets.asking import CodeSheet, KeySheet, TroubleSheet
from fieldapp.ui.widgets.pad_panel import PadPanel
from fieldapp.ui.widgets.questions_panel import QuestionsPanel
from fieldapp.ui.widgets.reading_pad import ReadingPad
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.work.asked import Asked
from fieldapp.work.damage.draft import begin_damage
from fieldapp.work.damage.questions import questions
from fieldapp.work.damage.stating import record_damage
from fieldapp.work.demo import READY
from fieldapp.work.deviations import REASONS
from fieldapp.work.headings import heading, headings
from fieldapp.work.known import Known
from fieldapp.work.notices import notices
from fieldapp.work.photo.file import PhotoFacts, photo_seen
from fieldapp.work.photo.frames_known import TARGET
from fieldapp.work.photo.measured import keep_measured
from fieldapp.work.photo.photographs import keep_photo, photo_path
from fieldapp.work.photo.taps import OnPhoto, Thing
from fieldapp.work.rehab.steps import plan_of
from fieldapp.work.rounds import rounds
from fieldapp.work.share.sides import SideBySide, side_by_side
from fieldapp.work.standard_in_force import in_force
from fieldapp.work.trends import Evidence
from fieldapp.work.writing import stated_now
from schemas.bodies.photo import Photo
from schemas.bodies.round import Round
from schemas.entry import corrected
from sync.pairing import PairingAnswer
from tests.demo_mine import CODES, session
from tests.house.tree import modules
from tests.photos.files import photo
from tests.ui.at_damage import a_tear
from tests.ui.at_review import A_BOLT_MISSING
from tests.ui.harness import BOUNCE_S, PORTRAIT, Tablet
from tests.ui.mine import DAY, ENGINEER, LONG_NAMES, Hands, at_the_demo
from tests.ui.on_a_round import look_at
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

OPEN, BARRICADED = "4180 Main", "Wrenfall Decline"
HELD = "held "
"""Before a key that is held, not touched."""


@dataclass(frozen=True)
class Way:
    """How a person comes to a sheet: who they are, at which screen, and what they touch."""

    kind: type[Sheet]
    screen: str
    touches: tuple[str, ...]
    heading: str = OPEN
    who: str = DAY
    alone: bool = False
    """Whether it leaves the mine so that others don't come to theirs."""

    @property
    def where(self) -> tuple[str, str, str]:
        """Give what ways must share to be walked one after the other."""
        return self.screen, self.heading, f"{self}" if self.alone else self.who

    def __str__(self) -> str:
        return f"{self.kind.__name__} by {', '.join(self.touches)}"


WAYS = (
    Way(CodeSheet, "sign_in", (DAY,)),
    Way(TroubleSheet, "sign_in", (DAY, *"9999", "Done")),
    Way(HeadingPanel, "shift_board", ("Report",)),
    Way(KeySheet, "shift_board", ("Old support",)),
    Way(KeySheet, "entry", ("Report",)),
    Way(KeySheet, "entry", ("Restrict",)),
    Way(PadPanel, "entry", ("Report", "Fired")),
    Way(InspectedPanel, "entry", ("Report", "Seismic", "At the face", "Inspected")),
    Way(NoEntryPanel, "entry", ("No entry",)),
    Way(StatedPanel, "entry", ("No entry", "Whole heading")),
    Way(NoticePanel, "entry", ("Lift",), BARRICADED, alone=True),
    Way(KeySheet, "entry", ("Lift", "Why"), BARRICADED, alone=True),
    Way(KeySheet, "round", ("Mark one",), READY),
    Way(ReadingPad, "round", ("Other…",), READY),
    Way(QuestionsPanel, "round", ("More", "Answer again"), READY),
    Way(PlacingSheet, "round", ("More", "Mesh"), READY),
    Way(PhotoSheet, "round", ("More", "Photos"), READY),
    Way(ReportSheet, "settings", ("Reports", "This month", "PDF")),
    Way(LettersPanel, "share_folder", ()),
    Way(TypingPanel, "share_folder", ()),
    Way(ViewSheet, "share_folder", ()),
    Way(MeasureSheet, "share_folder", ()),
    Way(CameraSheet, "share_folder", ()),
    Way(TroubleSheet, "review", (f"{HELD}Send back", *"9999", "Done"), READY),
    Way(SignedSheet, "review", (f"{HELD}Send back", *CODES[DAY], "Done"), READY),
    Way(JoinPanel, "share_folder", ("Join a site",)),
    Way(FolderPanel, "share_folder", ("Join a site", "Save as a file")),
    Way(ComparePanel, "share_folder", ()),
    Way(KeyWaits, "share_folder", ()),
    Way(DisputePanel, "share_folder", (), alone=True),
    Way(PasswordPanel, "share_folder", ()),
    Way(CardsPanel, "share_folder", ()),
    Way(PlanPanel, "condition_walk", ()),
    Way(RepairPanel, "share_folder", (), alone=True),
    Way(BoltTestPanel, "share_folder", (), alone=True),
    Way(BeforeAfterSheet, "share_folder", (), alone=True),
    Way(LinesPanel, "share_folder", ()),
    Way(RoundPanel, "share_folder", ()),
    Way(GrantPanel, "review", ("Largest gap", "Grant a deviation", REASONS[0]), READY, ENGINEER),
)
"""One for each sheet there is; write a line here with each new one."""

ANSWER = PairingAnswer(
    tablet="a" * 16, thing="0" * 36, store="0" * 36, mine="Wrenfall", root_keys=("0" * 64,)
)
WITH_ANOTHER_TABLET: Mapping[type[Sheet], Callable[[Hands], Sheet]] = {
    ComparePanel: lambda _hands: ComparePanel(ANSWER, lambda: None),
    KeyWaits: lambda _hands: KeyWaits(DAY, "0" * 64, lambda: None),
    DisputePanel: lambda hands: DisputePanel(hands.shell, dispute(hands), lambda: None),
    PasswordPanel: lambda _hands: PasswordPanel(f"smb://{'mia@server/support/' * 4}", print),
    LettersPanel: lambda _hands: LettersPanel("Which words?", print, longest=40),
    TypingPanel: lambda _hands: TypingPanel("Which clause?", print, longest=40),
    ViewSheet: lambda hands: ViewSheet(hands.shell, a_photo(hands)),
    MeasureSheet: lambda hands: measuring(hands, a_photo(hands)),
    CameraSheet: lambda hands: CameraSheet(hands.shell, print),
    CardsPanel: lambda hands: CardsPanel(how_grave(hands), print),
    RepairPanel: lambda hands: RepairPanel(hands.shell, torn(hands)),
    BeforeAfterSheet: lambda hands: before_and_after(hands),
    LinesPanel: lambda hands: what_a_point_stands_on(hands),
    RoundPanel: lambda hands: RoundPanel(round_shown(hands.site, a_signed_round(hands).id)),
    BoltTestPanel: lambda _hands: BoltTestPanel("proof pull", "at 590.4 m", ResultWords(), ""),
}
"""Those that lie there only when an office, another tablet or a server was heard, a photo is kept
or taken, damage is known, a point of a trend is touched: what leads there is walked elsewhere."""


def a_photo(hands: Hands) -> Known[Photo]:
    return keep_photo(hands.site, photo(hands.home / "IMG_1.jpg"), None, "0" * 36)


def measuring(hands: Hands, taken: Known[Photo]) -> MeasureSheet:
    seen = photo_seen(photo_path(hands.site, taken.body), 400)
    keep_measured(hands.site, taken.id, a_length(seen.facts), session(hands.site, DAY))
    return MeasureSheet(hands.shell, OpenPhoto(taken, seen, texture_of(seen.picture)))


def a_length(facts: PhotoFacts) -> OnPhoto:
    corners = ((0.2, 0.2), (0.6, 0.2), (0.6, 0.6), (0.2, 0.6))
    measured = Thing("length", ((0.3, 0.3), (0.5, 0.5)))
    return OnPhoto(facts, TARGET, corners=corners, things=(measured,))


def how_grave(hands: Hands) -> Asked:
    """Ask which card of the standard's fits."""
    standard = in_force(hands.site, hands.clock()).body
    work = begin_damage(hands.site, hands.heading_id(OPEN))
    asked = questions(work, standard, (), Decimal(612))
    return next(it for it in asked if it.key == "severity")


def torn(hands: Hands) -> RehabLine:
    """Have mesh torn, and give its line of the rehab list."""
    record_damage(hands.site, a_tear(hands), None)
    return rehab_lines(hands.site)[0]


def before_and_after(hands: Hands) -> BeforeAfterSheet:
    """Have photos of a repair from both sides of the work."""
    (tear,) = torn(hands).row.damages
    was = keep_photo(hands.site, photo(hands.home / "was.jpg"), None, tear.id)
    a_photo(hands)
    said = {"before": (was.id,), "started_at": hands.clock()}
    repair = plan_of(tear).model_copy(update=said)
    return BeforeAfterSheet(hands.shell, "0" * 36, repair)


def a_signed_round(hands: Hands) -> Known[Round]:
    return rounds(hands.site, hands.heading_id(OPEN))[-1]


def what_a_point_stands_on(hands: Hands) -> LinesPanel:
    """Have a point with two pages of records, as long as records are."""
    signed = a_signed_round(hands)
    words = f"{LONG_NAMES[0]}, round {signed.body.number}"
    evidence = Evidence("round", signed.id, signed.body.heading, words)
    lines = [EvidenceWays(hands.shell).line(evidence)] * 12
    return LinesPanel("6 May 2031: 77.8 %", "It stands on 12 records.", lines)


def dispute(hands: Hands) -> SideBySide:
    """Have a heading named at once on two tablets."""
    first, engineer = heading(hands.site, OPEN).entry, session(hands.site, ENGINEER).person_id
    for name in ("4180 North drive", "4180 Drive north"):
        stated = stated_now(hands.site, engineer)
        hands.site.store.ledger.add([corrected(first, {"name": name}, stated)])
    return side_by_side(hands.site)[0]


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        yield hands


def go(hands: Hands, way: Way) -> Sheet:
    """Come to a sheet by touches, from the screen that it lies over."""
    if way.screen != "sign_in":
        hands.signed_in(way.who)
        _open(hands, way)
    for touch in way.touches:
        sleep(BOUNCE_S)  # a question takes no answer at once
        if touch.startswith(HELD):
            hands.hold(touch.removeprefix(HELD))
        else:
            hands.tap(touch)
    if way.kind in WITH_ANOTHER_TABLET:
        WITH_ANOTHER_TABLET[way.kind](hands).open()
        hands.rest()
    sheet = hands.tablet.window.children[0]
    assert isinstance(sheet, way.kind), hands.tablet.texts(sheet)
    return sheet


def _open(hands: Hands, way: Way) -> None:
    if way.screen in ("shift_board", "share_folder"):
        hands.go(way.screen)
        return
    if way.heading == READY:
        stops = "ahead 3" if way.screen == "round" else None
        look_at(hands, replace(A_BOLT_MISSING, stops_before=stops))
    hands.go(way.screen, heading_id=hands.heading_id(way.heading))


def closed(hands: Hands) -> int:
    """Count the notices that stand in all headings."""
    return sum(len(notices(hands.site, it.id)) for it in headings(hands.site))


def kinds() -> set[type[Sheet]]:
    """Give every sheet of the app."""
    modules("fieldapp.ui", without=())
    found: set[type[Sheet]] = set()
    waiting = [Sheet]
    while waiting:
        below = [it for it in waiting.pop().__subclasses__() if it.__module__[:5] == "field"]
        found.update(below)
        waiting += below
    return found


def test_every_sheet_of_the_app_is_opened_here() -> None:
    missing = kinds() - {way.kind for way in WAYS}

    assert not missing, "write in WAYS how a person comes to it"


@pytest.mark.parametrize("where", dict.fromkeys(way.where for way in WAYS), ids=", ".join)
def test_every_sheet_is_sound_both_ways_and_two_touches_from_no_entry(
    hands: Hands, where: tuple[str, str, str]
) -> None:
    for way in WAYS:
        if way.where == where:
            is_sound_and_two_touches_from_no_entry(hands, way)
            hands.shell.close_sheets()


def is_sound_and_two_touches_from_no_entry(hands: Hands, way: Way) -> None:
    hands.tablet.turn(PORTRAIT)
    sheet = go(hands, way)
    assert faults_both_ways(hands.tablet) == [], way
    before = closed(hands)
    hands.tablet.touches = 0

    if not isinstance(sheet, NoEntryPanel):
        key = hands.tablet.find("No entry", sheet)
        assert key.height >= theme.TOUCH, way
        hands.tablet.tap(key)
        hands.rest()
    hands.tablet.tap(hands.tablet.find_all("Whole heading", hands.tablet.window.children[0])[-1])
    hands.rest()

    assert hands.tablet.touches <= 2, way
    assert closed(hands) == before + 1, way
