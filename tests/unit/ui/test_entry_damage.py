"""Damage that holds entry stands on the Entry screen in its own words, and leads to its repair."""

from pathlib import Path
from typing import Any

from fieldapp.ui.entry_words import Stated, entry_page
from fieldapp.work.damage import record_damage
from fieldapp.work.demo.story import MAIN
from fieldapp.work.headings import heading
from schemas.bodies.damage import Damage
from tests.demo_mine import PRESENT, SetClock, open_demo


def shown(folder: Path, **said: Any) -> tuple[str, list[Stated]]:
    """Give the id of a damage and what the Entry screen shows of it."""
    site = open_demo(folder / "home", SetClock())
    with site.store:
        place = heading(site, MAIN).id
        body = {
            "heading": place,
            "seen_at": PRESENT,
            "chainage_m": "590.4",
            "zone": "right shoulder",
            "kind": "torn mesh",
            "exposure": "E3",
        }
        kept = record_damage(site, Damage.model_validate(body | said), None)
        page = entry_page(site, place, PRESENT)
    return kept.id, [it for it in page.stated if it.damage]


def test_it_says_what_it_is_who_stays_out_and_by_when_it_is_repaired(tmp_path: Path) -> None:
    damage_id, (told,) = shown(tmp_path, severity="S3")

    assert told.damage == damage_id
    assert (told.verdict, told.title) == ("rework", "Torn mesh at 590.4 m, right shoulder")
    words = told.detail.replace("\N{NO-BREAK SPACE}", " ")
    assert words == "nobody on foot beneath · P2, due 13 May 2031 · no repair planned"


def test_damage_that_leaves_entry_open_is_on_the_rehab_list_alone(tmp_path: Path) -> None:
    _, told = shown(tmp_path, severity="S1", kind="rusted")

    assert told == []
