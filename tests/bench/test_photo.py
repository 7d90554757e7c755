"""How long mesh in a photo takes to be found, how often that is right, how true lengths are."""

from collections import Counter
from statistics import median

import numpy as np

from fieldapp.assess.photo.lattice import proposed_frame
from tests.bench.ratio import LEAST_TIMES, Ratio, lasted_s
from tests.photos.held import held_truth
from tests.photos.mesh_found import found_in, is_right, random_photo
from tests.photos.scenes import KINDS, Kind

PHOTOS = 40
BUDGET_S = 1.5
SCENES = 250


def ratios() -> list[Ratio]:
    """Look for the mesh in random photos, and in one of 12 megapixels again and again."""
    large = np.asarray(random_photo(104).picture.getchannel("R").resize((4_000, 3_000)))
    times = [lasted_s(lambda: proposed_frame(large)) for _ in range(LEAST_TIMES)]
    came_to = Counter(_came_to(seed) for seed in range(200, 200 + PHOTOS))
    note = ", ".join(f"{number} {what}" for what, number in came_to.most_common())
    return [
        Ratio("mesh found in 12 MP", "", median(times), BUDGET_S, unit="s"),
        Ratio(
            f"of {PHOTOS} random photos of mesh, proposed right",
            "",
            100 * came_to["right"] / PHOTOS,
            90,
            unit="%",
            sense="at least",
            note=note,
        ),
        *map(_held, KINDS),
    ]


def _held(kind: Kind) -> Ratio:
    held = held_truth(kind, SCENES)
    what = f"of {SCENES} lengths on {kind} mesh, within ± 95 %"
    return Ratio(what, "", 100 * sum(held) / SCENES, 93, unit="%", sense="at least")


def _came_to(seed: int) -> str:
    photo = random_photo(seed)
    found = found_in(photo)
    if found is None:
        return "not proposed"
    return "right" if is_right(photo, found) else "wrong"
