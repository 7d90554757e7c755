"""Photos in a report are printed in no more dots than paper shows: a month of them travels."""

from datetime import UTC, datetime
from pathlib import Path

import numpy as np
from PIL import Image

from fieldapp.report.pages.flow import pages_pdf
from fieldapp.report.pages.laying import Laying, photo_pieces
from fieldapp.report.reported import code_of
from fieldapp.work.reporting.told import PhotoTold
from tests.unit.report.told import heading_facts

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
