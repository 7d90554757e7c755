"""Trends: what was recorded is found again, by heading, class and crew, with what it stands on."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from fieldapp.assess.statistics.interval import Interval
from fieldapp.work.bolt_tests.recording import record_bolt_test
from fieldapp.work.damage.stating import record_damage
from fieldapp.work.demo import DEMO_PEOPLE, READY
from fieldapp.work.demo.story import CUDDY, MAIN
from fieldapp.work.demo.walking import Look
from fieldapp.work.trends import GROUPINGS, MEASURES, NoSuchTrend, Series, measure, trends
from fieldapp.work.trends.points import Evidence, Measure, Sample
from fieldapp.work.trends.summing import Months, series_of
from schemas.bodies.bolt_test import BoltTest
from schemas.bodies.round import BoltSeen
from tests.damages import damage
from tests.unit.work.conftest import Shift
from tests.unit.work.test_rechain import chained_anew
from tests.walks import section, walk

SYDNEY = ZoneInfo("Australia/Sydney")
SHARE = Measure("share", "A share", "%", "share", Decimal("0.1"), "more")
COUNT = Measure("count", "A count", "a month", "count", Decimal(1), "less")
READ = Measure("read", "A reading", "m", "each", Decimal("0.001"), "less", charted=True)
MONTHS = Months(ZoneInfo("UTC"), datetime(2031, 6, 15, tzinfo=UTC))


def sample(at: datetime, value: object, name: str = "a") -> Sample:
    evidence = Evidence("round", name, "heading", name)
    return Sample(at, Decimal(str(value)), evidence, {"mine": "", "crew": name[0]})


def one(shift: Shift, name: str, heading: str) -> Series:
    (found,) = trends(shift.site, measure(name), "heading", heading)
    return found


def test_a_round_signed_today_is_the_newest_point_of_its_heading(shift: Shift) -> None:
    signed = shift.sign(shift.look(Look(answers={"face right": Decimal("0.93")})))
    newest = one(shift, "last-row-to-face", READY).newest

    assert newest.value == Decimal("0.93")
    assert [it.id for it in newest.evidence] == [signed.round.id]


def test_a_round_sent_back_is_not_accepted_at_the_first_look_however_often_it_is_signed(
    shift: Shift,
) -> None:
    loose = Look(marked={2: (BoltSeen(position=4, state="present", plate="loose"),)})
    shift.sign(shift.look(loose), "sent back")
    found = one(shift, "first-pass", READY).newest

    assert (int(found.value), int(found.of)) == (50, 2), "the round before was accepted at once"
    assert found.interval is not None
    assert found.interval.high > 90, "two rounds tell little"
    assert found.evidence[0].words.endswith("round 65"), "what fell short is named first"


def test_metres_that_were_fired_are_covered_once_their_round_is_accepted(shift: Shift) -> None:
    before = one(shift, "coverage", READY).newest
    shift.sign(shift.look())
    accepted = one(shift, "coverage", READY).newest
    found = trends(shift.site, measure("coverage"), "heading")

    assert before.value < accepted.value == 100
    assert {it.newest.evidence[0].kind for it in found} == {"event"}


def test_haste_is_told_by_crew_and_nobody_is_named(shift: Shift) -> None:
    shift.sign(shift.look())
    found = trends(shift.site, measure("in-haste"), "crew")

    assert all(it.group.startswith("crew") for it in found)
    assert not {who.name for who in DEMO_PEOPLE} & {it.group for it in found}


def test_damage_is_found_when_it_was_seen_first_and_overdue_while_nobody_repairs_it(
    shift: Shift,
) -> None:
    place = shift.place(MAIN)
    seen = shift.clock() - timedelta(days=70)
    body = damage(heading=place.id, seen_at=seen, chainage_m="480", severity="S3")
    record_damage(shift.site, body, shift.who("Geotechnical technician"))
    found, late = one(shift, "damage-found", MAIN), one(shift, "overdue", MAIN)

    assert sum(it.value for it in found.points) == 1
    assert [it.value for it in late.points] == [1, 1, 1], "due after a week: two months and now"
    assert late.newest.evidence[0].kind == "damage"


def test_rust_that_shortens_the_interval_of_walks_is_followed_by_section(shift: Shift) -> None:
    rusty = [{"part": "mesh", "zone": "back", "corrosion_grade": 3}]
    walk(shift, CUDDY, section(0, 10), section(10, 20, answer="something new", parts=rusty))
    share = one(shift, "rusted", CUDDY).newest
    by_section = trends(shift.site, measure("rust-grade"), "section", CUDDY)

    assert share.value == 50
    assert share.evidence[0].words.endswith("10.0 to 20.0 m")
    assert [(it.group, int(it.newest.value)) for it in by_section] == [
        (f"{CUDDY}, 10.0 to 20.0 m", 3)
    ]


def test_a_section_that_nobody_reached_counts_as_not_reached(shift: Shift) -> None:
    walk(shift, CUDDY, section(0, 10), section(10, 20, answer="not reached", not_reached="water"))

    assert one(shift, "reached", CUDDY).newest.value == 50
    assert one(shift, "worn", CUDDY).newest.of == 1


def read(at_m: str, mm: str) -> dict[str, object]:
    """Give one reading of a bar of 20 mm."""
    bar = {"steel": "bar", "part": "bolts", "zone": "back", "how": "calliper", "u_mm": "0.05"}
    return {**bar, "original_mm": "20", "chainage_m": at_m, "read_mm": mm, "zinc_seen": False}


def test_the_thinnest_steel_is_that_of_the_worst_place_not_of_the_last_one_walked(
    shift: Shift,
) -> None:
    thin, sound = [read("5", "17")], [read("15", "19.8")]
    walk(shift, CUDDY, section(0, 10, steel=thin))
    shift.wait(hours=2)
    walk(shift, CUDDY, section(10, 20, steel=sound))
    found = one(shift, "steel-left", CUDDY)

    assert found.newest.value == 99
    assert found.stands.value == 85
    assert found.stands.place == f"{CUDDY}, 0.0 to 10.0 m"


def test_a_look_at_ground_that_was_chained_anew_counts_for_one_section(shift: Shift) -> None:
    """Seen from 0 to 10 m, today from 1.4 to 11.4 m: what was read at 8 m is no 10 to 20 m."""
    walk(shift, CUDDY, section(0, 10, steel=[read("8", "17")]))
    chained_anew(shift, Decimal("0.1"), Decimal("1.4"), CUDDY)
    looks = one(shift, "reached", CUDDY).newest

    assert {it.place for it in one(shift, "steel-left", CUDDY).points} == {
        f"{CUDDY}, 0.0 to 10.0 m"
    }
    assert looks.of == 1


def test_a_place_that_is_read_again_stands_as_it_was_read_last(shift: Shift) -> None:
    for mm in ("17", "18"):
        walk(shift, CUDDY, section(0, 10, steel=[read("5", mm)]))
        shift.wait(hours=2)

    assert one(shift, "steel-left", CUDDY).stands.value == 90


def test_rust_stands_where_nothing_was_new_since(shift: Shift) -> None:
    """One touch says that nothing changed: it takes no rust away."""
    rusty = [{"part": "mesh", "zone": "back", "corrosion_grade": 4}]
    walk(shift, CUDDY, section(0, 10, answer="something new", parts=rusty))
    shift.wait(hours=2)
    walk(shift, CUDDY, section(0, 10))

    assert one(shift, "rusted", CUDDY).newest.value == 100


def test_a_section_walked_twice_in_a_month_is_one_section_of_it(shift: Shift) -> None:
    rusty = [{"part": "mesh", "zone": "back", "corrosion_grade": 3}]
    for _ in range(2):
        walk(shift, CUDDY, section(0, 10))
        shift.wait(hours=2)
    walk(shift, CUDDY, section(10, 20, answer="something new", parts=rusty))
    share = one(shift, "rusted", CUDDY).newest

    assert (int(share.of), int(share.value)) == (2, 50)


def pull(shift: Shift, load_kn: str, **said: object) -> None:
    """Record a pull of a bar, as the technician does, and let a minute go by."""
    readings = [{"load_kn": it, "displacement_mm": "2"} for it in ("0", load_kn)]
    body = {
        "heading": shift.place(MAIN).id,
        "kind": "proof pull",
        "tested_at": shift.clock(),
        "why": "by the standard's share",
        "chainage_m": "590.4",
        "zone": "back",
        "bolt_type": "RB24",
        "pulled": readings,
        "held_min": 1,
        "rig": "rig 2",
        "rig_checked_at": shift.clock() - timedelta(days=20),
    }
    test = BoltTest.model_validate(body | said)
    record_bolt_test(shift.site, test, shift.who("Geotechnical technician"), all_the_same=True)
    shift.wait(minutes=1)


def test_only_a_bolt_that_was_pulled_until_it_gave_way_says_at_which_load(shift: Shift) -> None:
    pull(shift, "85")
    until = {"kind": "destructive pull", "broke": "anchor slipped", "part_of_support": False}
    pull(shift, "121.5", **until)
    (found,) = trends(shift.site, measure("pull-load"), "mine")

    assert found.group == "RB24", "never pooled with bolts of another kind"
    assert [str(it.value) for it in found.points] == ["121.5"]
    assert found.newest.evidence[0].words == f"{MAIN}, destructive pull at 590.4 m: passed"


def test_another_look_at_a_suspect_counts_to_no_share_of_tests(shift: Shift) -> None:
    pull(shift, "85")
    pull(shift, "85", why="suspected", broke="anchor slipped")
    suspects_aside = one(shift, "tests-passed", MAIN).newest
    pull(shift, "85", broke="anchor slipped")
    with_a_failed_one = one(shift, "tests-passed", MAIN).newest

    assert (int(suspects_aside.value), int(suspects_aside.of)) == (100, 1)
    assert (int(with_a_failed_one.value), int(with_a_failed_one.of)) == (50, 2)
    assert with_a_failed_one.evidence[0].words.endswith("failed")


def test_everything_that_is_followed_is_found_by_its_key_in_every_grouping(shift: Shift) -> None:
    for it in MEASURES:
        assert measure(it.key) is it
        for by in GROUPINGS:
            for series in trends(shift.site, it, by):
                assert series.points
                assert all(point.evidence for point in series.points if point.value)


def test_what_is_followed_by_no_name_is_refused_with_the_names_there_are() -> None:
    with pytest.raises(NoSuchTrend, match="overdue"):
        measure("bolts per shift")


def test_a_month_without_damage_counts_nothing_and_a_share_of_nothing_is_none() -> None:
    may = [
        sample(datetime(2031, 4, 3, tzinfo=UTC), 1),
        sample(datetime(2031, 6, 3, tzinfo=UTC), 1),
    ]
    (counted,), (shares,) = (series_of(it, may, "mine", MONTHS) for it in (COUNT, SHARE))

    assert [int(it.value) for it in counted.points] == [1, 0, 1]
    assert [f"{it.at:%m}" for it in shares.points] == ["04", "06"]


def test_a_month_is_the_mine_s_own() -> None:
    """23:30 UTC on the last of April is May in Sydney."""
    late = [sample(datetime(2031, 4, 30, 23, 30, tzinfo=UTC), 1)]
    (found,) = series_of(COUNT, late, "mine", Months(SYDNEY, datetime(2031, 5, 2, tzinfo=UTC)))

    assert f"{found.points[0].at.astimezone(SYDNEY):%Y-%m-%d}" == "2031-05-01"


def test_what_fell_short_is_named_first_where_a_share_is_touched() -> None:
    at = datetime(2031, 5, 1, tzinfo=UTC)
    said = [sample(at, 1, "right"), sample(at, 0, "wrong"), sample(at, 1, "also right")]
    (found,) = series_of(SHARE, said, "mine", MONTHS)

    assert [it.words for it in found.points[0].evidence] == ["wrong", "also right", "right"]


def test_a_reading_outside_its_control_limits_asks_for_the_reason() -> None:
    at = datetime(2031, 1, 1, tzinfo=UTC)
    values = [Decimal("0.7") + Decimal(n % 3) / 100 for n in range(24)] + [Decimal("1.4")]
    read = [sample(at + timedelta(days=n), it) for n, it in enumerate(values)]
    (found,) = series_of(READ, read, "mine", MONTHS)

    assert 24 in found.outside
    assert found.chart is not None
    assert found.chart.settled


def test_every_sample_counts_once_in_each_grouping() -> None:
    at = datetime(2031, 5, 1, tzinfo=UTC)
    said = [sample(at + timedelta(hours=n), 1, f"{'abc'[n % 3]}{n}") for n in range(30)]
    by_crew = series_of(COUNT, said, "crew", MONTHS)

    assert [it.group for it in by_crew] == ["a", "b", "c"]
    assert sum(point.value for it in by_crew for point in it.points) == 30


def test_a_share_of_all_months_counts_each_round_once_and_says_how_sure_it_is() -> None:
    """3 of 4; Clopper and Pearson: 19.4 to 99.4 %, as SciPy's `binomtest` gives it."""
    at = datetime(2031, 4, 29, tzinfo=UTC)
    said = [sample(at + timedelta(days=n), it) for n, it in enumerate((1, 0, 1, 1))]
    (found,) = series_of(SHARE, said, "mine", MONTHS)

    assert len(found.points) == 2
    assert found.in_all is not None
    assert (found.in_all.value, found.in_all.of) == (Decimal("75.0"), Decimal(4))
    assert found.in_all.interval == Interval(Decimal("19.4"), Decimal("99.4"))


def test_tests_of_support_are_told_apart_by_the_batch_that_was_tested(shift: Shift) -> None:
    for label in ("RES-1", "RES-2"):
        pull(shift, "85", batch=label)
    found = trends(shift.site, measure("tests-passed"), "batch")

    assert [it.group for it in found] == ["RES-1", "RES-2"]
