"""A photo of 12 megapixels from the camera's file to the mark-up, a list of 1,000, and memory."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import numpy as np
from PIL import Image

from tests.bench.ratio import LEAST_TIMES, Ratio, lasted_s

if TYPE_CHECKING:
    from fieldapp.ui.photo.photo_sheet import PhotoSheet
    from fieldapp.work.known import Known
    from schemas.bodies.photo import Photo
    from tests.ui.harness import Tablet
    from tests.ui.mine import Hands

FRAME_MS = 1000 / 60
PHOTOS = 1_000
DAMAGE = "01c2a8d6-4d20-7b11-9c35-0a4e6f2d8b19"
MB = 1024


def ratios() -> list[Ratio]:
    """Take, open, list and leave photos, on the demo mine."""
    from tests.ui.harness import Tablet
    from tests.ui.mine import at_the_demo

    tablet = Tablet()
    with TemporaryDirectory() as folder, at_the_demo(tablet, Path(folder)) as hands:
        hands.signed_in()
        return [*_memory(hands, Path(folder)), _ready(hands, Path(folder)), _listed(hands)]


def large_photo(file: Path, seed: int) -> Path:
    """Write a photo of 12 megapixels and some 4 MB."""
    chance = np.random.default_rng(seed)
    coarse = chance.integers(0, 255, (375, 500, 3), dtype=np.uint8)
    picture = Image.fromarray(coarse).resize((4_000, 3_000), Image.Resampling.BICUBIC)
    picture.save(file, quality=90)
    return file


def _ready(hands: "Hands", folder: Path) -> Ratio:
    """Keep a photo, decode it beside the screen and show it with its marks."""
    from fieldapp.ui.photo.textures import EDGE_PX, texture_of
    from fieldapp.work.photo.file import photo_seen
    from fieldapp.work.photo.photographs import keep_photo, photo_path

    def ready(file: Path) -> None:
        kept = keep_photo(hands.site, file, hands.shell.session, DAMAGE)
        texture_of(photo_seen(photo_path(hands.site, kept.body), EDGE_PX).picture)

    files = [large_photo(folder / f"{number}.jpg", number) for number in range(LEAST_TIMES)]
    times = [lasted_s(partial(ready, file)) for file in files]
    note = f"slowest {max(times):.2f} s of {len(times)}"
    return Ratio("12 MP taken, kept, ready to draw on", "", median(times), 1, unit="s", note=note)


def _memory(hands: "Hands", folder: Path) -> Iterator[Ratio]:
    """Compare what the app holds with a photo open, and after ten were opened and closed."""
    from fieldapp.work.photo.photographs import keep_photo

    kept = keep_photo(hands.site, large_photo(folder / "a.jpg", 99), hands.shell.session, DAMAGE)
    gc.collect()
    alone = resident_mb()
    with _open(hands, kept):
        shown = resident_mb()
    yield Ratio("memory more with a 12 MP photo open", "the board", shown - alone, 150, unit="MB")
    yield Ratio("memory with a 12 MP photo open", "", shown, 450, unit="MB")
    held = []
    for _ in range(15):
        with _open(hands, kept):
            pass
        held.append(resident_mb())
    yield Ratio("memory more after ten more", "after five", held[-1] - held[4], 10, unit="MB")


@contextmanager
def _open(hands: "Hands", photo: "Known[Photo]") -> Iterator[None]:
    from fieldapp.ui.photo.view_sheet import ViewSheet

    sheet = ViewSheet(hands.shell, photo)
    sheet.open()
    hands.tablet.until(lambda: sheet.texture is not None)
    hands.rest()
    yield
    sheet.close()
    hands.rest()
    gc.collect()


def resident_mb() -> float:
    """Say how much memory this process holds now. [MB]."""
    lines = Path("/proc/self/status").read_text().splitlines()
    return int(next(line for line in lines if line.startswith("VmRSS")).split()[1]) / MB


def _listed(hands: "Hands") -> Ratio:
    """Turn the pages of a thousand photos; the small pictures are on the disk already."""
    sheet = _long_list(hands)
    tablet, grid = hands.tablet, sheet.ids.body.children[0].children[0]
    frames = [_frame_ms(tablet, partial(grid.turn, 1)) for _ in range(20)]
    # Then frames in which the worker's pictures come onto the glass.
    frames += [_frame_ms(tablet, lambda: None) for _ in range(60)]
    left = len(sheet.photos)
    sheet.close()
    hands.rest()
    note = f"slowest {max(frames):.1f} ms of {len(frames)}, {left} photos"
    what = f"a page of {PHOTOS:,} photos turned, a frame"
    return Ratio(what, "a frame at 60 Hz", median(frames[:20]), FRAME_MS, unit="ms", note=note)


def _long_list(hands: "Hands") -> "PhotoSheet":
    from fieldapp.ui.photo.photo_sheet import PhotoSheet
    from fieldapp.work.photo.photographs import keep_photo

    file = hands.home / "small.jpg"
    for number in range(PHOTOS):
        chance = np.random.default_rng(number)
        coarse = Image.fromarray(chance.integers(0, 255, (6, 8, 3), dtype=np.uint8))
        coarse.resize((320, 240)).save(file, quality=90)
        keep_photo(hands.site, file, hands.shell.session, "list")
    sheet = PhotoSheet(hands.shell, "list")
    sheet.open()
    hands.rest()
    return sheet


def _frame_ms(tablet: "Tablet", act: object) -> float:
    from kivy.clock import Clock
    from kivy.lang import Builder

    def frame() -> None:
        act()  # type: ignore[operator]
        Clock.tick()
        Clock.tick_draw()
        Builder.sync()
        tablet.window.dispatch("on_draw")

    return lasted_s(frame) * 1e3
