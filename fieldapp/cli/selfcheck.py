"""`lastrow selfcheck`: whether everything that was kept is still what it was."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

import typer

from fieldapp.cli.door import Home, door_of
from schemas.trouble import DiskTrouble

if TYPE_CHECKING:
    from fieldapp.work.site import Site


@dataclass(eq=False)
class SignatureUnfit(DiskTrouble):
    """A sign-off or a deviation is not what its author signed."""

    revision: str
    unfit: str

    happened = "A signature is not its author's on {unfit}: {revision}."
    kept = "Nothing was changed; such a one counts as none."
    do_next = "Don't rely on them; look at the rounds again, then grant and sign anew."


PutBack = Annotated[
    bool,
    typer.Option("--put-back", help="Put back what is missing or altered, as it was sealed."),
]


def selfcheck(ctx: typer.Context, *, put_back: PutBack = False, home: Home = None) -> int:
    """Check that everything is here as it was stated: hashes, segments, signatures.

    Example: lastrow selfcheck
    """
    with door_of(ctx).site(home) as site:
        if put_back:
            _put_back(site)
        _check(site)
    return 0


def _put_back(site: "Site") -> None:
    before, after = site.store.wholeness.lacking, site.store.wholeness.put_back()
    if after is not None:
        raise after.told()
    print("Nothing was missing." if before is None else "All of it is back as it was sealed.")


def _check(site: "Site") -> None:
    from fieldapp.assess.words import counted
    from fieldapp.work.signatures import signatures_that_do_not_fit, signed_here

    lacking = site.store.wholeness.lacking
    if lacking is not None:  # nothing is sealed after a row that was cut
        raise lacking.told()
    site.store.holdings.seal()
    found = site.store.check()
    print(f"Database sound: {_entries(found.entries)}, every line fits its hash.")
    print(f"{counted(found.segments, 'segment')}, every one signed and in its place.")
    if found.held:
        held = counted(found.held, "segment")
        print(f"{held} from the share, every one as its tablet sealed it.")
    unfit = signatures_that_do_not_fit(site)
    if unfit:
        raise SignatureUnfit(unfit[0].revision, counted(len(unfit), "sign-off or deviation"))
    signed = sum(1 for _ in signed_here(site))
    print(f"{signed} signed, sign-offs and deviations: every signature is its author's.")
    _check_records(site)


def _check_records(site: "Site") -> None:
    from fieldapp.assess.words import counted
    from fieldapp.work.heading_record import RecordUnfit, gathered_again
    from fieldapp.work.headings import headings

    known = {it.id: it.body.name for it in headings(site)}
    unfit = [name for thing_id, name in known.items() if not gathered_again(site, thing_id)]
    if unfit:
        raise RecordUnfit.of(unfit)
    print(f"{counted(len(known), 'heading')}, each remembered as its entries say.")


def _entries(number: int) -> str:
    return "1 entry" if number == 1 else f"{number} entries"
