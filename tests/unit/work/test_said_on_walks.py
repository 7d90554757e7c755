"""What a walk says of damage that is open stands beside it wherever it is listed."""

from datetime import timedelta
from typing import Any

from fieldapp.report.pages.laying import Laying
from fieldapp.report.pages.rehab_pages import rehab_pages
from fieldapp.report.reported import code_of
from fieldapp.ui.rehab_work import rehab_lines
from fieldapp.work.damage.stating import damages, record_damage
from fieldapp.work.demo.story import MAIN
from fieldapp.work.reporting.rehab import rehab_report
from fieldapp.work.reporting.then import of_tablet
from schemas.bodies.damage import Damage
from tests.unit.report.pages import reader_of
from tests.unit.work.conftest import Shift
from tests.walks import section, walk

TORN = {"heading": MAIN, "zone": "back", "kind": "torn mesh", "chainage_m": "133.4"}


def torn(shift: Shift) -> str:
    seen_at = shift.clock() - timedelta(days=40)
    return record_damage(shift.site, Damage.model_validate(TORN | {"seen_at": seen_at}), None).id


def walked_past(shift: Shift, damage: str, said: str) -> None:
    about: dict[str, Any] = {"open_damage": [{"damage": damage, "said": said}]}
    walk(shift, MAIN, section(130, 140, **about))


def test_the_newest_walk_is_the_first_that_is_told_of_it(shift: Shift) -> None:
    known = torn(shift)
    walked_past(shift, known, "as it was")
    shift.wait(days=30)
    walked_past(shift, known, "repaired")
    (one,) = damages(shift.site, shift.clock(), MAIN)

    assert [it.said for it in one.walked] == ["repaired", "as it was"]
    assert one.outcome is None, "nobody verified a repair"


def test_the_rehab_list_says_how_it_stood_on_the_last_walk(shift: Shift) -> None:
    walked_past(shift, torn(shift), "as it was")
    (line,) = (it for it in rehab_lines(shift.site) if it.row.heading == MAIN)

    assert line.detail.endswith("as it was on the walk of 6 May 2031")
    assert line.seen[0] == "6 May 2031: walked past, as it was"


def test_so_does_its_report(shift: Shift) -> None:
    walked_past(shift, torn(shift), "not seen")
    on = of_tablet(shift.site)
    facts = rehab_report(on, MAIN)
    laying = Laying(facts, code_of(facts), "metres", on.picture_of)
    pages = reader_of(rehab_pages(laying, facts, "Rehab list")).pages
    said = "".join("".join(page.extract_text() for page in pages).split())

    (told,) = (one for line in facts.lines for one in line.damages)
    assert (told.walked_said, told.walked_at) == ("not seen", shift.clock())
    assert "notseenonthewalkof6May2031" in said
