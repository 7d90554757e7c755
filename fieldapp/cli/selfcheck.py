"""`lastrow selfcheck`: whether everything that was kept is still what it was."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

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


@dataclass(eq=False)
class RecordUnfit(DiskTrouble):
    """What was kept of headings is not what their entries come to."""

    names: str

    happened = "What was remembered of {names} was not what its entries come to."
    kept = "It was gathered anew from the entries, which are as they were stated."
    do_next = "Look at the Shift board again before anybody goes in; ask who had this tablet."


def selfcheck(ctx: typer.Context, *, home: Home = None) -> int:
    """Check the database, every entry's hash, the sealed segments and all signatures.

    Example: lastrow selfcheck
    """
    with door_of(ctx).site(home) as site:
        _check(site)
    return 0


def _check(site: "Site") -> None:
    from fieldapp.assess.words import counted
    from fieldapp.work.signatures import signatures_that_do_not_fit, signed_here

    site.store.sealing.seal()
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
    from fieldapp.work.heading_record import gathered_again
    from fieldapp.work.headings import headings

    known = {it.id: it.body.name for it in headings(site)}
    unfit = [name for thing_id, name in known.items() if not gathered_again(site, thing_id)]
    if unfit:
        raise RecordUnfit(", ".join(unfit))
    print(f"{counted(len(known), 'heading')}, each remembered as its entries say.")


def _entries(number: int) -> str:
    return "1 entry" if number == 1 else f"{number} entries"
