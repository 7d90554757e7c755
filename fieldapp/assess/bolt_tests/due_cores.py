"""Which sets of cores are due: by how much shotcrete was sprayed, and on how many days."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from decimal import Decimal
from math import ceil
from typing import NamedTuple

from fieldapp.assess.bolt_tests.put_in import PutIn
from schemas.bolt_test_rules import CoreRule
from schemas.numbers import text


class Sprayed(NamedTuple):
    """One round that was sprayed."""

    at: datetime
    put_in: PutIn


class CoresDue(NamedTuple):
    """Sets of cores by the standard's share."""

    of: int
    since: datetime
    """When the first set that is missing is old enough to be pressed."""
    words: str
    from_m: Decimal
    to_m: Decimal


def cores_due(
    rounds: Sequence[PutIn], done: int, rule: CoreRule, as_at: datetime
) -> CoresDue | None:
    """Say how many sets are demanded of a heading by now.

    Parameters
    ----------
    rounds : sequence of PutIn
        Its accepted rounds. [m, m³]
    done : int
        Sets that were pressed and could be judged. [-]
    rule : CoreRule
        A set for so much, for each day, or both: whichever asks for more. [m³]
    as_at : datetime
        The time for which it is asked, in the zone whose days are counted. [UTC]

    Returns
    -------
    CoresDue or None
        What is old enough to be pressed counts alone, as soon as a set of it is missing. None
        where nothing was sprayed, or the rule asks for no share. [m³]

    Source
    ------
    ACI 506.2: one panel for each 50 yd³ (38 m³) or each day, at least three cores of it; the
    numbers are the mine's.
    """
    found = (Sprayed(it.sprayed_at, it) for it in rounds if it.sprayed_at is not None)
    sprayed = sorted(found, key=lambda it: it.at)
    if not sprayed or not (rule.one_set_per_m3 or rule.one_set_per_day):
        return None
    age = timedelta(days=rule.age_days)
    of_age = [it for it in sprayed if it.at + age <= as_at]
    counted = of_age if _sets(of_age, rule, as_at) > done else sprayed
    wanted = next(
        (n for n in range(len(counted)) if _sets(counted[: n + 1], rule, as_at) > done),
        len(counted) - 1,
    )
    places = [it.put_in for it in counted]
    return CoresDue(
        of=_sets(counted, rule, as_at),
        since=counted[wanted].at + age,
        words=_words(counted, rule, as_at),
        from_m=min(it.from_m for it in places),
        to_m=max(it.to_m for it in places),
    )


def _sets(sprayed: Sequence[Sprayed], rule: CoreRule, as_at: datetime) -> int:
    """Give how many sets so much shotcrete asks for; the last part of a volume asks for one."""
    by_volume = ceil(_m3(sprayed) / rule.one_set_per_m3) if rule.one_set_per_m3 else 0
    by_day = _days(sprayed, as_at) if rule.one_set_per_day else 0
    return max(by_volume, by_day)


def _m3(sprayed: Sequence[Sprayed]) -> Decimal:
    return sum((it.put_in.sprayed_m3 for it in sprayed), Decimal(0))


def _days(sprayed: Sequence[Sprayed], as_at: datetime) -> int:
    return len({it.at.astimezone(as_at.tzinfo).date() for it in sprayed})


def _words(sprayed: Sequence[Sprayed], rule: CoreRule, as_at: datetime) -> str:
    per = [f"{text(rule.one_set_per_m3)} m³"] if rule.one_set_per_m3 else []
    per += ["day"] if rule.one_set_per_day else []
    days = _days(sprayed, as_at)
    on = f"{days} {'day' if days == 1 else 'days'}"
    return f"a set per {' or '.join(per)}: {text(_m3(sprayed))} m³ on {on}"
