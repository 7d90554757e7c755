"""Pixels, millimetres and the screens they belong to."""

import pytest

from fieldapp.ui.density import BadPixelsPerInch, Screen, chosen_ppi, density


@pytest.mark.parametrize(
    ("screen", "ppi"),
    # Pythagoras: pixels along the diagonal, over its inches
    [
        (Screen(1280, 800, 10.1), 149.45),
        (Screen(1920, 1200, 10.1), 224.17),
        (Screen(2560, 1600, 10.1), 298.90),
        (Screen(1280, 800, 8.0), 188.68),
    ],
)
def test_pixels_per_inch(screen: Screen, ppi: float) -> None:
    assert screen.ppi == pytest.approx(ppi, abs=0.01)


def test_density_of_the_usual_tablet() -> None:
    assert density(chosen_ppi({})) == pytest.approx(0.934, abs=0.0005)


def test_what_is_told_wins() -> None:
    assert chosen_ppi({"LASTROW_PPI": " 224.2 "}) == 224.2


@pytest.mark.parametrize("told", ["wide", "0", "-149", "nan", "inf", "1e9"])
def test_no_screen_has_such_a_number(told: str) -> None:
    with pytest.raises(BadPixelsPerInch) as refused:
        chosen_ppi({"LASTROW_PPI": told})

    assert refused.value.ppi == told
