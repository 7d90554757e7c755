"""The office's part: making the site's share, and enrolling and revoking its tablets."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from fieldapp.store.codes import SITE
from fieldapp.work.enrol.checked import WrongCheckNumber
from fieldapp.work.enrolled import certified_before
from fieldapp.work.known import current
from fieldapp.work.own_keys import site_key_with
from fieldapp.work.share.delivered import name_followed
from fieldapp.work.site import Site
from fieldapp.work.site_states import is_paired, state_as_site
from fieldapp.work.writing import new_thing_id, written
from schemas.bodies.tablet import Tablet
from schemas.check_number import is_check_number_of
from schemas.entry import Entry
from schemas.signatures import Certificate, SigningKey
from schemas.trouble import BadInput, NotAllowed
from sync.belief import counts
from sync.folder import Folder, NotThere
from sync.holdings import Held
from sync.names import STORE
from sync.pairing import PairingAnswer, PairingRequest
from sync.places import open_folder
from sync.segment import tablet_id
from sync.share_identity import LONGEST, AnotherShare, ShareIdentity, read_share_identity
from sync.trust import EnrolTablet, RevokeTablet

OFFICE = "office"
"""The name under which the office's own machine is enrolled."""


@dataclass(eq=False)
class NoSuchTablet(BadInput):
    """No tablet of that name or id is known here."""

    name: str
    happened = "No tablet {name} is known on this machine."
    kept = "Nothing was changed."
    do_next = "See which are known: lastrow enrol list. Share first if it was used lately."


@dataclass(eq=False)
class TabletNameTaken(NotAllowed):
    """Another tablet goes by that name."""

    name: str
    happened = "A tablet called {name} is enrolled already."
    kept = "Nothing was changed."
    do_next = "Give the new tablet a name that tells the two apart."


@dataclass(frozen=True)
class SeenTablet:
    """One tablet, as the office knows it."""

    tablet: str
    name: str
    """Empty where nobody enrolled it."""
    follows: str
    """The name of the tablet whose key was handed on to it, where only that one is enrolled."""
    sealed: int
    """Number of the last of its segments that is held here."""
    cut_at: int | None
    """The last segment that is believed, where it was revoked."""
    counts: bool
    """Whether what it sealed counts here."""


def start_share(site: Site, place: str, *, site_code: str) -> Site:
    """Make a folder the site's share, with this machine and everybody enrolled here believed.

    Doing it again finishes what was cut short, or makes the share anew where the folder was
    emptied: it has the same identity then, and every tablet puts back what it holds.

    Returns
    -------
    Site
        The site under settings that name the place; whoever asked keeps them.

    Raises
    ------
    AnotherShare, NoShareHere
        The folder is another site's share already, or what makes it one is torn.
    ShareGone, ShareFull, ShareReadOnly
        The folder can't be written.
    """
    root = site_key_with(site, site_code)
    folder = open_folder(place, password=site.password)
    identity = _identity(site, root)
    _refuse_another(folder, identity)
    site.store.holdings.pair(identity.store, identity.root_keys)
    folder.put(STORE, identity.content())
    started = site.with_settings(site.settings.model_copy(update={"share": folder.place}))
    if site.store.holdings.trust().number == 0:
        state_as_site(started, _stated_so_far(site), root, acts=[_own_machine(site)])
    return started


def enrol_tablet(
    site: Site, request: PairingRequest, name: str, *, check: str, site_code: str
) -> PairingAnswer:
    """Enrol a tablet that asks, and give the answer that it takes to join.

    Done again for the same tablet, it gives the answer once more.

    Raises
    ------
    WrongCheckNumber
        The number on the tablet is another: the request is not the one that it made.
    TabletNameTaken
        Another tablet goes by the name.
    NoShareNamed, NoShareHere, ShareGone, ShareFull, ShareReadOnly, TrustNotRead
        The share can't be written now; the tablet is not enrolled.
    """
    if not is_check_number_of(request.public_key, check):
        raise WrongCheckNumber("the tablet")
    root = site_key_with(site, site_code)
    known = _stated_tablet(site, request.public_key)
    if known is None:
        known = _state_tablet(site, request, name, root)
    trust = site.store.holdings.trust()
    return PairingAnswer(
        tablet=request.tablet,
        thing=known.id,
        store=trust.store,
        mine=site.mine.name,
        demo=site.mine.demo,
        root_keys=trust.root_keys,
    ).signed(root)


def enrol_seen_tablet(site: Site, tablet: str, name: str, *, check: str, site_code: str) -> None:
    """Enrol a tablet whose entries came by the share and are not believed yet.

    Raises
    ------
    NoSuchTablet
        No tablet of that id has been heard of.
    WrongCheckNumber, TabletNameTaken
        As in `enrol_tablet`.
    """
    seen = site.store.holdings.identity(tablet)
    if seen is None:
        raise NoSuchTablet(tablet)
    request = PairingRequest(tablet=tablet, public_key=seen.public_key)
    enrol_tablet(site, request, name, check=check, site_code=site_code)


def revoke_tablet(site: Site, name_or_id: str, reason: str, *, site_code: str) -> SeenTablet:
    """Believe nothing that a tablet seals from now on; what is held here of it stays believed.

    Raises
    ------
    NoSuchTablet
        No tablet of that name or id is known.
    """
    root = site_key_with(site, site_code)
    known = tablet_called(site, name_or_id)
    row = site.store.holdings.rows().get(known.tablet, ())
    last = max((held.name for held in row), key=lambda name: name.seq, default=None)
    cut = RevokeTablet(
        tablet=known.tablet,
        valid_through=known.sealed,
        valid_through_hash16=last.hash16 if last else None,
        reason=reason,
    )
    state_as_site(site, (), root, acts=[cut])
    return replace(known, cut_at=known.sealed)


def tablets(site: Site) -> tuple[SeenTablet, ...]:
    """Give every tablet that is enrolled, revoked or heard of, by name."""
    holdings = site.store.holdings
    trust, rows, own = holdings.trust(), holdings.rows(), set(holdings.own_tablets())
    ids = {*trust.tablets, *trust.cuts, *rows}
    return tuple(
        sorted(
            (
                SeenTablet(
                    tablet=it,
                    name=trust.tablets[it].name if it in trust.tablets else "",
                    follows=name_followed(holdings, trust, it),
                    sealed=_last(rows, it),
                    cut_at=trust.cuts.get(it),
                    counts=it in own or counts(trust, holdings.identity, it, _last(rows, it)),
                )
                for it in ids
            ),
            key=lambda seen: (not seen.name, seen.name.casefold(), seen.tablet),
        )
    )


def tablet_called(site: Site, name_or_id: str) -> SeenTablet:
    """Find a tablet by name or id.

    Raises
    ------
    NoSuchTablet
        None is known by it.
    """
    for seen in tablets(site):
        if name_or_id == seen.tablet or name_or_id.casefold() == seen.name.casefold() != "":
            return seen
    raise NoSuchTablet(name_or_id)


def _last(rows: Mapping[str, tuple[Held, ...]], tablet: str) -> int:
    return max((held.name.seq for held in rows.get(tablet, ())), default=0)


def _identity(site: Site, root: SigningKey) -> ShareIdentity:
    store = site.store.holdings.trust().store if is_paired(site) else new_thing_id(site)
    named = ShareIdentity(
        store=store, mine=site.mine.name, demo=site.mine.demo, root_keys=(root.public_key,)
    )
    return named.signed(root)


def _refuse_another(folder: Folder, identity: ShareIdentity) -> None:
    """Refuse a folder that is a share already, unless it is the very one."""
    try:
        content = folder.read(STORE, at_most=LONGEST)
    except NotThere:
        return
    if content != identity.content():
        found = read_share_identity(folder)
        raise AnotherShare(folder.place, found.store, identity.store)


def _own_machine(site: Site) -> EnrolTablet:
    key = site.store.keys.tablet().public_key
    return EnrolTablet(tablet=tablet_id(key), public_key=key, name=OFFICE)


def _stated_so_far(site: Site) -> tuple[Entry, ...]:
    """Give every enrolment that the site's certificate stands behind, oldest first."""
    own = current(site, "tablet", Tablet)
    people = certified_before(site.store.ledger, site.mine.site_key).enrolments
    return (*(it.entry for it in own), *(it.entry for it in people))


def _stated_tablet(site: Site, public_key: str) -> Entry | None:
    by_site = site.store.ledger.stated_by_site() or frozenset()
    known = (
        it.entry for it in current(site, "tablet", Tablet) if it.body.public_key == public_key
    )
    return next((entry for entry in known if entry.revision in by_site), None)


def _state_tablet(site: Site, request: PairingRequest, name: str, root: SigningKey) -> Entry:
    if any(name.casefold() == it.name.casefold() for it in tablets(site)):
        raise TabletNameTaken(name)
    thing, key = new_thing_id(site), request.public_key
    certificate = Certificate.issue(root, holder=thing, public_key=key, roles=("tablet",))
    body = Tablet(name=name, public_key=key, certificate=certificate.signature)
    entry = written(site, "tablet", body, author=SITE, thing_id=thing)
    enrolled = EnrolTablet(tablet=request.tablet, public_key=key, name=name)
    state_as_site(site, [entry], root, acts=[enrolled])
    return entry
