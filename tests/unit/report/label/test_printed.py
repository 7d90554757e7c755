"""The label of a thing, written where round sheets are, for either kind of printer."""

from decimal import Decimal
from io import BytesIO
from pathlib import Path

import zxingcpp
from PIL import Image

from fieldapp.report.label.printed import write_label
from fieldapp.report.printed import SHEETS
from fieldapp.work.damage.stating import record_damage
from fieldapp.work.demo.story import MAIN
from fieldapp.work.headings import heading
from schemas.bodies.damage import Damage
from schemas.short_id import short_id
from tests.demo_mine import SetClock, open_demo
from tests.unit.report.pages import words_of


def test_a_damage_s_label_is_a_page_and_a_roll_s_picture(tmp_path: Path) -> None:
    site = open_demo(tmp_path / "home", SetClock())
    with site.store:
        body = Damage(
            heading=heading(site, MAIN).id,
            seen_at=site.now(),
            chainage_m=Decimal("590.4"),
            zone="back",
            kind="torn mesh",
        )
        tear = record_damage(site, body, None).id
        page, picture = write_label(site, tear)
    code = short_id("damage", tear)
    read = zxingcpp.read_barcodes(Image.open(BytesIO(picture.read_bytes())).convert("L"))

    assert {page.parent, picture.parent} == {site.folder / SHEETS}
    assert page.name == f"label-{code.readable}.pdf"
    assert "DEMO · Damage: torn mesh" in words_of(page.read_bytes())
    assert [it.text for it in read] == [code.payload] * 2
