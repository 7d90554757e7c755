"""What is said of a thing that bears a label: on the label, on the glass and on the terminal."""

from datetime import datetime, tzinfo
from typing import Final
from zoneinfo import ZoneInfo

from assets.translate import _
from fieldapp.assess.words import beside_crown
from fieldapp.report.words.damage import due_words, holds_words, standing_words
from fieldapp.report.words.entry import entry_said
from fieldapp.report.words.findings import BETWEEN, NO_BREAK, day
from fieldapp.report.words.lengths import Units, chainage_words, in_units, span_words
from fieldapp.work.damage.stating import BARRED, DamageKnown, damage_known
from fieldapp.work.entry import entry
from fieldapp.work.labels import NAMED, Labelled
from fieldapp.work.rehab.rehab_list import rehab_rows
from fieldapp.work.site import Site

KINDS: Final = {
    "damage": "Damage",
    "heading": "Heading",
    "survey_peg": "Survey peg",
    "bolt_test": "Tested bolt",
}
SINCE: Final = {
    "damage": _("seen {day}"),
    "heading": _("entered {day}"),
    "survey_peg": _("entered {day}"),
    "bolt_test": _("tested {day}"),
}

REPAIRED: Final = {
    "restored": "Repaired, and somebody verified it.",
    "patched": "Patched, and somebody verified it.",
}


def title_words(thing: Labelled) -> str:
    """Say what it is: "Damage: torn mesh", "Survey peg P41", "Heading 4180 Main"."""
    kind = _(KINDS[thing.kind])
    return f"{kind} {thing.name}" if thing.kind in NAMED else f"{kind}: {_(thing.name)}"


def place_words(thing: Labelled, units: Units) -> str:
    """Say where it is: "4180 Main · 608.3 m · 1.2 m left of the crown"."""
    parts = [_heading(thing)] if thing.kind != "heading" else []
    if thing.chainage_m is not None and thing.to_m is not None:
        parts.append(span_words(thing.chainage_m, thing.to_m, units, " – "))
    elif thing.chainage_m is not None:
        parts.append(chainage_words(thing.chainage_m, units).replace(" ", NO_BREAK))
    if thing.s_m is not None:
        parts.append(in_units(beside_crown(float(thing.s_m)), units))
    return BETWEEN.join(parts)


def date_words(thing: Labelled, zone: tzinfo) -> str:
    """Say since when it is known: "seen 6 May 2031"; a peg and a heading "entered"."""
    return _(SINCE[thing.kind]).format(day=day(thing.at, zone))


def state_words(site: Site, thing: Labelled, at: datetime) -> str:
    """Say how it stands: what became of damage, and how far people may go in the heading."""
    said = []
    if thing.kind == "damage" and thing.heading:
        said.append(_damage_state(site, thing, at))
    if thing.heading:
        state = entry(site, thing.heading_id, at)
        held = entry_said(state, site.settings.units)
        restricted = _("Entry {line}, and restricted on the way in.")
        words = restricted if state.outbye == "restricted" else _("Entry {line}.")
        said.append(words.format(line=held.line))
    return " ".join(said)


def _damage_state(site: Site, thing: Labelled, at: datetime) -> str:
    known = damage_known(site, thing.id, at)
    if known.outcome is not None:
        return _(REPAIRED[known.outcome])
    ranked, zone = known.ranked, ZoneInfo(site.settings.zone)
    said = (ranked.code, due_words(ranked, zone), _beneath(site, known, at))
    return _("Not repaired: {priority}.").format(priority=", ".join(said))


def _beneath(site: Site, known: DamageKnown, at: datetime) -> str:
    """Say how far its repair is, which bars what the damage itself leaves open."""
    rows = (it for it in rehab_rows(site, known.heading_id, at) if it.state in BARRED)
    row = next((it for it in rows if known.id in {one.id for one in it.damages}), None)
    if row is None:
        return holds_words(known.ranked)
    return _("repair {standing}").format(standing=standing_words(row))


def _heading(thing: Labelled) -> str:
    return thing.heading or _("in a heading that is not known here")
