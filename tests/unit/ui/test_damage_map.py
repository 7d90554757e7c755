"""How far damage reaches along the drive stands on the map, before it is kept and afterwards."""

from fieldapp.report.shapes import Drawing, Span
from fieldapp.ui.damage_work import damage_page
from fieldapp.work.damage.draft import DamageWork, keep_damage
from tests.unit.work.conftest import Shift, shift
from tests.unit.work.damage.test_draft import PLACE, begun

__all__ = ["shift"]


def drawn(shift: Shift, work: DamageWork) -> Drawing:
    drawing = damage_page(shift.site, work, None).drawing
    assert drawing is not None
    return drawing


def test_the_map_shows_the_whole_stretch_of_damage(shift: Shift) -> None:
    work = begun(shift, *PLACE, {"to_m": "599.2"})
    on_its_way = drawn(shift, work)
    keep_damage(shift.site, work, None)
    afterwards = drawn(shift, begun(shift, {"kind": "rusted"}, {"chainage_m": "605.0"}))

    assert on_its_way.spans == (Span(590.4, 599.2, 2.6, "lamp"),)
    assert on_its_way.x_from_m < 590.4
    assert on_its_way.x_to_m > 599.2
    (span,) = afterwards.spans
    assert (span.x_from_m, span.x_to_m) == (590.4, 599.2), "it ends in sight, and begins outbye"


def test_damage_at_one_place_has_no_stretch(shift: Shift) -> None:
    assert drawn(shift, begun(shift, *PLACE, {"to_m": None})).spans == ()
