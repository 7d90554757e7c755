"""What a survey's file says is what the row is judged by, point by point."""

from decimal import Decimal
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from fieldapp.assess.demanded import profile_of
from fieldapp.work.row_survey import read_survey
from fieldapp.work.touches import RowAsBroken, read_touch, write_touch
from schemas.bodies.round import SurveyPoint
from tests.made import STARTED_AT
from tests.standards import changed

DESIGNED = changed(lambda document: document).classes[0].profile
heights = st.decimals("3.2", "6", places=3)


@given(st.lists(heights, min_size=1, max_size=40), st.decimals("2", "4", places=3))
def test_a_survey_written_and_read_is_the_same_rock(backs: list[Decimal], half_m: Decimal) -> None:
    """A rough back over two straight walls, written as a list, read, kept and drawn."""
    step = 2 * half_m / (len(backs) + 1)
    across = [round(step * n - half_m, 3) for n in range(1, len(backs) + 1)]
    wall = Decimal("3.1")
    rock = [(-half_m, Decimal(0)), (-half_m, wall), *zip(across, backs, strict=True)]
    rock += [(half_m, wall), (half_m, Decimal(0))]
    written = "x_m,y_m\n" + "".join(f"{x:f},{y:f}\n" for x, y in rock)

    found = read_survey(written.encode(), "row.csv", DESIGNED)
    kept = read_touch(write_touch(RowAsBroken(at=STARTED_AT, row=1, profile=found)))
    under = sum((b[0] - a[0]) * (a[1] + b[1]) / 2 for a, b in pairwise(rock))

    assert found.points == tuple(SurveyPoint(y_m=x, z_m=y) for x, y in rock)
    assert isinstance(kept, RowAsBroken)
    assert kept.profile == found
    assert abs(profile_of(DESIGNED, kept.profile).area_m2 - float(under)) < 1e-9
