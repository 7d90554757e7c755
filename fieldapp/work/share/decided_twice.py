"""Rounds on which two people decided differently: one was signed twice, or begun on two tablets.

Nobody heard of the other. Which decision stands a person says; the other is withdrawn then, and
with it the round that it was about, where each tablet had begun one of that number by itself.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence

from fieldapp.work.heading_record import heading_record
from fieldapp.work.headings import headings
from fieldapp.work.known import Known
from fieldapp.work.rounds import rounds
from fieldapp.work.signed import standing
from fieldapp.work.site import Site
from schemas.bodies.round import Round
from schemas.bodies.sign_off import SignOff
from schemas.entry import Entry


def decided_twice(site: Site) -> Iterator[tuple[Entry, Entry]]:
    """Yield two sign-offs of a round that decide differently, the earlier one first.

    A round that two people revised is left out: which revision stands is settled before.
    """
    for place in headings(site):
        if any(fact.in_dispute for fact in heading_record(site, place.id).rounds):
            yield from _in_heading(site, place.id)


def loses_with(chosen: Entry, other: Entry) -> tuple[str, ...]:
    """Give the revisions that are void where one sign-off stands and the other doesn't."""
    one, two = (SignOff.model_validate(dict(it.body)) for it in (chosen, other))
    of_another = () if one.round == two.round else (two.round_revision,)
    return (other.revision, *of_another)


def _in_heading(site: Site, heading_id: str) -> Iterator[tuple[Entry, Entry]]:
    by_name: dict[str, list[Known[Round]]] = defaultdict(list)
    for known in rounds(site, heading_id):
        by_name[known.body.name].append(known)
    for same in by_name.values():
        if len({it.id for it in same}) == len(same):
            yield from _first_two(_signed(site, same))


def _signed(site: Site, same: Sequence[Known[Round]]) -> list[Known[SignOff]]:
    signed = (it for known in same for it in standing(site, [known]))
    return sorted(signed, key=lambda it: (it.entry.clock, it.entry.revision))


def _first_two(signed: Sequence[Known[SignOff]]) -> Iterator[tuple[Entry, Entry]]:
    for it in signed[1:]:
        if it.body.decision != signed[0].body.decision:
            yield signed[0].entry, it.entry
            return
