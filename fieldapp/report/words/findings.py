"""How findings, places and times are said in print: the same words on every sheet and list."""

import re
from datetime import UTC, datetime, tzinfo
from decimal import Decimal
from typing import Final

from assets.translate import _
from fieldapp.assess.times import MONTHS, date_words, time_from, time_words
from schemas.findings import Assessment, Finding, Verdict
from schemas.numbers import SAID_M, rounded, text

NO_BREAK = "\N{NO-BREAK SPACE}"
BETWEEN = f"{NO_BREAK}· "
"""Between the parts of a line: never at the beginning of the next one."""

_WRITTEN_TIME: Final = re.compile(r"(\d{4}-\d\d-\d\d \d\d:\d\d) UTC\b")
"""As records have it in their words."""


def chainage(value_m: Decimal) -> str:
    """Write a place's chainage as people say it, half-even to the tenth: 1386.4 → "1 386.4"."""
    return f"{rounded(value_m, SAID_M):,}".replace(",", NO_BREAK)


def when(at: datetime, zone: tzinfo) -> str:
    """Write a time in the mine's zone, with its distance from UTC: "6 May 2031 06:35 UTC"."""
    return _in_months(time_words(at.astimezone(zone)))


def when_from(at: datetime, as_at: datetime) -> str:
    """Write a time as it is said at another, in whose zone it is: today's without the date."""
    return _in_months(time_from(at, as_at))


def day(at: datetime, zone: tzinfo) -> str:
    """Write a date in the mine's zone: "6 May 2031"."""
    return _in_months(date_words(at.astimezone(zone)))


def month(at: datetime, zone: tzinfo) -> str:
    """Write a month in the mine's zone: "May 2031"."""
    return day(at, zone).partition(" ")[2]


def month_words(named: str) -> str:
    """Write a month by its name in records: "2031-05" as "May 2031"."""
    return month(datetime.fromisoformat(f"{named}-01T00:00:00+00:00"), UTC)


def _in_months(words: str) -> str:
    """Put the month into the language that is spoken."""
    return " ".join(_(word) if word in MONTHS else word for word in words.split(" "))


def dated(words: str, zone: tzinfo) -> str:
    """Turn over every time that a record's words name, so that a page has one form of them."""

    def said(found: re.Match[str]) -> str:
        return when(datetime.fromisoformat(found[1]).replace(tzinfo=UTC), zone)

    return _WRITTEN_TIME.sub(said, words)


def dated_in(assessment: Assessment, zone: tzinfo) -> Assessment:
    """Give an assessment to print or show by the mine's clock; it is no longer what was hashed."""
    findings = (
        it.model_copy(
            update={
                "fix": tuple(dated(job, zone) for job in it.fix),
                "deviation": it.deviation and dated(it.deviation, zone),
            }
        )
        for it in assessment.findings
    )
    jobs = tuple(dated(job, zone) for job in assessment.fix_list)
    return assessment.model_copy(update={"findings": tuple(findings), "fix_list": jobs})


def with_role(name: str, role: str) -> str:
    """Name a person with the role they acted in; said once where the name is the role."""
    return name if role.casefold() in name.casefold() else f"{name}, {role}"


def measured(finding: Finding, *, doubt: bool = True, engineer: bool = False) -> str:
    """Write what was measured, with its uncertainty and unit: "2.43 ± 0.06 m"."""
    if finding.measured is None or (finding.is_for_engineers and not engineer):
        return ""
    plus_minus = f" ± {finding.uncertainty}" if doubt and finding.uncertainty else ""
    return with_unit(f"{finding.measured}{plus_minus}", finding.unit)


def limit(finding: Finding, *, engineer: bool = False) -> str:
    """Write the limit with its unit: "at most 1.73 m"."""
    if not finding.limit or (finding.is_for_engineers and not engineer):
        return ""
    return with_unit(finding.limit, finding.unit)


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


def found_words(finding: Finding | None) -> str:
    """Say in a line what a check found: the verdict, the reading and where."""
    if finding is None:
        return "–"
    found = (_(verdict_words(finding)), measured(finding), places(finding, at_most=1))
    return ", ".join(filter(None, found))


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
