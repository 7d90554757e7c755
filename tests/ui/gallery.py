"""Every widget of the kit on a few pages, as a screen would use it."""

from collections.abc import Callable

from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldapp.ui import theme
from fieldapp.ui.density import BadPixelsPerInch
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.chip_row import ChipRow
from fieldapp.ui.widgets.drive_map import DriveMap
from fieldapp.ui.widgets.finding_row import FindingRow
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.heading_row import HeadingRow, HeadingTitles
from fieldapp.ui.widgets.hold_key import HoldKey
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.message_panel import MessagePanel
from fieldapp.ui.widgets.number_pad import NumberPad
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.words import Words
from schemas.trouble import Trouble
from tests.ui.sample_drive import round_drawing

FINDINGS = (
    ("no entry", "Largest gap", "2.43 m", "at most 1.98 m"),
    ("rework", "Mesh lap, least", "210 mm", "at least 300 mm"),
    ("not looked at", "Row 3", "–", "9 bolts"),
    ("measure again", "Last row to face", "0.82 m", "at most 0.80 m"),
    ("fix this shift", "Plates seated", "16 of 17", "1 loose"),
    ("accept", "Row spacing", "1.18 m", "at most 1.30 m"),
    ("accept", "Bolt length", "2.4 m", "at least 2.4 m"),
)

HEADINGS = (
    ("Wrenfall Decline", "to 1 385.8 m", "no entry beyond", "no entry", "No entry", "1 390.2"),
    ("4180 Main", "to 611.2 m", "nobody beyond", "", "Accepted", "612.0"),
    ("4180 Ore Drive N", "to 145.2 m", "rework beyond", "rework", "Rework", "148.6"),
    ("4155 Ore Drive S", "to 229.4 m", "bolting", "not looked at", "Bolting now", "233.1"),
    ("4130 Cuddy 2", "to 39.4 m", "2.1 m not signed", "not looked at", "Not signed", "41.5"),
    ("4130 Return Air", "not known", "old drive", "", "No record", "310.0"),
)
DETAILS = {"no entry": "gap 2.43 m, row 2", "rework": "1 plate, lap 210 mm"}


def header(way_out: str = "Board") -> Header:
    return Header(
        way_out=way_out,
        title="Wrenfall Decline" if way_out else "Shift board",
        subtitle="Round 214 · 1 386.4 to 1 390.2 m · standard S-2 rev 5",
        side="on this tablet 06:42",
        side_strong="entry to 1 385.8 m",
    )


def page(*parts: Widget, way_out: str = "Board") -> Widget:
    """A screen: header, then parts from the top, the last one at the bottom edge."""
    root = BoxLayout(orientation="vertical", spacing=theme.GAP, padding=(0, 0, 0, theme.EDGE))
    for part in (header(way_out), *parts):
        root.add_widget(part)
    return root


def inset(part: Widget) -> Widget:
    box = BoxLayout(padding=(theme.EDGE, 0), size_hint_y=part.size_hint_y)
    if part.size_hint_y is None:
        part.bind(height=lambda _, height: setattr(box, "height", height))
        box.height = part.height
    box.add_widget(part)
    return box


def round_keys() -> KeyRow:
    keys = KeyRow()
    keys.add_widget(
        Key(
            title="Row 3 as standard",
            second="how many plates?",
            role="main",
            tall=True,
            size_hint_x=1.5,
        )
    )
    keys.add_widget(Key(title="Mark one", second="loose, missing", tall=True, size_hint_x=1.1))
    keys.add_widget(Key(title="No entry", role="grave", tall=True, size_hint_x=0.8))
    keys.add_widget(Key(title="Undo", tall=True, size_hint_x=0.7))
    keys.add_widget(
        Key(title="Review and sign", second="3 to fix, 2 not looked at", tall=True, disabled=True)
    )
    return keys


def finding_list() -> PagedList:
    def row(finding: tuple[str, str, str, str]) -> FindingRow:
        verdict, title, measured, limit = finding
        return FindingRow(verdict=verdict, title=title, measured=measured, limit=limit)

    return PagedList(items=FINDINGS, make_row=row)


def findings_page() -> Widget:
    return page(inset(finding_list()), round_keys())


def board_page() -> Widget:
    def row(told: tuple[str, ...]) -> HeadingRow:
        heading, entry, state, verdict, last_round, face_m = told
        detail = DETAILS.get(verdict, "round 87")
        return HeadingRow(
            heading=heading,
            entry=entry,
            beyond=[state],
            verdict=verdict,
            last_round=[last_round],
            reason=[detail],
            face=face_m,
            act="Go on",
        )

    rows = PagedList(items=HEADINGS, make_row=row, head=HeadingTitles())

    def fit(_rows: Widget, width: float) -> None:
        rows.row_height = theme.TOUCH if width > theme.mm(150) else theme.mm(22.9)

    rows.bind(width=fit)
    return page(inset(rows), round_keys(), way_out="")


def chips_page() -> Widget:
    plates = ChipRow(values=["7", "8", "9", "10"], unit="plates")
    gaps = ChipRow(values=["tight", "< 10", "10–20", "> 20"], unit="mm", chosen="10–20")
    keys = KeyRow()
    keys.add_widget(HoldKey(title="Sign", role="main"))
    keys.add_widget(HoldKey(title="Close the heading", role="grave"))
    return page(
        inset(Words(text="How many plates are seated in row 3?", asked=theme.TITLE_TEXT)),
        inset(plates),
        inset(gaps),
        Widget(),
        CautionLine(sentence="A barricade or sign in the heading outranks this screen."),
        CautionLine(
            sentence="This app records and compares, it does not make ground safe; the mine's "
            "standard, local law and a qualified geotechnical engineer decide."
        ),
        keys,
    )


def pad_page() -> Widget:
    pad = NumberPad(
        question="Mesh lap, left shoulder, row 1 to row 2",
        unit="mm",
        limit="at least 300 mm",
        decimals=0,
        largest="2400",
    )
    return page(pad)


def code_page() -> Widget:
    return page(NumberPad(mode="code", question="Sign code of the shift supervisor"))


def map_page() -> Widget:
    """The round: map and findings beside each other, or one above the other."""
    both = BoxLayout(spacing=theme.GAP)
    drive_map = DriveMap(drawing=round_drawing())
    both.add_widget(drive_map)
    both.add_widget(finding_list())

    def stand(_: Widget, size: tuple[float, float]) -> None:
        lying = size[0] > size[1]
        both.orientation = "horizontal" if lying else "vertical"
        drive_map.size_hint = (2, 1) if lying else (1, 1.4)

    root = page(inset(both), round_keys())
    root.bind(size=stand)
    return root


def sheet_page() -> list[Widget]:
    """The chips' page under a sheet."""
    sheet = Sheet(title="Plate gap, row 2, bolt 7", note="Look at the gap between plate and rock.")
    sheet.add_widget(inset(ChipRow(values=["tight", "< 10", "10–20", "> 20"], unit="mm")))
    sheet.add_widget(Key(title="Return", tall=True))
    return [chips_page(), sheet]


def message_page() -> Widget:
    panel = MessagePanel()
    panel.tell(trouble())
    keys = KeyRow()
    keys.add_widget(Key(title="Return", tall=True))
    keys.add_widget(Key(title="Try again", role="main", tall=True))
    return page(inset(panel), Widget(), keys)


def trouble() -> Trouble:
    return BadPixelsPerInch(ppi="1490")


PAGES: dict[str, Callable[[], list[Widget]]] = {
    "findings": lambda: [findings_page()],
    "board": lambda: [board_page()],
    "chips": lambda: [chips_page()],
    "pad": lambda: [pad_page()],
    "code": lambda: [code_page()],
    "message": lambda: [message_page()],
    "map": lambda: [map_page()],
    "sheet": sheet_page,
}
"""The layers of each page, the lowest first."""
