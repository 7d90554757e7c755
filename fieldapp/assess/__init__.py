"""Pure engineering: measured values and a standard in, findings out. No clock, no files."""

from collections.abc import Collection

from schemas.bundle import Bundle
from schemas.findings import Assessment, Finding

__all__ = ["assess", "judged_by"]


def assess(bundle: Bundle) -> Assessment:
    """Judge a round by its standard, as it was seen and at a stated time.

    Parameters
    ----------
    bundle : Bundle
        Round, standard, the round before, deviations, and the time. [various]

    Returns
    -------
    Assessment
        Every finding, the worst first; the same bytes for the same bundle. [various]

    Raises
    ------
    UnknownSupportClass
        The round's class is not in the standard.

    Source
    ------
    Common practice, no source.
    """
    from fieldapp.assess.whole import assessed  # numpy comes with it, at the first assessment

    return assessed(bundle)


def judged_by(bundle: Bundle, checks: Collection[str]) -> tuple[Finding, ...]:
    """Judge a round by some checks alone: what they find is what the whole assessment says of it.

    Parameters
    ----------
    bundle : Bundle
        Round, standard, the round before, deviations, and the time. [various]
    checks : collection of str
        By their names. [-]

    Returns
    -------
    tuple of Finding
        The worst first. [various]

    Raises
    ------
    UnknownSupportClass
        The round's class is not in the standard.

    Source
    ------
    Common practice, no source.
    """
    from fieldapp.assess.whole import worst_first

    return worst_first(bundle, checks)
