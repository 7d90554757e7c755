"""Zones drawn to be answered in full: two in every ten sections, the same ones for everybody."""

from fieldapp.assess.walk import zones_in_full

SEED = "Wrenfall, 4180 Main, 2031-05"


def count(sections: range, in_ten: int = 2) -> int:
    return sum(map(len, zones_in_full(sections, in_ten, SEED).values()))


def test_two_zones_are_drawn_in_every_ten_sections() -> None:
    found = zones_in_full(range(30), 2, SEED)
    tens = [sum(len(found.get(it, ())) for it in range(ten, ten + 10)) for ten in (0, 10, 20)]

    assert tens == [2, 2, 2]


def test_fewer_sections_have_fewer_rounded_up() -> None:
    assert [count(range(it)) for it in (1, 5, 6, 10)] == [1, 1, 2, 2]


def test_the_same_are_drawn_in_whatever_order_sections_are_told() -> None:
    forth, back = zones_in_full(range(30), 2, SEED), zones_in_full(range(29, -1, -1), 2, SEED)

    assert forth == back


def test_a_drive_that_advances_keeps_what_was_drawn_in_whole_tens() -> None:
    before, after = zones_in_full(range(20), 2, SEED), zones_in_full(range(23), 2, SEED)

    assert {it: zones for it, zones in after.items() if it < 20} == before


def test_another_month_draws_others() -> None:
    months = [f"Wrenfall, 4180 Main, 2031-{it:02}" for it in range(1, 13)]

    assert len({str(zones_in_full(range(60), 2, it)) for it in months}) == len(months)


def test_all_sixty_may_be_asked_for_and_none() -> None:
    assert count(range(10), 60) == 60
    assert count(range(10), 0) == 0
