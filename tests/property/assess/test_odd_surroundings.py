"""Sheets without an area, bolts off the ground, standards that lack figures: never accepted.

Each comes to a clear finding or refusal; no figure is made up, and nothing breaks.
"""

from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess import assess
from fieldapp.assess.mesh.cover import cover_of
from fieldapp.assess.seen import seen_in
from fieldapp.assess.standard_check import refusals
from schemas.bodies.round import BoltSeen, ProfileSeen, SheetSeen
from schemas.bundle import Bundle
from schemas.findings import Finding, Verdict
from schemas.reading import Refused
from schemas.standard import Standard
from tests.property.assess.rounds import decimals
from tests.standards import D1, changed, put
from tests.unit.assess.conforming import conforming, with_round, with_row
from tests.unit.assess.meshed import WHOLE, meshed, sheet

EXAMPLES = 25


def findings(bundle: Bundle, check: str) -> list[Finding]:
    """The findings of a check; what was measured anywhere is a figure, never below nothing."""
    found = assess(bundle).findings
    for it in found:
        plain = (it.measured or "0").partition(" of ")[0]
        assert Decimal(plain).is_finite()
        assert Decimal(plain) >= 0
    return [it for it in found if it.check == check]


# --- sheets --------------------------------------------------------------------------------------

tenths = st.integers(0, 25).map(lambda it: f"{Decimal(it) / 10:.2f}")
across = st.integers(-45, 45).map(lambda it: f"{Decimal(it) / 10:.2f}")


@st.composite
def sheets_without_area(draw: st.DrawFn) -> SheetSeen:
    """As wide as nothing, as long as nothing, or with edges that were exchanged."""
    along = sorted([draw(tenths), draw(tenths)], key=Decimal, reverse=True)
    sides = sorted([draw(across), draw(across)], key=Decimal)
    if draw(st.booleans()):
        along, sides = along[::-1], sides[::-1]
    return sheet(2, (along[0], along[1]), (sides[0], sides[1]))


@settings(max_examples=EXAMPLES)
@given(sheets_without_area())
def test_a_sheet_without_an_area_covers_nothing_and_is_never_accepted(odd: SheetSeen) -> None:
    half = sheet(1, ("-0.15", "1.20"))
    without, with_it = (cover_of(seen_in(meshed(*it)), 0.0) for it in ((half,), (half, odd)))

    assert with_it.area_m2 == without.area_m2
    assert not assess(meshed(WHOLE, odd)).may_be_accepted


@settings(max_examples=EXAMPLES)
@given(tenths, across, st.integers(2, 4))
def test_one_sheet_placed_several_times_covers_no_more_than_once(
    from_m: str, left: str, times: int
) -> None:
    ends = f"{Decimal(from_m) + Decimal('1.5'):.2f}", f"{Decimal(left) + Decimal('2.4'):.2f}"
    copies = [sheet(n, (from_m, ends[0]), (left, ends[1])) for n in range(1, times + 1)]
    once, often = (cover_of(seen_in(meshed(*it)), 0.0) for it in (copies[:1], copies))

    assert often.area_m2 == once.area_m2


# --- bolts off the ground ------------------------------------------------------------------------

off_the_ground = st.decimals("7", "59", places=2, allow_nan=False, allow_infinity=False)


@settings(max_examples=EXAMPLES, deadline=None)
@given(st.lists(off_the_ground, min_size=1, max_size=9), st.booleans())
def test_bolts_that_all_stand_off_the_ground_hold_none_of_it(
    places: list[Decimal],
    left: bool,  # noqa: FBT001
) -> None:
    bolts = tuple(
        BoltSeen(s_m=-s_m if left else s_m, method="laser", state="present", plate="seated")
        for s_m in places
    )
    bundle = conforming()
    for row in bundle.round.rows:
        bundle = with_row(bundle, row.number, bolts=bolts, counted=None)
    bundle = with_round(bundle, old_rows=())

    for check in ("load", "largest_gap", "bolts_present"):
        found = findings(bundle, check)
        assert found
        assert Verdict.ACCEPT not in {it.verdict for it in found}
    assert assess(bundle).rows_complete_to_m is None


# --- standards that lack figures -----------------------------------------------------------------

CAPACITIES = (
    ("bolts.0", "thread_area_mm2"),
    ("bolts.0", "steel_mpa"),
    ("bolts.0", "bond_kn_per_m"),
    ("bolts.0", "plate_kn"),
    ("bolts.0", "anchored_with_loose_plate"),
    ("mesh", "panel_kn"),
    ("mesh", "panel_rig"),
    ("", "demand"),
    ("", "rock"),
)


def standard_without(left_out: set[tuple[str, str]]) -> Standard | Refused:
    def change(document: object) -> None:
        for path, name in left_out:
            put(D1, path, **{name: None})(document)

    try:
        return changed(change)
    except Refused as refused:
        return refused


@settings(max_examples=EXAMPLES, deadline=None)
@given(st.sets(st.sampled_from(CAPACITIES), min_size=1, max_size=4))
def test_what_a_standard_does_not_state_is_refused_or_not_known(
    left_out: set[tuple[str, str]],
) -> None:
    standard = standard_without(left_out)
    if isinstance(standard, Refused):
        assert standard.path.startswith("$.classes[0]")
        return
    bundle = conforming().model_copy(update={"standard": standard})
    unstated = {name for _, name in left_out}

    if unstated & {"panel_kn", "panel_rig"}:
        assert {it.verdict for it in findings(bundle, "mesh_panel")} == {Verdict.NOT_LOOKED_AT}
    if unstated & {"demand", "rock"}:
        known = [it for it in findings(bundle, "load") if it.verdict is Verdict.ACCEPT]
        assert refusals(standard) or not known


# --- profiles that contradict each other ---------------------------------------------------------

broken_otherwise = st.builds(
    ProfileSeen,
    width_m=decimals("0.1", "60", 1),
    rise_m=decimals("0.1", "30", 1),
    method=st.sampled_from(["laser", "tape"]),
)


@settings(max_examples=EXAMPLES, deadline=None)
@given(st.lists(broken_otherwise, min_size=4, max_size=4))
def test_rows_of_profiles_that_can_t_be_one_drive_are_never_accepted(
    profiles: list[ProfileSeen],
) -> None:
    """Each row and the round are said to be as wide as came to mind."""
    whole, *each = profiles
    bundle = with_round(conforming(), profile=whole)
    for number, profile in enumerate(each, start=1):
        bundle = with_row(bundle, number, profile=profile)
    widths = {it.width_m for it in profiles}

    assert findings(bundle, "bolts_present")
    assert max(widths) < 2 * min(widths) or not assess(bundle).may_be_accepted
