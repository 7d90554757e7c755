"""What the support that is there carries: back and walls, bolts as they were seen."""

import math
from decimal import Decimal
from typing import Any

import pytest

from fieldapp.assess import assess
from fieldapp.assess.load.carried import Carried
from fieldapp.assess.load.demand import demands_of
from fieldapp.assess.load.ground import load_ground
from fieldapp.assess.load.loads import LoadsSeen
from fieldapp.assess.seen import seen_in
from schemas.bodies.event import Event
from schemas.bodies.round import BoltSeen
from schemas.bundle import Bundle
from schemas.findings import Finding, Verdict
from schemas.standard import EventWhat
from tests.standards import D1, changed, put
from tests.unit.assess.conforming import (
    LOOKED,
    STANDARD,
    conforming,
    counted,
    loose,
    missing,
    with_bolts,
    with_limit,
    with_round,
    with_row,
)


def loads(bundle: Bundle) -> list[Finding]:
    return [it for it in assess(bundle).findings if it.check == "load"]


def load(bundle: Bundle, part: str = "in the back") -> Finding:
    (found,) = (it for it in loads(bundle) if it.title == f"Load {part}")
    return found


def carried(bundle: Bundle) -> LoadsSeen:
    seen = seen_in(bundle)
    ground, demands = load_ground(seen), demands_of(seen.support_class)
    assert ground is not None
    assert demands is not None
    return LoadsSeen(seen, ground, demands)


def at_crown(bundle: Bundle) -> Carried:
    """What the bolt at the crown of row 2 carries."""
    (found,) = (it for bolt, it in carried(bundle).carried if (bolt.row, bolt.position) == (2, 5))
    return found


def demanding(**bolt: Any) -> Bundle:
    """A perfect round of D1 whose bolt is another."""
    standard = changed(put(D1, "bolts.0", **bolt))
    return conforming().model_copy(update={"standard": standard})


def seen(position: int, **more: Any) -> BoltSeen:
    return BoltSeen(position=position, state="present", plate="seated", **more)


@pytest.mark.parametrize("code", ["D1", "O2", "W3"])
def test_a_perfect_round_carries_its_demand_in_the_back_and_on_the_walls(code: str) -> None:
    found = loads(conforming(code))

    assert {it.title for it in found} == {"Load in the back", "Load on the walls"}
    assert {it.verdict for it in found} == {Verdict.ACCEPT}


def test_every_bolt_of_a_perfect_round_carries_one_cell_of_the_pattern() -> None:
    """9.916 m of rock on 9 bolts, rows 0.9 m apart and the face as far: 1.240 × 0.9 m each.

    The lowest have half a spacing below them, the last row half the way to the face; the first
    old row has half a cell, since what lies outbye of it is not looked at.
    """
    bundle = conforming()
    to_face = tuple(
        it.model_copy(
            update={"reading": it.reading.model_copy(update={"value_m": Decimal("0.9")})}
        )
        for it in bundle.round.face_readings
    )
    pressure = carried(with_round(bundle, face_readings=to_face)).pressure
    assert pressure is not None
    areas = {it.share.bolt.row: it.share.area_m2 for it in pressure.bolts}

    assert areas[-1] == pytest.approx(1.2395 * 0.45, abs=1e-3)
    assert [areas[row] for row in (0, 1, 2, 3)] == pytest.approx([1.2395 * 0.9] * 4, abs=1e-3)


def test_all_shares_together_are_the_ground_but_for_what_the_face_carries() -> None:
    seen = carried(conforming("O2", 4))
    pressure = seen.pressure
    assert pressure is not None
    at_face = seen.ground.face.corners[0, 0] - seen.ground.gaps.rows[-1][1]
    whole = seen.ground.whole.area
    across = seen.ground.area.starts[:, 1].max() - seen.ground.area.starts[:, 1].min()

    shares = sum(it.share.area_m2 for it in pressure.bolts)
    assert shares == pytest.approx(whole - at_face / 2 * across, rel=0.02)


def test_one_bolt_missing_shows_at_its_place() -> None:
    found = load(with_bolts(conforming(), 2, missing(4)))

    assert found.verdict is Verdict.REWORK
    assert [place.words for place in found.places] == ["row 2, 1.2 m left of the crown"]
    assert found.fix == ("add a bolt, row 2, 1.2 m left of the crown",)


def test_a_bolt_missing_in_the_last_old_row_shows_too() -> None:
    bundle = conforming()
    first, last = bundle.round.old_rows
    short = last.model_copy(update={"bolts": (missing(5),), "confirmed": counted(8)})
    found = load(with_round(bundle, old_rows=(first, short)))

    assert found.verdict is Verdict.REWORK
    assert [place.row for place in found.places] == [0]


def test_a_bolt_that_carries_nothing_is_as_good_as_missing() -> None:
    """A point-anchored bolt with a loose plate holds nothing; a grouted bar still holds rock."""
    gone = load(with_bolts(conforming("O2"), 2, missing(4)))
    hanging = load(with_bolts(conforming("O2"), 2, loose(4)))
    grouted = carried(with_bolts(conforming(), 2, loose(4))).pressure
    assert grouted is not None

    assert (hanging.measured, hanging.verdict) == (gone.measured, gone.verdict)
    assert (2, 4) in {(it.share.bolt.row, it.share.bolt.position) for it in grouted.bolts}


def test_the_walls_have_a_demand_of_their_own() -> None:
    lowest = with_bolts(conforming(), 2, missing(1))

    assert load(lowest, "on the walls").verdict is Verdict.ACCEPT
    graver = changed(put(D1, "demand.walls", pressure_kpa="42"))
    strict = lowest.model_copy(update={"standard": graver})
    assert load(strict, "on the walls").verdict is Verdict.REWORK
    assert load(strict).verdict is Verdict.ACCEPT


@pytest.mark.parametrize(
    ("bolt", "kn", "first"),
    [
        ({}, 120, "plate"),
        ({"plate_kn": "200"}, 122.5, "steel"),  # 245 mm² of thread at 500 MPa
        ({"bond_kn_per_m": "140"}, 140 * (2.4 - 1.5 / math.cos(math.radians(15))), "bond"),
    ],
)
def test_the_weakest_part_of_a_bolt_governs(bolt: dict[str, str], kn: float, first: str) -> None:
    found = at_crown(demanding(**bolt))

    assert found.capacity.kn == pytest.approx(kn)
    assert found.capacity.governs == first


def test_the_angle_that_was_read_counts_once_in_the_bond_beyond() -> None:
    found = at_crown(with_bolts(demanding(bond_kn_per_m="100"), 2, seen(5, angle_deg=Decimal(0))))

    assert found.capacity.kn == pytest.approx(100 * (2.4 - 1.5))
    assert found.capacity.governs == "bond"


def test_a_point_anchor_is_bonded_along_its_resin_and_no_farther() -> None:
    """0.85 m of it lies beyond the loosened rock, and 0.6 m of that in resin of 150 kN/m."""
    found = at_crown(demanding(kind="point-anchored bolt", resin_m="0.6"))

    assert found.capacity.kn == pytest.approx(90)
    assert found.capacity.governs == "bond"


def test_a_loose_plate_leaves_the_resin_that_lies_in_the_loosened_rock() -> None:
    """1 m of resin at the end: 0.9 m of it beyond, 0.1 m holds the rock at the head."""
    short = with_bolts(demanding(resin_m="1"), 2, seen(5, angle_deg=Decimal(0)), loose(4))
    found = {(it.row, it.position): kn.capacity.kn for it, kn in carried(short).carried}

    assert found[2, 4] == pytest.approx(150 * (1 - (2.4 - 1.5 / math.cos(math.radians(15)))))
    assert found[2, 5] == pytest.approx(120)


def test_rust_leaves_what_the_standard_says() -> None:
    rusted = with_bolts(conforming(), 2, seen(5, corrosion_grade=3))

    assert at_crown(rusted).capacity.kn == pytest.approx(0.9 * 120)


def test_what_rust_left_is_not_known_where_the_standard_is_silent() -> None:
    silent = changed(lambda it: it["corrosion"]["grades"][3].pop("share_left"))
    rusted = with_bolts(conforming(), 2, seen(5, corrosion_grade=3))
    found = load(rusted.model_copy(update={"standard": silent}))

    assert found.verdict is Verdict.NOT_LOOKED_AT
    assert found.places[0].words == "what rust of grade 3 left of it, row 2, at the crown"
    assert found.measured is None


def test_with_no_bolt_at_all_nothing_is_carried() -> None:
    bundle = conforming()
    for row in (1, 2, 3):
        bundle = with_bolts(bundle, row, *(missing(n) for n in range(1, 10)))
    none = with_round(bundle, old_rows=())
    found = load(none)

    assert (found.verdict, found.measured) == (Verdict.REWORK, "0.00")
    assert found.places[0].words == "the back: no bolt that carries stands in it"
    assert load(none, "on the walls").places[0].words.startswith("the left wall: no bolt")


def test_bolts_that_stand_outside_the_ground_carry_none_of_it() -> None:
    far = tuple(seen(n, s_m=Decimal(30 + n), method="tape") for n in range(1, 10))
    bundle = with_round(conforming(rows=1), old_rows=())
    found = load(with_row(bundle, 1, bolts=far, counted=None))

    assert found.measured == "0.00"
    assert found.places[0].words == "the back: no bolt that carries stands in it"


def test_two_bolts_at_one_place_share_its_ground() -> None:
    other = BoltSeen(s_m=Decimal(0), method="tape", state="present")
    twice = with_bolts(conforming(), 2, seen(5, s_m=Decimal(0), method="tape"), other)
    pressure = carried(twice).pressure
    assert pressure is not None
    shared = [
        it.share.area_m2
        for it in pressure.bolts
        if it.share.bolt.row == 2 and abs(it.share.bolt.s_m) < 1e-6
    ]

    assert shared == pytest.approx([1.2395 * 0.9 / 2] * 2, abs=1e-3)


def test_what_nobody_looked_at_is_not_carried_on_trust() -> None:
    found = loads(with_row(conforming(), 2, counted=None))

    assert {it.verdict for it in found} == {Verdict.NOT_LOOKED_AT}
    assert {it.holds for it in found} == {Verdict.REWORK}
    assert {it.measured for it in found} == {None}


def test_a_value_near_its_limit_is_measured_again_while_places_are_assumed() -> None:
    """2.61 in a perfect round: ± 1.64 · 0.06 reaches past a limit of 2.6."""
    found = load(with_limit(conforming(), "load", at_least_factor=Decimal("2.6")))

    assert found.verdict is Verdict.MEASURE_AGAIN
    assert found.basis.startswith("positions assumed")


def test_a_class_that_demands_no_load_is_not_judged_by_it() -> None:
    silent = changed(put(D1, "limits", load=None))

    assert loads(conforming().model_copy(update={"standard": silent})) == []


def test_a_limit_without_a_demand_leaves_it_unknown() -> None:
    silent = changed(put(D1, "", demand=None))
    (found,) = loads(conforming().model_copy(update={"standard": silent}))

    assert found.verdict is Verdict.NOT_LOOKED_AT
    assert found.places[0].words == "what the class must carry is not stated"


def test_a_demand_by_rock_that_nobody_states_is_unknown() -> None:
    silent = changed(put(D1, "", rock=None))
    found = loads(conforming().model_copy(update={"standard": silent}))

    assert Verdict.NOT_LOOKED_AT in {it.verdict for it in found}


def burst_prone(*bolts: dict[str, Any]) -> Bundle:
    """D1 with energy demanded, its bolts alternating between two kinds."""

    def change(document: Any) -> None:
        decline = document["classes"][D1]
        first = decline["bolts"][0]
        decline["bolts"] = [{**first, **own} for own in bolts]
        decline["demand"]["energy"] = {"energy_kj_per_m2": "3", "because": "S-2, 3.6"}
        decline["limits"]["load"]["guard_factor"] = "0"

    bundle = conforming().model_copy(update={"standard": changed(change)})
    codes = [str(own["code"]) for own in bolts]
    for row in (1, 2, 3):
        kinds = (seen(n, bolt_type=codes[n % len(codes)]) for n in range(1, 10))
        bundle = with_row(bundle, row, bolts=tuple(kinds))
    return bundle


STIFF = {"code": "RB24", "energy_kj": "4"}
YIELDING = {"code": "YB24", "energy_kj": "15", "yields": True}


def energy(bundle: Bundle) -> Finding:
    (found,) = (it for it in loads(bundle) if it.title == "Energy in the back")
    return found


def test_energy_is_judged_where_it_is_demanded() -> None:
    """15 kJ a bolt over 1.116 m² is 13.4 kJ/m², 4.48 times what is demanded."""
    found = energy(burst_prone(YIELDING))

    assert (found.verdict, found.measured) == (Verdict.ACCEPT, "4.48")
    assert found.basis.startswith("yielding bolts alone")


def test_stiff_and_yielding_bolts_are_never_summed() -> None:
    """Every other bolt yields: alone each kind has twice the ground, 2.23 m² and more."""
    found = energy(burst_prone(STIFF, YIELDING))

    assert found.basis.startswith("yielding bolts alone")
    assert float(found.measured or 0) < 15 / 2.2 / 3


def test_bolts_whose_energy_nobody_states_take_up_none() -> None:
    found = energy(burst_prone({"code": "RB24"}))

    assert (found.verdict, found.measured) == (Verdict.REWORK, "0.00")


def test_the_demo_s_classes_are_judged_by_their_load() -> None:
    assert all(known.limits.load is not None for known in STANDARD.classes)


def shaken(at_m: str, what: EventWhat = "seismic") -> Bundle:
    event = Event(
        heading="heading",
        what=what,
        at=LOOKED,
        chainage_m=Decimal(at_m),
        radius_m=Decimal(15),
        excluded_until=LOOKED,
    )
    return conforming().model_copy(update={"shaken_by": (event,)})


def test_no_load_passes_after_an_event_until_somebody_has_looked() -> None:
    assert loads(shaken("1400")) == [], "a full capacity would be a wrong one"
    assert load(shaken("1410")).verdict is Verdict.ACCEPT, "it did not reach this ground"


def test_what_carries_too_little_still_shows_after_an_event() -> None:
    holed = with_bolts(shaken("1400"), 2, missing(4))

    assert [(it.title, it.verdict) for it in loads(holed)] == [
        ("Load in the back", Verdict.REWORK)
    ]
