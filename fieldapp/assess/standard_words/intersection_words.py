"""What a class demands where a heading opens to another."""

from typing import Final

from fieldapp.assess.standard_check.faults import metres, plain
from fieldapp.assess.standard_words.section import ClassSection, Line, Lines, counted, limit_line
from schemas.intersection_rules import CableRule, IntersectionRule, PlanPattern
from schemas.standard import SupportClass


def _intersection(support_class: SupportClass) -> Lines:
    rule = support_class.intersection
    if rule is None:
        return
    if rule.span is not None:
        yield limit_line(f"Its span is at most {metres(rule.span.at_most_m)}.", rule.span)
    yield from _bolts(rule)
    if rule.cables is not None:
        yield from _cables(rule.cables)
    if rule.breakaway is not None:
        step = rule.breakaway.step
        before = f"The breakaway is taken when its cables are {step} and signed for."
        yield limit_line(before, rule.breakaway)


def _bolts(rule: IntersectionRule) -> Lines:
    if rule.pattern is not None:
        yield _pattern(rule.pattern)
    if rule.bolts_present is not None:
        yield limit_line(
            "Every bolt of the pattern stands within its outline.", rule.bolts_present
        )
    if rule.largest_gap is not None:
        gap = f"No circle without a bolt is wider than {metres(rule.largest_gap.at_most_m)}."
        yield limit_line(gap, rule.largest_gap)
    if rule.density is not None:
        dense = f"At least {plain(rule.density.at_least_per_m2)} bolts per m² of its outline."
        yield limit_line(dense, rule.density)
    if rule.load is not None:
        times = f"{plain(rule.load.at_least_factor)} times what its ground asks"
        yield limit_line(f"Each bolt carries at least {times}.", rule.load)


def _pattern(pattern: PlanPattern) -> Line:
    across, along = metres(pattern.bolt_spacing_m), metres(pattern.row_spacing_m)
    wider = f", up to {metres(pattern.tolerance_m)} more" if pattern.tolerance_m else ""
    said = f"Bolts {across} apart across it and {along} along it{wider}, {pattern.kind} pattern."
    return Line(said, because=pattern.because)


def _cables(rule: CableRule) -> Lines:
    if rule.at_least is not None:
        least = f"At least {counted(rule.at_least, 'cable')}."
        yield Line(least, breach="rework", because=rule.because)
    if rule.density is not None:
        dense = f"At least {plain(rule.density.at_least_per_m2)} cables per m² of its outline."
        yield limit_line(dense, rule.density)
    if rule.length is not None:
        yield limit_line(f"Cables at least {metres(rule.length.at_least_m)} long.", rule.length)
    if rule.tension is not None:
        tight = f"Each cable tensioned to at least {plain(rule.tension.at_least_kn)} kN."
        yield limit_line(tight, rule.tension)
    if rule.curing is not None:
        cures = f"Their grout cures for {plain(rule.curing.after_h)} h before they are plated."
        yield Line(cures, because=rule.curing.because)


SECTIONS: Final[tuple[ClassSection, ...]] = (("Intersections", _intersection),)
