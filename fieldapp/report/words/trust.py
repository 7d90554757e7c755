"""What the records of trust say of this machine, and how old they are, in words."""

from collections.abc import Iterator
from datetime import tzinfo
from zoneinfo import ZoneInfo

from assets.translate import _
from fieldapp.report.words.clock import span
from fieldapp.report.words.findings import when
from fieldapp.work.enrol.renewing import Renewal, renewal
from fieldapp.work.own_keys import is_office
from fieldapp.work.revoked import is_revoked
from fieldapp.work.site import Site
from fieldapp.work.site_states import is_paired
from sync.trust import Trust


def standing_lines(site: Site) -> Iterator[str]:
    """Say that this very tablet is revoked, and what is wrong with the office's word."""
    if is_revoked(site):
        yield _(
            "The office has revoked this tablet: what is stated on it from now on counts nowhere. "
            "Go by another one."
        )
    if is_paired(site):
        yield from rival_lines(site.store.holdings.trust())
    found, zone = renewal(site), ZoneInfo(site.settings.zone)
    yield from due_lines(found, zone) if is_office(site) else _old_lines(found, zone)


def rival_lines(trust: Trust) -> Iterator[str]:
    """Say that records of trust go apart, what counts meanwhile, and who settles it."""
    if trust.disputed:
        yield _(
            "The office's records of trust go apart at record {number}, as when an office was "
            "restored from a copy: two are signed by the site."
        ).format(number=trust.disputed[0].name.number)
        yield _(
            "Whoever either revokes is revoked, and nobody has a role that only one of them "
            "gives. Everything is kept."
        )
        yield _("The records keeper settles it on the office's machine: lastrow enrol settle.")


def due_lines(found: Renewal | None, zone: tzinfo) -> Iterator[str]:
    """Remind the records keeper that the records of trust are to be renewed."""
    if found is not None and found.is_due:
        yield _made(found, zone)
        yield _(
            "Tablets warn after 30 days. Renew the records on the office's machine: "
            "lastrow enrol renew."
        )


def _old_lines(found: Renewal | None, zone: tzinfo) -> Iterator[str]:
    if found is not None and found.is_old:
        yield _made(found, zone)
        yield _(
            "Whoever was revoked since then is still believed here. Nothing is stopped, and "
            "everything is kept."
        )
        yield _("Share now. If this stays, ask the records keeper: lastrow enrol renew.")


def _made(found: Renewal, zone: tzinfo) -> str:
    if found.made_at is None or found.age is None:
        return _("The records of trust here do not say when the office made them.")
    said = {"time": when(found.made_at, zone), "span": span(abs(found.age))}
    if found.is_ahead:
        return _(
            "The office's newest record of trust here says {time}, {span} ahead of the clock "
            "here: one of the two clocks is wrong."
        ).format(**said)
    return _("The office's newest record of trust here was made {time}, {span} ago.").format(
        **said
    )
