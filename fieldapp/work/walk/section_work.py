"""One section of a walk as it is being answered: what was touched so far, and what it comes to.

What was found new is a list of things; the last of them is the one that is being described.
What was drawn to be answered in full is told apart for each zone.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from decimal import Decimal
from typing import Any, Final

from schemas.bodies.walk import DistanceRead, PartSeen, SectionSeen, SteelRead, ZoneSeen
from schemas.part import Part

Place = tuple[Decimal, Decimal]
"""From and to which chainage a section reaches, in metres."""
Said = dict[str, Any]

ANEW: Final = "anew"
"""What a touch says that takes the answer of a section back, to give it once more."""
STAYS: Final = ("photo", "note")
OF: Final = "of"
"""What a thing is: "part", "zone", "steel", "distance" or "damage"."""
BODIES: Final[dict[str, type[Part]]] = {
    "part": PartSeen,
    "zone": ZoneSeen,
    "steel": SteelRead,
    "distance": DistanceRead,
}
LISTS: Final = {
    "part": "parts",
    "zone": "zones",
    "steel": "steel",
    "distance": "distances",
}
NEEDED: Final = {
    "part": ("part", "zone"),
    "zone": ("zone",),
    "steel": ("steel", "part", "zone", "chainage_m", "original_mm", "read_mm", "u_mm", "how"),
    "distance": ("station", "between", "chainage_m", "read_mm", "u_mm"),
}
"""What a thing is nothing without: it is left out where it was not told to the end."""


@dataclass(frozen=True)
class SectionWork:
    """What was touched of one section."""

    from_m: Decimal
    to_m: Decimal
    said: Said = field(default_factory=dict)
    """Answer, reason, photo and note, and whether nothing more is new."""
    things: tuple[Said, ...] = ()
    """What was found new, in the order in which it was told."""
    full: Mapping[str, Said] = field(default_factory=dict)
    """What was said of each zone that was drawn to be answered in full."""
    open_damage: Mapping[str, str] = field(default_factory=dict)
    """What was said of damage that is open here, by its id."""
    at: datetime | None = None
    """When it was touched last."""

    @property
    def place(self) -> Place:
        """From and to which chainage it reaches, in metres."""
        return self.from_m, self.to_m

    @property
    def answer(self) -> str | None:
        """The one answer; None: not answered."""
        answer: str | None = self.said.get("answer")
        return answer

    @property
    def damages(self) -> tuple[str, ...]:
        """Ids of damage that was recorded here, each once."""
        found = (it["damage"] for it in self.things if it.get("damage"))
        return tuple(dict.fromkeys(found))

    def told(self, says: Said, at: datetime) -> "SectionWork":
        """Give it with what one touch said."""
        if ANEW in says:
            return self._anew(at)
        if "open" in says:
            rest = {name: it for name, it in says.items() if name != "open"}
            said_of = {**self.open_damage, **says["open"]}
            return replace(self.told(rest, at), open_damage=said_of, at=at)
        if "thing" in says:  # a place that was touched on the drive is something new at once
            said = {**self.said, "answer": "something new"}
            said |= {it: says[it] for it in ("first_look",) if it in says}
            said.pop("done", None)
            return replace(self, said=said, things=(*self.things, says["thing"]), at=at)
        if "more" in says:
            nth = says.get("nth", len(self.things) - 1)
            things = list(self.things)
            stays = {
                it: said for it, said in things[nth].items() if it not in says.get("unsay", ())
            }
            read = {"read_at": at.isoformat()} if "read_mm" in says["more"] else {}
            things[nth] = {**stays, **says["more"], **read}
            return replace(self, things=tuple(things), at=at)
        if "full" in says:
            full = {**self.full, says["zone"]: _merged(self.full.get(says["zone"]), says["full"])}
            return replace(self, full=full, at=at)
        return replace(self, said={**self.said, **says}, at=at) if says else self

    def _anew(self, at: datetime) -> "SectionWork":
        """Give it with nothing answered; photo, note and damage that is kept are there already."""
        said: Said = {name: self.said[name] for name in STAYS if name in self.said}
        kept = tuple(it for it in self.things if it.get("damage"))
        if kept:
            said["answer"] = "something new"
        return SectionWork(*self.place, said=said, things=kept, at=at)

    @property
    def half_told(self) -> tuple[str, ...]:
        """Name what was found new and not told to the end: "bar, back, 13.4 m"."""
        return tuple(_named(it) for it in self.things if not _is_told(it))

    @property
    def seen(self) -> SectionSeen | None:
        """The section as it would be kept; None while it has no answer."""
        if self.answer is None or self.at is None:
            return None
        body: dict[str, Any] = {
            "from_m": self.from_m,
            "to_m": self.to_m,
            "at": self.at,
            "answer": self.answer,
            "not_reached": self.said.get("not_reached"),
            "first_look": bool(self.said.get("first_look")),
            "photo": self.said.get("photo"),
            "note": self.said.get("note", ""),
            "in_full": [zone for zone, said in self.full.items() if said.get("whole")],
            "damages": self.damages,
            "open_damage": [{"damage": it, "said": how} for it, how in self.open_damage.items()],
        }
        for of, name in LISTS.items():
            body[name] = [_body(it) for it in self.things if it.get(OF) == of and _is_told(it)]
        body["parts"] += [part for zone in self.full for part in self._parts_in_full(zone)]
        body["zones"] = list(_zones([*body["zones"], *self._zones_in_full()]))
        return SectionSeen.model_validate(body)

    def _parts_in_full(self, zone: str) -> Iterator[Said]:
        said = self.full[zone]
        severities, grades = said.get("severity", {}), said.get("grade", {})
        for part in dict.fromkeys((*severities, *grades)):
            severity, grade = severities.get(part), grades.get(part)
            if severity is not None or grade is not None:
                yield {
                    "part": part,
                    "zone": zone,
                    "severity": severity,
                    "corrosion_grade": grade,
                }

    def _zones_in_full(self) -> Iterator[Said]:
        for zone, said in self.full.items():
            yield {"zone": zone, "water": said.get("water"), "scats": said.get("scats")}


def _is_told(thing: Said) -> bool:
    """Tell whether a thing says what it is nothing without."""
    of = thing.get(OF)
    if of == "damage":
        return thing.get("damage") is not None
    needed = (*NEEDED[of], thing.get("about")) if of in NEEDED else (OF,)
    return all(thing.get(it) is not None for it in needed if it is not None)


def _named(thing: Said) -> str:
    what = next((thing[it] for it in ("station", "steel", "part", "about") if thing.get(it)), None)
    at_m = thing.get("chainage_m")
    said = (what or thing.get(OF), thing.get("zone"), at_m and f"{at_m} m")
    return ", ".join(it for it in said if it) or "something new"


def _merged(before: Said | None, says: Said) -> Said:
    """Add what was said of some parts to what was said of others."""
    merged = dict(before or {})
    for name, value in says.items():
        merged[name] = {**merged.get(name, {}), **value} if isinstance(value, dict) else value
    return merged


def _zones(said: list[Said]) -> Iterator[Said]:
    """Give each zone once, with what was said of it last; nothing said leaves it out."""
    by_zone: dict[str, Said] = {}
    for it in said:
        known = {name: value for name, value in it.items() if value is not None}
        by_zone[it["zone"]] = {**by_zone.get(it["zone"], {}), **known}
    return (it for it in by_zone.values() if it.keys() != {"zone"})


def _body(thing: Said) -> Said:
    """Give a thing as it is written down, without what was only said on the way."""
    fields = BODIES[thing[OF]].model_fields
    return {name: it for name, it in thing.items() if name in fields}
