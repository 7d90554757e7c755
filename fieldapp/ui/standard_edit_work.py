"""What the editor of the standard asks its worker for, and the words it writes; no widgets."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Final
from zoneinfo import ZoneInfo

from fieldapp.assess.profile.profile import ProfileRefused
from fieldapp.assess.standard_check import Caution, GapLimits, Refusal, proposed_gap_limits
from fieldapp.report.pattern_picture import pattern_picture
from fieldapp.report.shapes import Drawing
from fieldapp.report.words.findings import day, sentence
from fieldapp.ui.translate import _
from fieldapp.work.site import Site
from fieldapp.work.standard_editing import (
    Change,
    CheckDiffers,
    Field,
    Group,
    JudgedDifferently,
    StandardWork,
    Steps,
    changes,
    groups_of_class,
    groups_of_mine,
    in_a_row,
    named,
    steps_of,
)
from schemas.findings import Verdict
from schemas.reasons import as_typed
from schemas.standard import Standard

LONGEST_DETAIL: Final = 42
LEFT_OUT: Final = _("left out")
TO_BE_FILLED: Final = _("to be filled in")
SPEAK_ALONE: Final = ("code", "name", "kind", "shape", "what", "title", "condition", "grade")
"""Fields whose value says by itself what it is."""
GAP: Final = ("limits", "largest_gap")


@dataclass(frozen=True)
class Fault:
    """One thing that the check of the standard says; the grave ones keep it from being signed."""

    words: str
    place: str
    steps: Steps
    grave: bool

    @property
    def detail(self) -> str:
        """What follows from it, and where it stands."""
        words = _("refused at {place}") if self.grave else _("to be known, at {place}")
        return words.format(place=self.place)


@dataclass(frozen=True)
class EditPage:
    """The new revision as it stands, and the part of it that is in sight."""

    work: StandardWork
    number: int | None
    """Place of the class in sight; None: what holds in the whole mine."""
    title: str
    groups: tuple[Group, ...]
    drawing: Drawing | None
    proposed: GapLimits | None
    """Gap limits that fit the pattern, where it can be read and others stand there."""
    changes: tuple[Change, ...]
    faults: tuple[Fault, ...]

    began: str
    """What it began from, in words."""

    def faults_of(self, number: int | None) -> tuple[Fault, ...]:
        """Give those of one class; None: of what holds in the whole mine."""
        return tuple(it for it in self.faults if class_of(it.steps) == number)

    def faults_in(self, group: Group) -> tuple[Fault, ...]:
        """Give those of one part in sight."""
        own = self.faults_of(self.number)
        return tuple(it for it in own if group_around(self, it.steps) is group)

    def faults_at(self, field: Field) -> tuple[Fault, ...]:
        """Give those of one field, or of what stands within it."""
        return tuple(it for it in self.faults if it.steps[: len(field.steps)] == field.steps)

    @property
    def drawn(self) -> str:
        """What the drawing's tags say, which find no room on a small one."""
        if self.drawing is None:
            return ""
        return _("As drawn: {gaps}.").format(gaps=", ".join(it.text for it in self.drawing.tags))

    @property
    def said(self) -> str:
        """In one line, how far it is."""
        grave = [it for it in self.faults if it.grave]
        if grave:
            more = _(" {count} more.").format(count=len(grave) - 1) if len(grave) > 1 else ""
            undrawn = "" if self.drawing else _(" No pattern is drawn until it can be read.")
            return f"{grave[0].words}{more}{undrawn}"
        if not self.changes:
            return self.began
        to_know = len(self.faults)
        if to_know:
            return _("It can be signed; {count} to be known before.").format(count=to_know)
        return _("It can be signed.")


def edit_page(site: Site, work: StandardWork, number: int | None) -> EditPage:
    """Gather what is in sight of a class, or of the whole mine."""
    document = work.document
    count = len(document["classes"])
    number = None if number is None else min(number, count - 1)
    if number is None:
        groups, title = groups_of_mine(document), _("Whole mine")
    else:
        groups = groups_of_class(document, number)
        title = _("Class {code}").format(code=document["classes"][number]["code"])
    return EditPage(
        work,
        number,
        title,
        groups,
        _drawing(site, work, number),
        _proposed(work, number),
        changes(work.base, document),
        tuple(_faults(work)),
        _began(site, work),
    )


def mark_of(faults: Sequence[Fault]) -> str:
    """Give the verdict whose mark stands beside a part; none where nothing stands against it."""
    if not faults:
        return ""
    return str(Verdict.REWORK if any(it.grave for it in faults) else Verdict.FIX_THIS_SHIFT)


def count_words(faults: Sequence[Fault]) -> str:
    """Say how many are refused, and how many are to be known."""
    refused = sum(it.grave for it in faults)
    said = [
        _("{count} refused").format(count=refused) if refused else "",
        _("{count} to be known").format(count=len(faults) - refused)
        if len(faults) > refused
        else "",
    ]
    return ", ".join(filter(None, said))


def with_count(faults: Sequence[Fault], words: str) -> str:
    """Say how many faults a part has before what it says."""
    return " · ".join(filter(None, (count_words(faults), words)))


def class_of(steps: Steps) -> int | None:
    """Give the place of the class that a place lies in; None where it is of the whole mine."""
    of_a_class = steps[:1] == ("classes",) and len(steps) > 1
    return steps[1] if of_a_class and isinstance(steps[1], int) else None


def group_words(group: Group) -> str:
    """Say the first figures of a part: enough to find it again. Reasons come last."""
    said = ""
    for it in sorted(group.fields, key=_last_said):
        more = _in_short(it)
        if said and len(said) + len(more) > LONGEST_DETAIL:
            return f"{said} …"
        said = f"{said} · {more}" if said else more[:LONGEST_DETAIL]
    return said


def _last_said(field: Field) -> int:
    """Order what is said of a part: what it is, its figures, what follows, and why."""
    name = str(field.steps[-1])
    if name in ("because", "panel_because"):
        return 3
    if name in ("breach", "guard_factor") or field.value is None or field.kind == "part":
        return 2
    return 0 if name in SPEAK_ALONE else 1


def _in_short(field: Field) -> str:
    """Say a field in a few words; what speaks for itself is said without its name."""
    title = in_a_row(field.title)
    if field.value is None and field.optional:
        return _("no {thing}").format(thing=title)
    if field.kind == "part":
        return title
    speaks = field.value is not None and field.steps[-1] in SPEAK_ALONE
    return value_words(field) if speaks else f"{title} {value_words(field)}"


def hint_words(field: Field) -> str:
    """Say what a field means, or what a touch on it does where that is more."""
    return _("a touch puts in one more") if field.kind == "list" else field.meaning


def value_words(field: Field) -> str:
    """Say what stands in a field."""
    value = field.value
    if value is None:
        return LEFT_OUT if field.optional else TO_BE_FILLED
    if field.kind in ("part", "list"):
        return _("there") if field.kind == "part" else str(len(value))
    if field.kind == "yes or no":
        return _("yes") if value else _("no")
    if field.kind == "choices":
        return ", ".join(map(str, value)) or _("none")
    return f"{value} {field.unit}".rstrip()


def proposal_words(proposed: GapLimits) -> str:
    """Say the gap limits that fit the pattern."""
    return _("rework above {rework} m, no entry above {no_entry} m").format(
        rework=proposed.rework_above_m, no_entry=proposed.no_entry_above_m
    )


def differently_words(found: JudgedDifferently) -> tuple[str, str]:
    """Name a round, and say what the two revisions say of it."""
    title = _("{heading} round {number}").format(heading=found.heading, number=found.number)
    after = _("no such class") if found.after is None else _(str(found.after))
    said = _("{after}, was {before}").format(after=after, before=_(str(found.before)))
    return title, ": ".join(filter(None, (said, ", ".join(map(_differs, found.checks)))))


def _differs(check: CheckDiffers) -> str:
    """Say how one thing came to be judged: whoever loosens a limit reads what no longer holds."""
    return _("{title} {after}, was {before}").format(
        title=_(check.title),
        after=_("not looked for") if check.after is None else _(str(check.after)),
        before=_("not looked for") if check.before is None else _(str(check.before)),
    )


def days_offered(now: datetime, zone: ZoneInfo) -> tuple[datetime, ...]:
    """Give the days that are often chosen for a new revision, each from its first minute."""
    next_month = (day_in(0, now, zone).replace(day=1) + timedelta(days=32)).replace(day=1)
    return tuple(sorted({day_in(1, now, zone), day_in(7, now, zone), next_month}))


def day_in(days: int, now: datetime, zone: ZoneInfo) -> datetime:
    """Give the first minute of the day in so many days; 0 is today."""
    today = now.astimezone(zone).replace(hour=0, minute=0, second=0, microsecond=0)
    return today + timedelta(days=days)


# --- inside ---------------------------------------------------------------------------------


def _began(site: Site, work: StandardWork) -> str:
    since = datetime.fromisoformat(work.base["effective_from"])
    return _(
        "As revision {revision}, from {day}. Touch what is to be changed, or take a file under "
        "What changed."
    ).format(revision=work.base["revision"], day=day(since, ZoneInfo(site.settings.zone)))


def _drawing(site: Site, work: StandardWork, number: int | None) -> Drawing | None:
    """Draw the class in sight; the first where the whole mine is. None while it can't be read."""
    if not isinstance(work.standard, Standard):
        return None
    try:
        return pattern_picture(work.standard.classes[number or 0], site.settings.units)
    except ProfileRefused:
        return None


def _proposed(work: StandardWork, number: int | None) -> GapLimits | None:
    if number is None or not isinstance(work.standard, Standard):
        return None
    known = work.standard.classes[number]
    proposed = proposed_gap_limits(known)
    limit = known.limits.largest_gap
    now = limit.at_most_m, limit.no_entry_above_m
    return None if (proposed.rework_above_m, proposed.no_entry_above_m) == now else proposed


def _faults(work: StandardWork) -> Iterator[Fault]:
    for refusal in work.refusals:
        yield _fault(work, refusal, grave=True)
    for caution in work.warnings:
        yield _fault(work, caution, grave=False)


def _fault(work: StandardWork, it: Refusal | Caution, *, grave: bool) -> Fault:
    steps = steps_of(it.path)
    place = named(steps, work.document, units=False)
    return Fault(sentence(as_typed(it.reason)), place, steps, grave)


def group_around(page: EditPage, steps: Steps) -> Group | None:
    """Give the part in sight in which a place lies, the nearest around it."""
    around = [it for it in page.groups if steps[: len(it.steps)] == it.steps]
    return max(around, key=lambda it: len(it.steps), default=None)


def typed_value(field: Field, typed: str) -> Any:
    """Give what was typed as the standard's JSON holds it."""
    return int(typed) if field.kind == "count" else typed
