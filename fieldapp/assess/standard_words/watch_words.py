"""What is watched in old support: rust, condition walks, tests of bolts and shotcrete."""

from fieldapp.assess.standard_check.faults import plain
from fieldapp.assess.standard_words.section import Line, Lines, counted, listed
from schemas.bolt_test_rules import AfterFailure, CoreRule
from schemas.standard import Standard
from schemas.walk_rules import LookedAtShare, WalkInterval


def corrosion(standard: Standard) -> Lines:
    """Say the card of rust, the rates that count before anything is read, and what must be left.

    Parameters
    ----------
    standard : Standard
        The revision. [any]

    Returns
    -------
    iterator of Line
        The rule for bolts first. [any]

    Source
    ------
    Common practice, no source.
    """
    rule = standard.corrosion
    told = f"A bolt counts while its corrosion is below grade {rule.bolt_counts_below_grade}."
    yield Line(told, because=rule.because)
    for step in rule.grades:
        yield Line(f"Grade {step.grade}: {step.words} ({step.cue}).", because=step.because)
    for rate in rule.rates:
        steel, zinc = plain(rate.steel_um_per_year), plain(rate.zinc_um_per_year)
        lost = f"steel loses {steel} µm a year on each surface, zinc {zinc} µm"
        yield Line(f"In {rate.corrosivity}, {lost}.", because=rate.because)
    for part in rule.left:
        share = plain(part.share_at_least * 100)
        zinc = f"; its zinc was {plain(part.zinc_um)} µm" if part.zinc_um else ""
        told = f"A {part.of} must be left with {share} % of its capacity{zinc}."
        yield Line(told, because=part.because)


def walks(standard: Standard) -> Lines:
    """Say how often supported ground is walked, and how much of it is looked at.

    Parameters
    ----------
    standard : Standard
        The revision. [any]

    Returns
    -------
    iterator of Line
        None where it says nothing of walks. [any]

    Source
    ------
    Common practice, no source.
    """
    rule = standard.walk
    if rule is None:
        return
    every = counted(rule.interval_days, "day")
    yield Line(f"Supported ground is walked at least every {every}.", because=rule.because)
    for interval in rule.intervals:
        days = counted(interval.interval_days, "day")
        yield Line(f"Every {days} {_where(interval)}.", because=interval.because)
    full = counted(rule.full_zones_in_ten_sections, "zone")
    told = f"Of every ten sections, {full} drawn at random are looked at in full."
    yield Line(told, because=rule.because)
    section = f"A section is {plain(rule.section_m)} m long"
    told = f"{section}; every {counted(rule.photo_every, 'section')} one photo is taken again."
    yield Line(told, because=rule.because)
    for share in rule.looked_at:
        yield Line(_looked_at(share), because=share.because)


def _where(interval: WalkInterval) -> str:
    named = (
        ("support class", interval.support_class),
        ("corrosivity from", interval.corrosivity_from),
        ("exposure", interval.exposure),
        ("rust from grade", interval.corrosion_from),
        ("damage from", interval.severity_from),
    )
    said = [f"{what} {value}" for what, value in named if value is not None]
    return f"where there is {listed(said)}" if said else "everywhere"


def _looked_at(share: LookedAtShare) -> str:
    bad, sure = plain(share.bad_share_at_most * 100), plain(share.confidence * 100)
    told = f"As many {share.of} are looked at that “none found” means at most {bad} % bad,"
    plan = f"; beside it ISO 2859-1, level II, AQL {share.aql_percent} %"
    return f"{told} {sure} % sure{plan if share.aql_percent else ''}."


def bolt_tests(standard: Standard) -> Lines:
    """Say what is pulled, turned and cored, and what follows a failed test.

    Parameters
    ----------
    standard : Standard
        The revision. [any]

    Returns
    -------
    iterator of Line
        None where it says nothing of tests. [any]

    Source
    ------
    Common practice, no source.
    """
    yield from _pulls(standard)
    for rule in standard.torque_tests:
        told = f"One {rule.bolt_type} in {rule.one_in} is turned again every"
        days = counted(rule.every_days, "day")
        yield Line(f"{told} {days}: {plain(rule.at_least_nm)} N·m.", because=rule.because)
        yield from _after_failure(rule.bolt_type, rule.after_failure)
    if standard.cores is not None:
        core = standard.cores
        cores, strength = counted(core.cores, "core"), plain(core.strength_mpa)
        mean, each = plain(core.mean_share_at_least * 100), plain(core.each_share_at_least * 100)
        told = f"Of shotcrete, {cores} at {counted(core.age_days, 'day')}: {strength} MPa"
        yield Line(f"{told}, {mean} % of it in the mean, {each} % in each.", because=core.because)
        yield from _core_share(core)
        yield from _after_failure("set", core.after_failure, cores=True)


def _core_share(core: CoreRule) -> Lines:
    per = [f"{plain(core.one_set_per_m3)} m³ sprayed"] if core.one_set_per_m3 else []
    per += ["day"] if core.one_set_per_day else []
    if per:
        yield Line(f"A set is pressed for each {_one_of(tuple(per))}.", because=core.because)


def _pulls(standard: Standard) -> Lines:
    for rule in standard.bolt_tests:
        slip = f"slip at most {plain(rule.slip_at_most_mm)} mm"
        share = f"one {rule.bolt_type} in {rule.one_in} is pulled, at least {rule.at_least}"
        load = f"{plain(rule.proof_kn)} kN held for {rule.hold_min} min"
        if rule.kind == "destructive":
            share = f"one {rule.bolt_type} to {rule.one_in} is put in to be pulled to failure"
            load = f"{plain(rule.proof_kn)} kN reached"
        yield Line(f"{share[0].upper()}{share[1:]}: {load}, {slip}.", because=rule.because)
        if rule.calibrated_within_days is not None:
            days = counted(rule.calibrated_within_days, "day")
            told = f"Its rig was calibrated {days} before that at most."
            yield Line(told, because=rule.because)
        if rule.also_after:
            told = f"One more {rule.bolt_type} is pulled after each {_one_of(rule.also_after)}."
            yield Line(told, because=rule.because)
        yield from _after_failure(rule.bolt_type, rule.after_failure)


def _one_of(occasions: tuple[str, ...]) -> str:
    return " or ".join(filter(None, (", ".join(occasions[:-1]), occasions[-1])))


def _after_failure(what: str, rule: AfterFailure | None, *, cores: bool = False) -> Lines:
    if rule is None:
        return
    nearest = f"the {counted(rule.neighbours, 'nearest bolt')} tested"
    said = {"neighbours": nearest, "row": "its row tested", "round": "its round tested"}
    if cores:
        said = dict.fromkeys(said, f"{counted(rule.neighbours, 'more set')} pressed near it")
    then = [said.get(step, step) for step in rule.then]
    yield Line(f"When one {what} fails: {listed(then)}.", because=rule.because)
