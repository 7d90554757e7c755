"""Every widget on a page as a screen would use it: nothing for the walker to find."""

import pytest
from kivy.metrics import Metrics, dp

from fieldapp.ui import theme
from fieldapp.ui.theme import look
from tests.ui.gallery import PAGES
from tests.ui.harness import LANDSCAPE, PORTRAIT, Tablet
from tests.ui.uilint import faults

pytestmark = pytest.mark.window


@pytest.mark.parametrize("look_name", ["dark", "bright"])
@pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])
@pytest.mark.parametrize("name", PAGES)
def test_a_page_of_the_kit_has_no_fault(
    tablet: Tablet, name: str, size: tuple[int, int], look_name: str
) -> None:
    look.use(look_name)
    tablet.turn(size)
    tablet.show(*PAGES[name]())

    assert faults(tablet) == []


def test_the_window_is_a_real_one(tablet: Tablet) -> None:
    # SDL falls back to an offscreen driver without a word; then no test here would mean anything.
    assert tablet.driver in {"x11", "windows"}


def test_a_key_is_20_mm_high_on_the_usual_tablet() -> None:
    # 1280 × 800 on 10.1 inch: hypot(1280, 800) / 10.1 = 149.45 pixels per inch = 5.884 a mm
    assert pytest.approx(5.884, abs=0.001) == theme.PX_PER_MM
    assert (theme.MAIN_HEIGHT, theme.TOUCH, theme.GAP) == (118, 89, 18)


def test_the_tablet_has_the_density_that_kivy_uses() -> None:
    assert Metrics.density == pytest.approx(0.934, abs=0.001)
    assert dp(24) == pytest.approx(22.42, abs=0.01)
