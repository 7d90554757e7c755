"""What was said on walks of damage that was open where somebody walked."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from pydantic import AwareDatetime, ValidationError

from fieldapp.work.authority import Which, counting
from fieldapp.work.site import Sight
from schemas.bodies.walk import DamageSaid, OpenDamageSeen
from schemas.part import Part
from sync.ledger import name_in


@dataclass(frozen=True)
class SaidOnWalk:
    """How a damage stood when somebody walked past it; it stays open whatever was said."""

    at: datetime
    said: DamageSaid


class _Section(Part):
    """The little that is read of a section here: years of walks are looked through."""

    at: AwareDatetime
    open_damage: tuple[OpenDamageSeen, ...] = ()


def said_on_walks(site: Sight, heading_id: str) -> Mapping[str, tuple[SaidOnWalk, ...]]:
    """Give what walks of a heading said of each damage, by its id, the newest first."""
    known = counting(site)

    def found() -> Mapping[str, tuple[SaidOnWalk, ...]]:
        said = defaultdict(list)
        for entry in known.heads(Which("walk", named="heading", name=heading_id)):
            if name_in(entry.body, "heading") == heading_id:
                for damage, it in _of(entry.body.get("sections", ())):
                    said[damage].append(it)
        return {
            it: tuple(sorted(of_it, key=lambda one: one.at, reverse=True))
            for it, of_it in said.items()
        }

    return known.remembered(("said on walks", heading_id), found)


def _of(sections: Any) -> Iterator[tuple[str, SaidOnWalk]]:
    told = [it for it in sections if isinstance(it, Mapping) and it.get("open_damage")]
    for it in told:
        try:
            section = _Section.model_validate(it)
        except ValidationError:  # a newer version's
            continue
        for seen in section.open_damage:
            yield seen.damage, SaidOnWalk(section.at, seen.said)
