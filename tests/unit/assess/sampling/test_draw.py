"""The same seed draws the same bolts, on every machine."""

from fieldapp.assess.sampling import Stratum, drawn

BACK = Stratum("back", tuple(f"row {n}" for n in range(1, 13)), draw=4)


def test_a_draw_is_the_same_for_ever() -> None:
    """Least four of `printf '["walk 7","back","row 1"]' | sha256sum`, row 1 to 12."""
    assert drawn([BACK], "walk 7") == {"back": ("row 4", "row 7", "row 8", "row 12")}


def test_another_walk_draws_others() -> None:
    assert drawn([BACK], "walk 8") != drawn([BACK], "walk 7")


def test_strata_are_drawn_each_for_itself() -> None:
    walls = Stratum("walls", BACK.members, draw=4)
    both = drawn([BACK, walls], "walk 7")

    assert both["back"] == drawn([BACK], "walk 7")["back"]
    assert both["walls"] != both["back"]


def test_where_there_are_no_more_all_are_drawn() -> None:
    assert drawn([Stratum("back", ("a", "b", "a"), draw=9)], "walk 7") == {"back": ("a", "b")}


def test_seed_and_names_don_t_run_into_each_other() -> None:
    one = Stratum("a b", BACK.members, draw=6)
    other = Stratum("b", BACK.members, draw=6)

    assert drawn([one], "w")["a b"] != drawn([other], "w a")["b"]
