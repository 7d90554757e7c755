"""How findings, places and times are said in print: the same words on every sheet and list."""

from datetime import datetime, tzinfo
from decimal import Decimal

from assets.translate import _
from schemas.findings import Assessment, Finding, Verdict
from schemas.numbers import text

NO_BREAK = "\N{NO-BREAK SPACE}"
BETWEEN = f"{NO_BREAK}· "
"""Between the parts of a line: never at the beginning of the next one."""

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def chainage(metres: Decimal | float, places: int = 1) -> str:
    """Write a chainage as people say it: 1386.4 → "1 386.4"."""
    return f"{Decimal(str(metres)):,.{places}f}".replace(",", NO_BREAK)


def when(at: datetime, zone: tzinfo) -> str:
    """Write a time in the mine's zone, with its distance from UTC."""
    local = at.astimezone(zone)
    offset = local.strftime("%z")
    day = f"{local.day} {_(MONTHS[local.month - 1])} {local.year}"
    return f"{day} {local:%H:%M} UTC{offset[:3]}:{offset[3:5]}".replace("UTC+00:00", "UTC")


def measured(finding: Finding, *, doubt: bool = True) -> str:
    """Write what was measured, with its uncertainty and unit: "2.43 ± 0.06 m"."""
    if finding.measured is None:
        return ""
    plus_minus = f" ± {finding.uncertainty}" if doubt and finding.uncertainty else ""
    return with_unit(f"{finding.measured}{plus_minus}", finding.unit)


def limit(finding: Finding) -> str:
    """Write the limit with its unit: "at most 1.73 m"."""
    return with_unit(finding.limit, finding.unit) if finding.limit else ""


def in_signs(limit: str) -> str:
    """Write a limit where there is little room: "≤ 1.73"."""
    return limit.replace("at most ", "≤ ").replace("at least ", "≥ ")


def counted(number: int, one: str) -> str:
    """Write a count: "1 opening", "2 openings"."""
    return f"{number} {one}{'' if number == 1 else 's'}"


def with_unit(value: str, unit: str) -> str:
    """Put the unit behind a value that can't be torn from it."""
    if not unit or not value[-1].isdigit():
        return value
    return f"{value}{'' if unit == '°' else NO_BREAK}{unit}"


def verdict_words(finding: Finding) -> str:
    """Write the verdict, and what it holds entry at where that is graver."""
    if finding.deviation is not None and not _lets_sign_alone(finding):
        return f"{finding.verdict}, under a deviation"
    if finding.holds is not finding.verdict:
        return f"{finding.verdict}, held as {finding.holds}"
    return str(finding.verdict)


def places(finding: Finding, at_most: int = 3) -> str:
    """Write where it is; places left out are counted."""
    named = [place.words for place in finding.places[:at_most]]
    more = len(finding.places) - len(named)
    return "; ".join([*named, _("and {n} more").format(n=more)] if more > 0 else named)


def told(finding: Finding) -> bool:
    """Say whether a finding has to be told in full: everything that is not plainly accepted."""
    return finding.verdict is not Verdict.ACCEPT or finding.deviation is not None


def not_looked_at(assessment: Assessment, at_most: int = 6) -> str:
    """Name what was not looked at, with its places; what goes beyond `at_most` is counted."""
    skipped = [it for it in assessment.findings if it.verdict is Verdict.NOT_LOOKED_AT]
    named = []
    for finding in skipped[:at_most]:
        where = places(finding, 2)
        title = _(finding.title)
        named.append(f"{title} ({_(where)})" if where else title)
    more = len(skipped) - len(named)
    return "; ".join(
        [*named, _("and {n} more in the list above").format(n=more)] if more else named
    )


def decimal_words(value: Decimal | None, unit: str, nothing: str = "not taken") -> str:
    """Write a reading, or that there is none."""
    return nothing if value is None else with_unit(text(value), unit)


def sentence(words: str) -> str:
    """Begin with a capital and end with a full stop."""
    return f"{words[:1].upper()}{words[1:]}{'' if words.endswith('.') else '.'}" if words else ""


def _lets_sign_alone(finding: Finding) -> bool:
    return finding.verdict in (Verdict.ACCEPT, Verdict.FIX_THIS_SHIFT)
