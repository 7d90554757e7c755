"""What a technician saw in the demo mine: old support far outbye, each with a photograph.

Nothing of it holds entry: the story of the headings is told by their rounds.
"""

from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal
from importlib import resources
from typing import Final

from fieldapp.work.damage.stating import record_damage
from fieldapp.work.demo.people import TECHNICIAN
from fieldapp.work.demo.story import DECLINE, MAIN
from fieldapp.work.headings import heading
from fieldapp.work.people import person
from fieldapp.work.photo.photographs import keep_photo
from fieldapp.work.site import Session, Site
from schemas.bodies.damage import (
    Damage,
    DamageExtent,
    DamageKind,
    DamageZone,
    ReadMetres,
    ReadMillimetres,
    ReadTonnes,
)

WALKED: Final = timedelta(hours=26)


@dataclass(frozen=True)
class SeenDamage:
    """One damage, and the photograph of it."""

    heading: str
    photo: str
    kind: DamageKind
    zone: DamageZone
    chainage_m: str
    s_m: str
    severity: str
    above_floor_m: str
    bag_depth_mm: str | None = None

    @property
    def extent(self) -> DamageExtent:
        """How large it is, as far as it was taped."""
        seen = DamageExtent(above_floor=ReadMetres(value_m=Decimal(self.above_floor_m), how="eye"))
        if self.bag_depth_mm is None:
            return seen
        depth = ReadMillimetres(
            value_mm=Decimal(self.bag_depth_mm), how="tape", u95_mm=Decimal(10)
        )
        mass = ReadTonnes(value_t=Decimal("0.1"), how="eye", u95_t=Decimal("0.05"))
        return seen.model_copy(update={"bag_depth": depth, "loose_mass": mass})


SEEN: Final = (
    SeenDamage(DECLINE, "torn-mesh", "torn mesh", "left wall", "1204.60", "-6.1", "S2", "0.60"),
    SeenDamage(MAIN, "rusted-mesh", "rusted", "right shoulder", "482.30", "2.4", "S1", "3.20"),
    SeenDamage(
        MAIN, "bagged-mesh", "bagged mesh", "left wall", "515.80", "-4.9", "S2", "0.90", "180"
    ),
)


def record_damages(site: Site) -> None:
    """State the damage as the technician saw it on a walk of the day before."""
    who = person(site, TECHNICIAN.name)
    session = Session(who.id, who.body.name, who.body.roles)
    for seen in SEEN:
        body = Damage(
            heading=heading(site, seen.heading).id,
            seen_at=site.now() - WALKED,
            chainage_m=Decimal(seen.chainage_m),
            s_m=Decimal(seen.s_m),
            zone=seen.zone,
            kind=seen.kind,
            severity=seen.severity,
            exposure="E2",
            extent=seen.extent,
        )
        known = record_damage(site, body, session)
        photo = resources.files("assets").joinpath(f"demo/photos/{seen.photo}.jpg")
        with resources.as_file(photo) as path:
            keep_photo(site, path, session, known.id)
