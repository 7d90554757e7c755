"""A heading's bolts, mesh and damage as a DXF drawing in the mine's own grid, in metres.

It opens over the mine plan. Each thing stands on the layer of its name; what lies beyond the
surveyed line is left out and counted in the drawing's title.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import UTC
from io import StringIO
from typing import TYPE_CHECKING, Final

from fieldapp.assess.demanded import profile_of
from fieldapp.assess.profile.profile import Profile
from fieldapp.assess.seen import borders_of
from fieldapp.assess.surveyed_line import LinePoint, Place, SurveyedLine
from fieldapp.report.drive.picture import zone_bands
from fieldapp.report.words.findings import when
from fieldapp.work.reporting.facts import (
    HeadingFacts,
    PlacedFacts,
    RoundFacts,
)
from fieldapp.work.reporting.told import (
    DamageTold,
    LapTold,
    RoundTold,
    SheetTold,
)
from fieldapp.work.reporting.told_of_intersections import IntersectionTold
from schemas.standard import SupportClass
from schemas.trouble import BadInput
from sync.outcome import Progress, Watcher, nobody

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

LINE: Final = "heading line"
BOLTS: Final = {
    "present": "bolts",
    "missing": "bolts missing",
    "not looked at": "bolts not looked at",
}
LAPS: Final = "mesh laps"
SHEETS: Final = "mesh sheets"
DAMAGE: Final = "damage"
RESTORED: Final = "damage restored"
ENTRY: Final = "entry line"
INTERSECTIONS: Final = "intersections"
IN_PLAN: Final = {"bolt": "intersection bolts", "cable": "intersection cables"}
WORDS: Final = "words"
LAYERS: Final[dict[str, int]] = {
    LINE: 8,
    "bolts": 3,
    "bolts missing": 1,
    "bolts not looked at": 9,
    LAPS: 5,
    SHEETS: 8,
    DAMAGE: 1,
    RESTORED: 9,
    ENTRY: 2,
    INTERSECTIONS: 4,
    "intersection bolts": 3,
    "intersection cables": 6,
    WORDS: 7,
}
"""With the number of each one's colour, which the layer's name says too."""
LETTERS_M: Final = 0.3
STEP_M: Final = 0.25
"""So far apart are the points of a line over the rock."""
CROSS_IN_CIRCLE: Final = 35
"""How points are shown, by the drawing's own header ($PDMODE)."""
POINT_M: Final = 0.25


@dataclass(eq=False)
class NoSurveyedLine(BadInput):
    """A heading can't be drawn over the mine plan."""

    name: str

    happened = "{name} has no surveyed line, so nothing in it can be placed on the mine plan."
    kept = "Nothing was written."
    do_next = (
        "Enter its line, two points or more: lastrow heading survey HEADING FILE.csv, with "
        "chainage, east, north and the height of the floor."
    )


@dataclass(eq=False)
class NoProfile(BadInput):
    """The shape of a heading is not known."""

    name: str
    support_class: str

    happened = "{name} can't be drawn: no standard here has its support class {support_class}."
    kept = "Nothing was written."
    do_next = "Adopt a standard that has it, then draw the heading again."


@dataclass
class _Plan:
    facts: PlacedFacts
    line: SurveyedLine
    profile: Profile
    support: SupportClass
    space: "Modelspace"
    left_out: Counter[str] = field(default_factory=Counter)

    def place(self, x_m: float, s_m: float) -> Place:
        """Give where a place on the rock is in the grid."""
        left, right = self.profile.floor_s_m
        across, up = self.profile.at(min(max(s_m, left), right))
        return self.line.at(x_m, across, up)

    def across(self, x_m: float, s_from_m: float, s_to_m: float) -> list[Place]:
        """Give a line over the rock from one side to the other."""
        steps = max(1, round((s_to_m - s_from_m) / STEP_M))
        each = (s_to_m - s_from_m) / steps
        return [self.place(x_m, s_from_m + number * each) for number in range(steps + 1)]


def plan_drawing(facts: PlacedFacts, code: str, watch: Watcher = nobody) -> bytes:
    """Draw a heading, or one round of it, in the mine's grid.

    `code` is that of the report, as people read it.

    Raises
    ------
    NoSurveyedLine
        It has no line of two points at least.
    NoProfile
        No standard here has its class, so that its shape is not known.
    Stopped
        The watcher stopped it.
    """
    line, support = _line(facts), facts.support
    if support is None:
        raise NoProfile(facts.heading.name, facts.heading.support_class)
    from ezdxf import units
    from ezdxf.filemanagement import new

    document = new("R2010", setup=False)
    document.units = units.M
    document.header["$PDMODE"] = CROSS_IN_CIRCLE
    document.header["$PDSIZE"] = POINT_M
    for name, colour in LAYERS.items():
        document.layers.add(name, color=colour)
    profile = profile_of(support.profile, None)
    plan = _Plan(facts, line, profile, support, document.modelspace())
    _draw(plan, code, watch)
    return _written(document)


def _line(facts: PlacedFacts) -> SurveyedLine:
    points = [
        LinePoint(*map(float, (it.chainage_m, it.east_m, it.north_m, it.height_m)))
        for it in facts.surveyed
    ]
    try:
        return SurveyedLine(points)
    except ValueError as error:
        raise NoSurveyedLine(facts.heading.name) from error


def _written(document: "Drawing") -> bytes:
    kept = StringIO()
    document.write(kept)
    return kept.getvalue().encode(document.output_encoding, errors="dxfreplace")


def _draw(plan: _Plan, code: str, watch: Watcher) -> None:
    points = sorted(plan.facts.surveyed, key=lambda it: it.chainage_m)
    floor = [plan.line.at(float(it.chainage_m)) for it in points]
    _polyline(plan, floor, LINE)
    for number, told in enumerate(plan.facts.rounds):
        watch(Progress("drawing rounds", number, len(plan.facts.rounds), 0, 0.0))
        _draw_round(plan, told)
    for damage in plan.facts.damages:
        _draw_damage(plan, damage)
    for it in plan.facts.intersections if isinstance(plan.facts, HeadingFacts) else ():
        _draw_intersection(plan, it)
    _draw_entry(plan)
    _draw_title(plan, code, floor[0])


def _draw_round(plan: _Plan, it: RoundTold) -> None:
    for bolt in it.bolts:
        x_m = float(bolt.chainage_m)
        if plan.line.holds(x_m):
            _point(plan, plan.place(x_m, float(bolt.s_m)), BOLTS[bolt.state])
        else:
            plan.left_out["bolts"] += 1
    for sheet in it.sheets:
        _draw_sheet(plan, sheet)
    for lap in it.laps:
        _draw_lap(plan, lap, float(lap.middle_m))


def _draw_sheet(plan: _Plan, sheet: SheetTold) -> None:
    ends = (float(sheet.left_s_m), float(sheet.right_s_m))
    edges = (float(sheet.from_m), float(sheet.to_m))
    if all(map(plan.line.holds, edges)):
        _strip(plan, edges, ends, SHEETS)
    else:
        plan.left_out["sheets"] += 1


def _draw_lap(plan: _Plan, lap: LapTold, middle_m: float) -> None:
    half, ends = float(lap.width_m) / 2, (float(lap.left_s_m), float(lap.right_s_m))
    edges = (middle_m - half, middle_m + half)
    if all(map(plan.line.holds, edges)):
        _strip(plan, edges, ends, LAPS)
    else:
        plan.left_out["laps"] += 1


def _strip(plan: _Plan, edges: tuple[float, ...], ends: tuple[float, float], layer: str) -> None:
    """Draw the outline of a strip over the rock."""
    out, back = (plan.across(x_m, *ends) for x_m in edges)
    _polyline(plan, [*out, *reversed(back), out[0]], layer)


def _draw_damage(plan: _Plan, it: DamageTold) -> None:
    ends = [float(x_m) for x_m in (it.from_m, it.to_m)]
    if not all(map(plan.line.holds, ends)):
        plan.left_out["damage"] += 1
        return
    layer = RESTORED if it.outcome == "restored" else DAMAGE
    s_m = _s_of(plan, it)
    first = plan.place(ends[0], s_m)
    if ends[0] == ends[1]:
        _point(plan, first, layer)
    else:
        _polyline(plan, [first, plan.place(ends[1], s_m)], layer)
    state = "restored" if layer == RESTORED else it.priority or "P?"
    _words(plan, f"{it.label} {it.kind} {state}", first, layer)


def _draw_intersection(plan: _Plan, it: IntersectionTold) -> None:
    """Draw what stands beneath it at the height of the crown: it is known in plan alone."""
    _across, crown_m = plan.profile.at(0.0)
    corners: list[Place] = []
    for one in it.stands:
        x_m = float(one.chainage_m)
        if not plan.line.holds(x_m):
            plan.left_out[f"{one.what}s of intersections"] += 1
            continue
        at = plan.line.at(x_m, float(one.across_m), crown_m)
        if one.what == "corner":
            corners.append(at)
        else:
            _point(plan, at, IN_PLAN[one.what])
    if len(corners) > 1:
        _polyline(plan, [*corners, corners[0]], INTERSECTIONS)
        span = "" if it.span_m is None else f" span {it.span_m:.2f} m"
        _words(plan, f"{it.label}{span}, cables {it.step}", corners[0], INTERSECTIONS)


def _s_of(plan: _Plan, it: DamageTold) -> float:
    """Give where a damage is on the rock: in the middle of its zone where nobody said more."""
    if it.s_m is not None:
        return float(it.s_m)
    left, right = plan.profile.floor_s_m
    zones = zone_bands(borders_of(plan.support, plan.profile), left, right)
    return next(((one.s_from_m + one.s_to_m) / 2 for one in zones if one.name == it.zone), 0.0)


def _draw_entry(plan: _Plan) -> None:
    line_m = float(plan.facts.heading.entry.line_m)
    if plan.line.holds(line_m):
        over = plan.across(line_m, *plan.profile.floor_s_m)
        _polyline(plan, over, ENTRY)
        _words(plan, f"entry line {line_m:.1f} m", over[0], ENTRY)


def _draw_title(plan: _Plan, code: str, at: Place) -> None:
    for number, words in enumerate(_title(plan, code)):
        _words(plan, words, (at[0], at[1] - 2 * LETTERS_M * (number + 2), at[2]), WORDS)


def _title(plan: _Plan, code: str) -> Iterator[str]:
    facts = plan.facts
    demo = "DEMO, WORKED EXAMPLE: " if facts.demo else ""
    numbers = [f"round {it.number}" for it in facts.rounds if isinstance(facts, RoundFacts)]
    of = ", ".join((facts.mine, facts.heading.name, *numbers))
    yield f"{demo}{of}, as at {when(facts.as_at, UTC)}"
    yield f"lastrow verify {code}"
    yield "It records and compares; it does not make ground safe. A barricade outranks it."
    for what, number in plan.left_out.items():
        yield f"left out beyond the surveyed line: {number} {what}"
    yield from facts.lacking


def _point(plan: _Plan, at: Place, layer: str) -> None:
    plan.space.add_point(at, dxfattribs={"layer": layer})


def _polyline(plan: _Plan, points: Sequence[Place], layer: str) -> None:
    plan.space.add_polyline3d(points, dxfattribs={"layer": layer})


def _words(plan: _Plan, words: str, at: Place, layer: str) -> None:
    plan.space.add_text(words, height=LETTERS_M, dxfattribs={"layer": layer, "insert": at})
