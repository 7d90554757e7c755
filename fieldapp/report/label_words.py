"""What is said of a thing that bears a label: on the label, on the glass and on the terminal."""

from datetime import tzinfo
from typing import Final

from assets.translate import _
from fieldapp.assess.words import beside_crown
from fieldapp.report.lengths import Units, chainage_words, in_units, span_words
from fieldapp.report.words import BETWEEN, day
from fieldapp.work.labels import Labelled

KINDS: Final = {"damage": "Damage", "heading": "Heading", "survey_peg": "Survey peg"}


def title_words(thing: Labelled) -> str:
    """Say what it is: "Damage: torn mesh", "Survey peg P41", "Heading 4180 Main"."""
    kind = _(KINDS[thing.kind])
    return f"{kind}: {_(thing.name)}" if thing.kind == "damage" else f"{kind} {thing.name}"


def place_words(thing: Labelled, units: Units) -> str:
    """Say where it is: "4180 Main · 608.3 m · 1.2 m left of the crown"."""
    parts = [thing.heading] if thing.kind != "heading" else []
    if thing.chainage_m is not None and thing.to_m is not None:
        parts.append(span_words(thing.chainage_m, thing.to_m, units, " – "))
    elif thing.chainage_m is not None:
        parts.append(chainage_words(thing.chainage_m, units))
    if thing.s_m is not None:
        parts.append(in_units(beside_crown(float(thing.s_m)), units))
    return BETWEEN.join(parts)


def date_words(thing: Labelled, zone: tzinfo) -> str:
    """Say since when it is known: "seen 6 May 2031"; a peg and a heading "entered"."""
    said = _("seen {day}") if thing.kind == "damage" else _("entered {day}")
    return said.format(day=day(thing.at, zone))
