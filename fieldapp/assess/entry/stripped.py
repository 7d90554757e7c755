"""Entry to ground whose support was stripped: withdrawn at once, until new support is accepted."""

from collections.abc import Iterable, Iterator
from decimal import Decimal

from fieldapp.assess.entry.bare_ground import Bare
from fieldapp.assess.entry.caps import Cap, shut
from fieldapp.assess.entry.facts import HeadingFacts
from schemas.findings import Verdict


def stripped_caps(facts: HeadingFacts, bare: Iterable[Bare], signed_m: Decimal) -> Iterator[Cap]:
    """Withdraw stripped ground, and the two rows outbye of it, which it may have loosened.

    A round over the outbye part of it has confirmed those two rows: what is left begins where
    that round ends.

    Parameters
    ----------
    facts : HeadingFacts
        How far back two rows reach. [m]
    bare : iterable of Bare
        What was stripped and not supported anew. [m]
    signed_m : Decimal
        Chainage of the last row of accepted support. [m]

    Returns
    -------
    iterator of Cap
        One for each stretch. [m]

    Source
    ------
    Common practice, no source: no sign-off stands for bolts that are gone.
    """
    for it in bare:
        loosened = it.from_m == it.stripped_from_m
        line_m = min(it.from_m, signed_m) - (facts.two_rows_m if loosened else Decimal(0))
        yield shut(line_m, Verdict.NO_ENTRY, f"{it.words}: no new support is accepted")
