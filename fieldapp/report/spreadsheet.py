"""A report's facts as a spreadsheet: a sheet a subject, numbers as numbers, times as times.

Columns are the facts' own fields, so that nothing is left out and nothing said twice: the unit
that ends a field's name stands in its head. Times are by the mine's own clock, and say so.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from io import BytesIO
from typing import TYPE_CHECKING, Final, TypeAlias, get_args
from zoneinfo import ZoneInfo

from pydantic import BaseModel

from fieldapp.report.load_told import BoltLoadTold
from fieldapp.report.pages.laying import CAUTIONS
from fieldapp.work.reporting.facts import (
    AnyFacts,
    Facts,
    HeadingFacts,
    HeadingMonth,
    MonthFacts,
    PlacedFacts,
    RehabFacts,
    RehabLine,
    RoundFacts,
)
from fieldapp.work.reporting.told import RoundTold
from fieldapp.work.reporting.told_of_trends import TrendTold
from fieldapp.work.reporting.told_of_work import WorkDone
from sync.outcome import Progress, Watcher, nobody

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook
    from xlsxwriter.worksheet import Worksheet

UNITS: Final = {
    "m": "m",
    "mm": "mm",
    "m2": "m²",
    "t": "t",
    "days": "days",
    "kn": "kN",
    "mpa": "MPa",
    "nm": "N·m",
    "kpa": "kPa",
    "deg": "°",
    "percent": "%",
    "min": "min",
    "s": "s",
    "um_per_year": "µm/year",
    "kg_per_m3": "kg/m³",
    "kn_per_m3": "kN/m³",
    "per_m2": "1/m²",
    "per_hour_m2": "m²/h",
}
"""By what ends a field's name; of two that fit, the longer one."""
WIDEST: Final = 48
BOLD: Final = {"bold": True, "text_wrap": True, "valign": "top", "bottom": 1}
FORMATS: Final = {
    "number": {"num_format": "0.00##"},
    "whole": {"num_format": "0"},
    "time": {"num_format": "yyyy-mm-dd hh:mm:ss"},
    "day": {"num_format": "yyyy-mm-dd"},
    "text": {"text_wrap": True, "valign": "top"},
}
Value: TypeAlias = str | int | bool | Decimal | datetime | date | None
Cells: TypeAlias = dict[str, Value]


@dataclass(frozen=True)
class Sheet:
    """One subject: its rows, each a figure or word by the name of its column."""

    name: str
    rows: Sequence[Cells]


def spreadsheet(
    facts: AnyFacts | RoundFacts,
    code: str,
    watch: Watcher = nobody,
    loads: Sequence[BoltLoadTold] = (),
) -> bytes:
    """Write a report's facts as a workbook; `code` is that of the report, as people read it.

    `loads`: what each bolt of a round carries, on a sheet of its own for engineers.

    Raises
    ------
    Stopped
        The watcher stopped it.
    """
    from xlsxwriter import Workbook

    kept = BytesIO()
    sheets = [*_about(facts, code), *_sheets(facts)]
    if loads:
        sheets.append(Sheet("load", [_cells(it) for it in loads]))
    with Workbook(kept, {"in_memory": True, "strings_to_formulas": False}) as book:
        book.set_properties({"title": f"Lastrow {code}", "created": facts.as_at})
        writing = _Writing(book, facts.zone)
        for number, sheet in enumerate(sheets):
            watch(Progress("writing sheets", number, len(sheets), 0, 0.0))
            writing.write(sheet)
    return kept.getvalue()


def _about(facts: Facts, code: str) -> Iterator[Sheet]:
    """Say what it is and by which code it is known; what is of one heading has its own sheets."""
    plain = {name: it for name, it in _own_cells(facts).items() if name != "lacking"}
    yield Sheet("about", [{**plain, "report_code": code}])
    yield Sheet("cautions", [{"caution": words} for words in (*CAUTIONS, *facts.lacking)])


def _sheets(facts: AnyFacts | RoundFacts) -> Iterator[Sheet]:
    if isinstance(facts, HeadingFacts):
        yield from _of_heading(facts)
    elif isinstance(facts, MonthFacts):
        yield from _of_month(facts)
    elif isinstance(facts, RoundFacts):
        yield from _of_round(facts)
    else:
        yield from _of_rehab(facts)


def _of_heading(facts: HeadingFacts) -> Iterator[Sheet]:
    yield from _of_place(facts)
    yield Sheet("repairs", [_cells(it) for it in facts.repairs])
    yield Sheet("walks", [_cells(it) for it in facts.walks])
    yield Sheet("steel", [_cells(it) for it in facts.steel])
    yield Sheet("tests", [_cells(it) for it in facts.tests])
    yield Sheet("tests due", [_cells(it) for it in facts.tests_due])
    if facts.intersections:
        yield Sheet("intersections", [_cells(it) for it in facts.intersections])
        plan = [(it.label, one) for it in facts.intersections for one in it.stands]
        yield Sheet("in plan", [{"intersection": of, **_cells(one)} for of, one in plan])
    yield Sheet("events", [_cells(it) for it in facts.events])
    yield Sheet("months", [_cells(it) for it in facts.months])
    yield from _of_trends(facts.trends)
    yield Sheet("surveyed line", [_cells(it) for it in facts.surveyed])
    yield Sheet("measured anew", [_cells(it) for it in facts.rechained])


def _of_place(facts: PlacedFacts) -> Iterator[Sheet]:
    yield Sheet("heading", [_cells(facts.heading)])
    if facts.support is not None:
        demanded = _cells(facts.support).items()
        yield Sheet("demanded", [{"what": _titled(name), "value": it} for name, it in demanded])
    yield from _round_sheets([({}, it) for it in facts.rounds])
    yield Sheet("damage", [_cells(it) for it in facts.damages])


def _of_round(facts: RoundFacts) -> Iterator[Sheet]:
    yield from _of_place(facts)
    yield Sheet("surveyed line", [_cells(it) for it in facts.surveyed])


def _round_sheets(rounds: Sequence[tuple[Cells, RoundTold]]) -> Iterator[Sheet]:
    yield Sheet("rounds", [{**of, **_cells(it)} for of, it in rounds])
    for name, told in (
        ("findings", [(of, it, it.findings) for of, it in rounds]),
        ("bolts", [(of, it, it.bolts) for of, it in rounds]),
        ("laps", [(of, it, it.laps) for of, it in rounds]),
        ("sheets", [(of, it, it.sheets) for of, it in rounds]),
        ("take-off", [(of, it, it.materials) for of, it in rounds]),
    ):
        rows = [
            {**of, "round": it.mark, **_cells(one)} for of, it, several in told for one in several
        ]
        if rows or name == "findings":
            yield Sheet(name, rows)


def _of_month(facts: MonthFacts) -> Iterator[Sheet]:
    yield Sheet("headings", [_month_line(it) for it in facts.headings])
    told: dict[str, list[Cells]] = {}
    for it in facts.headings:
        for name, several in (
            ("rounds", it.rounds),
            ("judged otherwise", it.judged_otherwise),
            ("damage found", it.found),
            ("repaired", it.repaired),
            ("walks", it.walks),
            ("tests", it.tests),
            ("tests due", it.tests_due),
        ):
            rows: list[Cells] = [{"heading": it.heading.name, **_cells(one)} for one in several]
            told.setdefault(name, []).extend(rows)
    yield from (Sheet(name, rows) for name, rows in told.items())
    yield Sheet("overdue", [_line(it) for it in facts.overdue])
    yield Sheet("months", [_cells(it) for it in facts.months])
    yield from _of_work(facts.work)
    yield from _of_trends(facts.trends)


def _of_work(work: WorkDone) -> Iterator[Sheet]:
    yield Sheet("work", [_cells(work)])
    yield Sheet("pace and cost", [_cells(it) for it in work.pace])
    yield Sheet("pace by month", [_cells(it) for it in work.by_month])
    yield Sheet("beyond the last row", [_cells(it) for it in work.beyond])
    yield Sheet("delays", [_cells(it) for it in work.delays])
    yield Sheet("take-off", [_cells(it) for it in work.materials])


def _of_trends(trends: Sequence[TrendTold]) -> Iterator[Sheet]:
    yield Sheet("trends", [_cells(it) for it in trends])
    yield Sheet(
        "trend points",
        [
            {"title": it.title, "unit": it.unit, "group": it.group, **_cells(one)}
            for it in trends
            for one in it.drawn
        ],
    )


def _month_line(it: HeadingMonth) -> Cells:
    due = _cells(it.walk_due, "walk_") if it.walk_due else {}
    return {**_cells(it.heading), **_cells(it.month), **due}


def _of_rehab(facts: RehabFacts) -> Iterator[Sheet]:
    every = (*facts.lines, *facts.verified)
    yield Sheet("rehab list", [_line(it) for it in facts.lines])
    yield Sheet("verified lately", [_line(it) for it in facts.verified])
    yield Sheet(
        "damage",
        [{"heading": it.heading, **_cells(one)} for it in every for one in it.damages],
    )
    yield Sheet(
        "repairs",
        [{"heading": it.heading, **_cells(it.repair)} for it in every if it.repair],
    )


def _line(it: RehabLine) -> Cells:
    """Give a line with how soon it is done: by its most urgent damage."""
    first = it.damages[0] if it.damages else None
    return {
        **_cells(it),
        "what": ", ".join(dict.fromkeys(one.kind for one in it.damages)),
        "priority": first.priority if first else None,
        "due_on": first.due_on if first else None,
        "overdue_days": first.overdue_days if first else None,
    }


def _cells(model: BaseModel, before: str = "") -> Cells:
    """Give a model's fields as cells; models in it become columns, rows of models do not."""
    cells: Cells = {}
    for name in type(model).model_fields:
        value = getattr(model, name)
        if isinstance(value, BaseModel):
            cells |= _cells(value, f"{before}{name}_")
        else:
            cells |= {before + key: it for key, it in _cell(model, name).items()}
    return cells


def _own_cells(model: BaseModel) -> Cells:
    """Give the fields of a model that are no models themselves."""
    names = type(model).model_fields
    cells = (_cell(model, it) for it in names if not isinstance(getattr(model, it), BaseModel))
    return {name: value for cell in cells for name, value in cell.items()}


def _cell(model: BaseModel, name: str) -> Cells:
    """Give a field as a cell; none where it is for models: they have columns or rows elsewhere."""
    value = getattr(model, name)
    if _is_for_models(type(model), name):
        return {}
    return {name: "; ".join(map(str, value)) if isinstance(value, tuple) else value}


def _is_for_models(model: type[BaseModel], name: str) -> bool:
    """Tell whether a field holds models, also where it is empty or None."""
    items = get_args(model.model_fields[name].annotation)
    return any(isinstance(it, type) and issubclass(it, BaseModel) for it in items)


def _titled(name: str) -> str:
    """Put a field's name into words, with its unit: "from_m" as "from [m]"."""
    ends = [it for it in UNITS if name.endswith(f"_{it}")]
    if not ends:
        return name.replace("_", " ")
    unit = max(ends, key=len)
    return f"{name.removesuffix(unit)[:-1].replace('_', ' ')} [{UNITS[unit]}]"


class _Writing:
    def __init__(self, book: "Workbook", zone: str) -> None:
        self._book, self._zone_name, self._zone = book, zone, ZoneInfo(zone)
        self._head = book.add_format(BOLD)
        self._formats = {name: book.add_format(it) for name, it in FORMATS.items()}

    def write(self, sheet: Sheet) -> None:
        """Write one sheet; one without rows says so."""
        page = self._book.add_worksheet(sheet.name)
        names = list(dict.fromkeys(name for row in sheet.rows for name in row))
        if not names:
            page.write_string(0, 0, "nothing was recorded", self._head)
            return
        for column, name in enumerate(names):
            values = [row.get(name) for row in sheet.rows]
            self._column(page, column, self._title(name, values), values)
        page.freeze_panes(1, 0)
        page.autofilter(0, 0, len(sheet.rows), len(names) - 1)

    def _title(self, name: str, values: Sequence[Value]) -> str:
        title = _titled(name)
        timed = any(isinstance(it, datetime) for it in values)
        return f"{title} [{self._zone_name}]" if timed else title

    def _column(self, page: "Worksheet", column: int, title: str, values: Sequence[Value]) -> None:
        page.write_string(0, column, title, self._head)
        longest = max((len(str(it)) for it in values if it is not None), default=0)
        words = max(map(len, re.split(r"[ _]", title)))
        page.set_column(column, column, min(WIDEST, max(words, longest, 6)) + 2)
        for row, value in enumerate(values, start=1):
            self._cell(page, (row, column), value)

    def _cell(self, page: "Worksheet", at: tuple[int, int], value: Value) -> None:
        if value is None:
            return
        if isinstance(value, bool):
            page.write_boolean(*at, value)
        elif isinstance(value, Decimal | int):
            kind = "number" if isinstance(value, Decimal) else "whole"
            page.write_number(*at, float(value), self._formats[kind])
        elif isinstance(value, datetime):
            local = value.astimezone(self._zone).replace(tzinfo=None)
            page.write_datetime(*at, local, self._formats["time"])
        elif isinstance(value, date):
            page.write_datetime(*at, value, self._formats["day"])
        else:
            page.write_string(*at, str(value), self._formats["text"])
