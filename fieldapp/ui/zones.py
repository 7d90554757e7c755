"""Time zones as two lists of keys: parts of the world, then places in one."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from fieldapp.ui.translate import counted


@dataclass(frozen=True)
class ZoneChoice:
    """One key: its name, a word about it, and the zone where the choice is made."""

    name: str
    entry: str = ""
    zone: str = ""


def areas(zones: Iterable[str]) -> tuple[ZoneChoice, ...]:
    """Give the parts of the world, and zones that belong to none."""
    sizes = Counter(zone.partition("/")[0] for zone in zones if "/" in zone)
    alone = (ZoneChoice(zone, zone=zone) for zone in zones if "/" not in zone)
    parts = (
        ZoneChoice(area, counted("{} place", "{} places", size))
        for area, size in sorted(sizes.items())
    )
    return (*alone, *parts)


def places(zones: Iterable[str], area: str) -> tuple[ZoneChoice, ...]:
    """Give the places in a part of the world, as people write them."""
    return tuple(
        ZoneChoice(zone.partition("/")[2].replace("_", " "), zone=zone)
        for zone in zones
        if zone.startswith(f"{area}/")
    )
