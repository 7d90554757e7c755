"""Damage and its repair in words: the same on every screen, list and paper."""

from collections.abc import Iterator, Sequence
from datetime import tzinfo
from typing import Final

from assets.translate import _, counted
from fieldapp.assess.damage import Ranked
from fieldapp.assess.words import beside_crown
from fieldapp.report.words.findings import day
from fieldapp.report.words.lengths import Units, chainage_words, in_units, span_words
from fieldapp.report.words.read_and_today import place_read_words
from fieldapp.work.damage.stating import DamageKnown
from fieldapp.work.rehab.rehab_list import RehabRow, Standing
from fieldapp.work.said_on_walks import SaidOnWalk
from schemas.bodies.damage import Damage, DamageExtent
from schemas.bodies.rehab import Outcome, Rehab
from schemas.bodies.walk import DamageSaid
from schemas.numbers import text
from schemas.rehab_rules import Severity

HOLDS: Final = {
    "no entry": "nobody beneath",
    "restricted": "nobody on foot beneath",
    "open": "entry as before",
}
STANDINGS: Final[dict[Standing, str]] = {
    "not planned": "no repair planned",
    "proposed": "proposed, the engineer decides",
    "planned": "planned",
    "in hand": "in hand, barricaded",
    "done": "done, to be verified, barricaded",
    "refused": "refused, barricaded",
    "reopened": "reopened, nobody goes there",
    "verified": "verified",
    "patched": "patched, to be restored",
}


BECAUSE: Final[dict[str, str]] = {
    "refused": _("refused: {because}"),
    "reopened": _("reopened: {because}"),
}
DONE: Final[dict[Outcome, str]] = {
    "restored": _("restored {day}"),
    "patched": _("patched {day}"),
}


def place_words(damage: Damage, units: Units) -> str:
    """Say where a damage is: "590.4 m, right shoulder, 2.6 m right of the crown"."""
    where = chainage_words(damage.chainage_m, units)
    if damage.to_m is not None and damage.to_m != damage.chainage_m:
        where = span_words(damage.chainage_m, damage.to_m, units, " – ")
    across = None if damage.s_m is None else in_units(beside_crown(float(damage.s_m)), units)
    return ", ".join(filter(None, (where, _(damage.zone), across)))


def span_of(row: RehabRow, units: Units) -> str:
    """Say where a line of the rehab list is: "570.0 – 580.0 m"."""
    if row.from_m == row.to_m:
        return chainage_words(row.from_m, units)
    return span_words(row.from_m, row.to_m, units, " – ")


def extent_words(extent: DamageExtent, units: Units) -> str:
    """Say how large it is, as far as somebody read it: "6 openings, 640 mm long by photo"."""
    said = [] if extent.openings is None else [_opened(extent.openings)]
    for read, what in ((extent.length, "long"), (extent.width, "wide")):
        if read is not None:
            said.append(f"{text(read.value_mm)} mm {what} by {read.how}")
    if extent.area is not None:
        said.append(f"{text(extent.area.value_m2)} m² by {extent.area.how}")
    if extent.bag_depth is not None:
        said.append(f"hangs {text(extent.bag_depth.value_mm)} mm by {extent.bag_depth.how}")
    if extent.loose_mass is not None:
        said.append(f"{text(extent.loose_mass.value_t)} t loose by {extent.loose_mass.how}")
    if extent.above_floor is not None:
        above = extent.above_floor
        said.append(f"{text(above.value_m)} m above the floor by {above.how}")
    return in_units(", ".join(said), units)


def due_words(ranked: Ranked, zone: tzinfo) -> str:
    """Say by when it is repaired: "due 13 May 2031", "overdue since 13 May 2031"."""
    if ranked.due_at is None:
        return _("the engineer decides")
    if ranked.overdue is not None:
        return _("overdue since {day}").format(day=day(ranked.due_at, zone))
    return _("due {day}").format(day=day(ranked.due_at, zone))


def holds_words(ranked: Ranked) -> str:
    """Say what entry beneath it is."""
    return _(HOLDS[ranked.holds])


def standing_words(row: RehabRow) -> str:
    """Say how far a line of the rehab list is."""
    return _(STANDINGS[row.state])


def repair_words(rehab: Rehab, units: Units, zone: tzinfo) -> tuple[str, ...]:
    """Say what was done of a repair: how, with what, by whom; why it was refused."""
    said = []
    if rehab.refused_because and rehab.state in BECAUSE:
        because = _(rehab.refused_because)
        said.append(_(BECAUSE[rehab.state]).format(because=because))
    if rehab.outcome is not None and rehab.finished_at is not None:
        done = _(DONE[rehab.outcome]).format(day=day(rehab.finished_at, zone))
        said.append(", ".join(filter(None, (done, rehab.crew, *_with_what(rehab)))))
    if rehab.barricade is not None and rehab.state != "verified":
        at_m, where = rehab.barricade.at_m, rehab.barricade.where
        place = where if at_m is None else chainage_words(at_m, units)
        said.append(_("barrier: {place}, by {who}").format(place=place, who=rehab.barricade.who))
    return tuple(said)


def _with_what(rehab: Rehab) -> Iterator[str]:
    """Yield what one repair took: "4 bolts", "lap 3 openings", "a sheet of mesh"."""
    if rehab.bolts_added:
        yield counted("{} bolt", "{} bolts", rehab.bolts_added)
    if rehab.lap_openings is not None:
        yield counted("lap {} opening", "lap {} openings", rehab.lap_openings)
    yield from (_(it) for it in rehab.materials)
    if rehab.no_photo_because and rehab.state != "verified":  # by then somebody took one
        yield _("no photo: {because}").format(because=_(rehab.no_photo_because))
    if rehab.older_photo_because:
        because = _(rehab.older_photo_because)
        yield _("photo dated before the work: {because}").format(because=because)


WALKED: Final[dict[DamageSaid, str]] = {
    "as it was": _("as it was on the walk of {day}"),
    "worse": _("worse on the walk of {day}"),
    "repaired": _("said to be repaired on the walk of {day}"),
    "not seen": _("not seen on the walk of {day}"),
}


def walked_words(walked: Sequence[SaidOnWalk], zone: tzinfo) -> str:
    """Say how a damage stood on the last walk past it; nothing where nobody was asked."""
    if not walked:
        return ""
    return _(WALKED[walked[0].said]).format(day=day(walked[0].at, zone))


def observations(
    known: DamageKnown, units: Units, zone: tzinfo, card: Sequence[Severity] = ()
) -> tuple[str, ...]:
    """Say what was seen of a damage, the newest first: "6 May 2031: S3 torn, 6 openings".

    `card` says in words what a severity is.
    """
    told = [
        (it.at, f"{day(it.at, zone)}: {_('walked past')}, {_(it.said)}") for it in known.walked
    ]
    for it in reversed(known.damage.seen):
        read = place_read_words(it.read_m, it.damage.chainage_m, units)
        said = ", ".join(filter(None, (seen_words(it.damage, units, card), read)))
        told.append((it.damage.seen_at, f"{day(it.damage.seen_at, zone)}: {said}"))
    return tuple(words for _at, words in sorted(told, key=lambda it: it[0], reverse=True))


def severity_words(code: str, card: Sequence[Severity]) -> str:
    """Say a code of the mine's card with the words that it stands for: "S2 clearly loaded"."""
    words = next((it.words for it in card if it.code == code), "")
    return f"{code} {words.partition(':')[0]}".strip()


def seen_words(damage: Damage, units: Units, card: Sequence[Severity] = ()) -> str:
    """Say what one observation was: kind, severity, extent, rock behind; or what was decided."""
    if damage.decided is not None:
        return f"{damage.decided.priority} decided: {damage.decided.because}"
    rock = f"rock behind {damage.rock_behind}" if damage.rock_behind else ""
    extent = extent_words(damage.extent, units)
    judged = severity_words(damage.severity, card) if damage.severity else "not judged"
    said = (damage.kind, judged, extent, rock, damage.note)
    return ", ".join(filter(None, said))


def _opened(openings: int) -> str:
    return f"{openings} opening{'' if openings == 1 else 's'}"
