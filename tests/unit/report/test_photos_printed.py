"""Photos in a report are printed in no more dots than paper shows: a month of them travels."""

import re
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
from PIL import Image

from fieldapp.report.pages.flow import pages_pdf
from fieldapp.report.pages.laying import Laying, photo_pieces
from fieldapp.report.pages.month_pages import month_pages
from fieldapp.report.reported import code_of
from fieldapp.work.reporting.facts import MonthFacts
from fieldapp.work.reporting.told import PhotoTold
from tests.unit.report.pages import reader_of
from tests.unit.report.told import damage_told, heading_facts, month_facts

MOST_BYTES = 70_000
"""200 of them, in a month of 60 pages, are below 15 MB with everything else on the pages."""
TAKEN = datetime(2031, 5, 6, tzinfo=UTC)


def grainy(path: Path, seed: int) -> Path:
    """Write a photo of 3 megapixels as a small sensor takes it in little light: all grain."""
    chance = np.random.default_rng(seed)
    ground = Image.fromarray(chance.integers(40, 168, (75, 100, 3), dtype=np.uint8))
    seen = np.asarray(ground.resize((2000, 1500)), dtype=np.int16)
    grain = chance.integers(-40, 40, (1500, 2000, 1), dtype=np.int16)
    Image.fromarray(np.clip(seen + grain, 0, 255).astype(np.uint8)).save(path, quality=80)
    return path


def test_a_grainy_photo_takes_a_few_tens_of_kilobytes_on_paper(tmp_path: Path) -> None:
    photos = [grainy(tmp_path / f"{n}.jpg", n) for n in range(2)]
    told = [
        (f"photo {n}", PhotoTold(sha256=f"{n:064x}", month="203105", ending="jpg",
                                 taken_at=TAKEN, kept_at=TAKEN))
        for n in range(2)
    ]  # fmt: skip
    facts = heading_facts()
    on = Laying(facts, code_of(facts), "metres", lambda it: photos[int(it.sha256, 16)])
    bare, shown = (
        len(pages_pdf(on.pages("photos"), list(photo_pieces(on, it)))) for it in ([], told)
    )

    assert min(it.stat().st_size for it in photos) > 500_000
    assert (shown - bare) / len(photos) < MOST_BYTES


def month_of(*photos: PhotoTold) -> MonthFacts:
    """Give a month in which one damage was found, with so many photos."""
    return month_facts(damage_told().model_copy(update={"photos": photos}))


def test_a_month_shows_the_newest_photo_of_each_damage_that_was_found() -> None:
    photos = [
        PhotoTold(sha256=f"{n:064x}", month="203105", ending="jpg", taken_at=TAKEN, kept_at=TAKEN)
        for n in range(3)
    ]
    asked: list[str] = []
    facts = month_of(*photos)
    on = Laying(facts, code_of(facts), "metres", lambda it: asked.append(it.sha256))
    pdf = month_pages(on, facts, "Month")
    said = " ".join(page.extract_text() for page in reader_of(pdf).pages)

    assert set(asked) == {photos[-1].sha256}
    assert re.search(r"7K3Q-9XTR-5, torn mesh, taken 6 May 2031, 1 of 3 photos", said)
