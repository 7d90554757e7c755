"""What this mine knows that a round's answers are picked from: crews, batches, people."""

from fieldapp.work.batches import batches
from fieldapp.work.people import people
from fieldapp.work.questions import Installer, Known
from fieldapp.work.roles import SIGNERS
from fieldapp.work.site import Site
from schemas.bodies.person import Person


def picked_from(site: Site) -> Known:
    """Gather it: bolters come first, then those who must not sign what they bolted."""
    enrolled = sorted(people(site), key=lambda it: (_likely(it.body), it.body.name.casefold()))
    return Known(
        crews=site.settings.crews,
        batches=batches(site),
        installers=tuple(Installer(it.id, it.body.name) for it in enrolled),
    )


def _likely(person: Person) -> int:
    if "bolter" in person.roles:
        return 0
    return 1 if any(role in SIGNERS for role in person.roles) else 2
