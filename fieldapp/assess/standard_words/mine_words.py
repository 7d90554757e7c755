"""What holds in the whole mine: readings, events, deviations, walks, repairs, bolt tests."""

from collections.abc import Callable
from typing import Final

from fieldapp.assess.standard_check.faults import metres, plain
from fieldapp.assess.standard_words import watch_words
from fieldapp.assess.standard_words.section import Line, Lines, counted
from schemas.limits import Measured
from schemas.standard import Standard

_MILLIMETRES: Final = 1000


def _readings(standard: Standard) -> Lines:
    stated = standard.measuring
    by = (
        ("tape", stated.tape_m),
        ("staff", stated.staff_m),
        ("laser", stated.laser_m),
        ("paced", stated.paced_m),
        ("photo", stated.photo_m),
        ("assumed as standard", stated.assumed_m),
    )
    each = ", ".join(f"{name} {plain(u * _MILLIMETRES)} mm" for name, u in by)
    yield Line(f"Standard uncertainty of a length: {each}.", because=stated.because)
    others = f"torque {plain(stated.torque_nm)} N·m, angle {plain(stated.angle_deg)}°"
    yield Line(f"Of other readings: {others}.", because=stated.because)
    yield Line(f"A reading is within its limit when it lies {_guards(standard)} inside.")
    yield Line("One that comes closer is measured again, once, by a better method.")
    if stated.eye_share is not None:
        share = plain(stated.eye_share * 100)
        yield Line(f"Judged by eye: {share} % of what was said.", because=stated.because)


def _guards(standard: Standard) -> str:
    limits = [known.limits for known in standard.classes]
    found = {
        limit.guard_factor
        for known in limits
        for name in type(known).model_fields
        if isinstance(limit := getattr(known, name), Measured) and limit.guard_factor
    }
    if not found:
        return "at least 0 times its uncertainty"
    factors = sorted(found)
    least, most = plain(factors[0]), plain(factors[-1])
    factor = least if least == most else f"{least} to {most}"
    return f"{factor} times its uncertainty"


def _events(standard: Standard) -> Lines:
    for rule in standard.events:
        until = f"for {plain(rule.exclusion_h)} h and until" if rule.exclusion_h else "until"
        around = f"{metres(rule.radius_m)} in and out"
        told = f"{rule.what.capitalize()}: nobody within {around}, {until} somebody has looked."
        yield Line(told, because=rule.because)


def _deviations(standard: Standard) -> Lines:
    rule = standard.deviations
    hours = plain(rule.at_most_h)
    told = f"The geotechnical engineer may grant one, for one place, for up to {hours} h."
    yield Line(told, because=rule.because)
    yield Line("Never for the last row to the face, never for two neighbouring bolts.")


def _damage(standard: Standard) -> Lines:
    for step in standard.severities:
        yield Line(f"{step.code}: {step.words}.", because=step.because)
    for place in standard.exposures:
        yield Line(f"{place.code}: {place.words}.", because=place.because)


def _repairs(standard: Standard) -> Lines:
    for rule in standard.priorities:
        within = f"within {counted(rule.due_days, 'day')}" if rule.due_days else "at once"
        told = f"{rule.code}, {within}: {rule.trigger}."
        yield Line(told, breach=rule.entry, because=rule.because)
    yield from _looked_up(standard)
    growth, rehab = standard.growth, standard.rehab
    if growth is not None:
        share, raised = plain(growth.grown_by * 100), counted(growth.raises, "step")
        told = f"Damage that has grown by {share} % or more is raised by {raised}."
        yield Line(told, because=growth.because)
    if rehab is not None:
        laps = counted(rehab.lap_openings_at_least, "opening")
        yield Line(f"New mesh laps sound old mesh by at least {laps}.", because=rehab.because)
        told = f"Beneath a patch that was verified, entry is: {rehab.patched_holds}."
        yield Line(told, because=rehab.because)


def _looked_up(standard: Standard) -> Lines:
    """Give the table, a line for each severity."""
    for step in standard.severities:
        cells = [it for it in standard.rehab_matrix if it.severity == step.code]
        if cells:
            each = ", ".join(f"{it.exposure} {it.priority}" for it in cells)
            because = "; ".join(dict.fromkeys(it.because for it in cells))
            yield Line(f"Damage of {step.code}: {each}.", because=because)


def _prices(standard: Standard) -> Lines:
    prices = standard.prices
    if prices is None:
        return
    bolts = (f"{it.bolt_type} {plain(it.each)}" for it in prices.bolts)
    others = (
        f"a plate {plain(prices.plate_each)}",
        f"a square metre of mesh {plain(prices.mesh_per_m2)}",
        f"a capsule of resin {plain(prices.capsule_each)}",
        f"an hour of one person {plain(prices.person_per_h)}",
    )
    each = ", ".join((*bolts, *others))
    yield Line(f"In {prices.currency}: {each}.", because=prices.because)


SECTIONS: Final[tuple[tuple[str, Callable[[Standard], Lines]], ...]] = (
    ("Readings", _readings),
    ("After an event", _events),
    ("Deviations", _deviations),
    ("Corrosion", watch_words.corrosion),
    ("Damage", _damage),
    ("Repairs", _repairs),
    ("Condition walks", watch_words.walks),
    ("Tests", watch_words.bolt_tests),
    ("Prices", _prices),
)
