"""A take-off in words: a row for each thing, and how mesh and resin come."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from assets.translate import _, counted
from fieldapp.assess.take_off import Item, Kind, MeshNeeded, ResinOfBolt, Strip, TakeOff
from fieldapp.report.words.findings import NO_BREAK
from fieldapp.report.words.lengths import Units, in_units, limits_in_units
from fieldapp.work.take_off import Priced
from schemas.numbers import text

NAMES: Final[dict[Kind, str]] = {
    "bolts": _("Bolts"),
    "plates": _("Plates"),
    "sheets": _("Sheets of mesh"),
    "strips": _("Strips of mesh"),
    "mesh": _("Mesh"),
    "rolls": _("Rolls"),
    "packs": _("Packs"),
    "capsules": _("Resin capsules"),
}
HUNDREDTH: Final = Decimal("0.01")


def thing_words(item: Item) -> str:
    """Name a thing: "Bolts RB24"."""
    return " ".join(filter(None, (_(NAMES[item.kind]), item.of)))


def much_words(item: Item, much: Decimal) -> str:
    """Say how much of a thing: "36", "0.33", "72 m²"."""
    plain = text(much.quantize(HUNDREDTH).normalize() + 0)
    return f"{plain}{NO_BREAK}m²" if item.kind == "mesh" else plain


def wanted_words(found: TakeOff, units: Units) -> str:
    """Say what it is reckoned for: advance, rows, lap and the line."""
    wanted = found.wanted
    said = _("{advance} m of advance, {rows}, {line} m of rock in a row").format(
        advance=plain(wanted.advance_m),
        rows=counted("{} row", "{} rows", wanted.rows),
        line=plain(found.line_m),
    )
    if found.mesh is not None:
        lap = _("{lap} mm of lap").format(lap=plain(wanted.lap_mm))
        said = f"{said}, {lap}"
    return limits_in_units(said, units)


def part_words(part: TakeOff, units: Units) -> str:
    """Say of which class a part of a round is, and what it is reckoned for."""
    return _("By {code}: {wanted}.").format(
        code=part.support_class, wanted=wanted_words(part, units)
    )


def how_lines(found: TakeOff, units: Units) -> Iterator[str]:
    """Yield how mesh and resin come: the strip to order, strips in a roll, capsules in a hole."""
    if found.parts:
        for part in found.parts:
            yield from (f"{part.support_class}: {line}" for line in how_lines(part, units))
        return
    mesh = found.mesh
    if mesh is not None:
        said = _sheets(mesh) if mesh.strip is None else _strip(mesh, mesh.strip)
        yield from (limits_in_units(it, units) for it in said)
    yield from (in_units(_resin(it), units) for it in found.resin)


def priced_words(priced: Priced) -> str:
    """Say what the material costs, and what the round really cost where that is known."""
    said = _("By the standard's prices: material {n} {currency}, {each} a metre.").format(
        n=text(priced.material), currency=priced.currency, each=text(priced.per_metre)
    )
    if priced.round_cost is None:
        return said
    cost = _("The round with its crew: {n} {currency}.").format(
        n=text(priced.round_cost), currency=priced.currency
    )
    return f"{said} {cost}"


def _sheets(mesh: MeshNeeded) -> Iterator[str]:
    yield _("{across} sheets across, {along} along the drive.").format(
        across=mesh.across, along=mesh.pieces // mesh.across
    )


def _strip(mesh: MeshNeeded, strip: Strip) -> Iterator[str]:
    yield _("Strip to order: {width} m wide, {length} m long, one for the round.").format(
        width=plain(strip.width_m), length=plain(strip.length_m)
    )
    yield _("Of the standard's width: {n} for the round.").format(n=mesh.pieces)
    if strip.longer_than_stock_m:
        longer = plain(strip.longer_than_stock_m)
        yield _("That is {longer} m longer than the standard's strip.").format(longer=longer)
    for each, said in (
        (strip.per_roll, _("Whole strips in a roll: {n}; rounds: {rounds}.")),
        (strip.per_pack, _("Whole strips in a pack: {n}; rounds: {rounds}.")),
    ):
        if each is not None:
            rounds = plain((Decimal(each) / mesh.pieces).quantize(Decimal("0.1")))
            yield said.format(n=each, rounds=rounds)


def _resin(it: ResinOfBolt) -> str:
    return _("{bolt}: {capsules} {share} % of {filled} m of hole.").format(
        bolt=it.bolt_type,
        capsules=counted("{} capsule a bolt fills", "{} capsules a bolt fill", it.capsules),
        share=plain((it.fills_share * 100).quantize(Decimal(1))),
        filled=plain(it.filled_m),
    )


def plain(value: Decimal) -> str:
    """Write a figure without trailing noughts."""
    return text(value.normalize() + 0)
