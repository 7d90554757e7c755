"""The plan of an intersection on the glass."""

import numpy as np
import pytest
from kivy.uix.anchorlayout import AnchorLayout

from fieldapp.report.intersection_picture import IntersectionPicture
from fieldapp.ui.widgets.plan_plot import PlanPlot
from tests.ui.harness import Tablet

pytestmark = pytest.mark.window

SIDE_PX = 300


def test_a_gap_wider_than_the_plan_is_drawn_over_nothing_beside_it(tablet: Tablet) -> None:
    plan = IntersectionPicture(
        outline=((0.0, -2.5), (0.0, 2.5), (5.0, 2.5), (5.0, -2.5)),
        span=None,
        gap=((2.5, 0.0), 4.5),
    )
    plot = PlanPlot(drawn=plan, size_hint=(None, None), size=(SIDE_PX, SIDE_PX))
    beside = AnchorLayout(anchor_x="center", anchor_y="center")
    beside.add_widget(plot)
    tablet.show(beside)

    glass = np.asarray(tablet.picture())[::-1]
    of_the_plan = np.zeros(glass.shape[:2], dtype=bool)
    left, bottom = (int(it) for it in plot.to_window(*plot.pos))
    of_the_plan[bottom : bottom + SIDE_PX + 1, left : left + SIDE_PX + 1] = True

    assert len(np.unique(glass[of_the_plan], axis=0)) > 1
    assert len(np.unique(glass[~of_the_plan], axis=0)) == 1
