"""What is asked of cores of shotcrete: how old it is, then one strength after the other."""

from collections.abc import Iterator, Sequence
from typing import Final

from fieldapp.assess.bolt_tests import PutIn
from fieldapp.work.asked import UNKNOWN, Asked, Choice, Digits, whole_number
from fieldapp.work.bolt_tests.draft import CORE, NO_MORE, BoltTestWork
from fieldapp.work.bolt_tests.pick import MOST_DAYS, NOT_KNOWN, PickFrom, no_more
from schemas.numbers import text

LARGEST_MPA: Final = "200"


def cores(work: BoltTestWork, pick: PickFrom) -> Iterator[Asked]:
    """Yield what is asked of the cores of one place."""
    says = whole_number("days", "since it was sprayed", MOST_DAYS, lambda it: {"age_days": it})
    unknown = Choice(UNKNOWN, {"age_days": None}, NOT_KNOWN)
    of = next((it for it in pick.rounds if it.round_id == work.said.get("round")), None)
    by_round = tuple(_age(of, pick)) if of is not None else ()
    yield Asked(
        "age_days", ask="How old is it?", hint="", choices=(*by_round, unknown), digits=says
    )
    if NO_MORE not in work.said:
        pressed = work.said.get("cores_mpa", ())
        ask = f"Core {len(pressed) + 1}: which strength?"
        rule = pick.standard.cores if pick.standard else None
        limit = f"{text(rule.strength_mpa)} MPa demanded" if rule else "as it was pressed"
        digits = Digits("MPa", limit, LARGEST_MPA, lambda it: {CORE: text(it)})
        yield Asked(
            f"core {len(pressed)}",
            ask=ask,
            hint=_listed(pressed),
            choices=no_more(pressed),
            digits=digits,
        )


def _age(of: PutIn, pick: PickFrom) -> Iterator[Choice]:
    """Yield how old the shotcrete is by what its round says of it."""
    if of.sprayed_at is not None:
        days = max(0, (pick.today - of.sprayed_at).days)
        yield Choice(str(days), {"age_days": days}, "days, by its round")


def _listed(pressed: Sequence[str]) -> str:
    return f"{', '.join(pressed)} MPa" if pressed else ""
