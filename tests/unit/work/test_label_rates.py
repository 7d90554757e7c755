"""Labels are read from photographs as often as the pages say: askew, dark, dirty, out of focus.

A camera of 3 megapixels sees a label from half as far as one of 12 does: as many pixels a module,
and four times as quick. `python3 -m tests.photos.label_rates` prints the whole table for 12.
"""

import pytest

from tests.photos.label_rates import rate
from tests.photos.labels_seen import View

HALF_AS_WIDE = 2_000
PHOTOS = 4


@pytest.mark.parametrize(
    ("view", "least"),
    [
        (View(away_m=1.0), 4),
        (View(away_m=1.25), 4),
        (View(away_m=0.5, tilt_deg=45.0), 4),
        (View(away_m=0.5, tilt_deg=60.0), 3),
        (View(away_m=0.5, light=0.1), 4),
        (View(away_m=0.5, mud_on=("left",)), 4),
        (View(away_m=0.5, glare_on=("right",)), 3),
        (View(away_m=0.5, blur_px=6.5), 3),
        (View(away_m=1.0, blur_px=2.8), 4),
    ],
    ids=lambda it: it.words if isinstance(it, View) else "",
)
def test_a_label_is_read_from(view: View, least: int) -> None:
    assert rate(view, PHOTOS, HALF_AS_WIDE).at_all >= least


def test_mud_on_a_corner_of_both_codes_is_what_is_not_read() -> None:
    # What no second look helps against: both finder patterns gone. People type the short id.
    assert rate(View(away_m=0.5, mud_on=("left", "right")), 1, HALF_AS_WIDE).at_all == 0


def test_patience_reads_what_one_look_does_not() -> None:
    found = rate(View(away_m=1.0, blur_px=2.8), PHOTOS, HALF_AS_WIDE)

    assert found.at_once < found.at_all
