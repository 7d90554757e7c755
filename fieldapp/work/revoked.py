"""Whether the office has revoked the very tablet that asks: nobody else goes by it any more."""

from fieldapp.store.pairing import NotPaired
from fieldapp.work.authority import counting
from fieldapp.work.site import Site


def is_revoked(site: Site) -> bool:
    """Whether the site's records, as far as they were heard here, cut this tablet's row.

    A key that was handed on falls with the one before it, unless the office has enrolled it.
    """
    return counting(site).remembered("is revoked", lambda: _is_cut(site))


def _is_cut(site: Site) -> bool:
    holdings = site.store.holdings
    try:
        trust = holdings.trust()
    except NotPaired:
        return False
    named = {*trust.cuts, *trust.tablets}
    said_of = (it for it in reversed(holdings.own_tablets()) if it in named)
    return next(said_of, None) in trust.cuts
