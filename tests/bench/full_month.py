"""A month in which much was found: some 200 places of damage in 40 headings, each photographed."""

from datetime import timedelta
from decimal import Decimal
from io import BytesIO
from itertools import cycle
from pathlib import Path
from typing import Final

from PIL import Image, ImageEnhance

from fieldapp.start import open_site
from fieldapp.work.damage.stating import record_damage
from fieldapp.work.demo.people import KEEPER, TECHNICIAN
from fieldapp.work.headings import add_heading, heading, headings
from fieldapp.work.photo.photographs import keep_photo
from schemas.bodies.damage import Damage, DamageKind
from tests.bench.many_entries import AT_THE_END as ROUNDS_END
from tests.bench.many_entries import many_entries
from tests.demo_mine import session
from tests.photos.underground import FOLDER

HEADINGS: Final = 40
ENTRIES: Final = 10_000
DAMAGES: Final = 200
PHOTOS: Final = 2
"""Of each damage."""
MONTH: Final = "2031-05"
AT_THE_END: Final = ROUNDS_END + timedelta(days=10)
LONG_NAME: Final = "4180 Ore Drive North, second lift, beyond the old pump cuddy"
KINDS: Final[tuple[DamageKind, ...]] = ("torn mesh", "rusted", "bagged mesh", "plate gone")
NOTE: Final = (
    "Seen from the middle of the drive with the long lamp, behind the vent duct; it runs up to "
    "the shoulder and drips. The crew of the loader was told, and the place is sprayed."
)


def full_month(folder: Path) -> Path:
    """Make a home whose month fills a thick report; some headings and notes are long."""
    home = many_entries(folder, ENTRIES, HEADINGS)
    at = ROUNDS_END
    site = open_site(home, now=lambda: at)
    who = session(site, TECHNICIAN.name)
    with site.store:
        drive = heading(site, "Drive 7").body
        add_heading(site, drive.model_copy(update={"name": LONG_NAME}), session(site, KEEPER.name))
        places = cycle(headings(site))
        for number in range(DAMAGES):
            at += timedelta(minutes=10)
            place = next(places)
            said = Damage(
                heading=place.id,
                seen_at=at,
                chainage_m=place.body.face_m - Decimal(2 + number % 7),
                zone="left wall" if number % 2 else "right shoulder",
                kind=KINDS[number % len(KINDS)],
                severity=f"S{1 + number % 3}",
                exposure="E2",
                note=NOTE if number % 5 == 0 else "",
            )
            known = record_damage(site, said, who)
            for one in range(PHOTOS):
                keep_photo(site, _picture(folder, number * PHOTOS + one), who, known.id)
    return home


def _picture(folder: Path, number: int) -> Path:
    """Render one of the demo's pictures in a light of its own: no two are alike."""
    files = sorted(FOLDER.iterdir())
    with Image.open(files[number % len(files)]) as picture:
        lit = ImageEnhance.Brightness(picture).enhance(0.8 + number / 1000)
    kept = BytesIO()
    lit.save(kept, "JPEG", quality=90)
    path = folder / "taken.jpg"
    path.write_bytes(kept.getvalue())
    return path
