"""A repair lets a damage go only where it was done, once verified, until it is seen again."""

from fieldapp.assess.damage import left_of
from tests.damages import repair, seen


def test_restored_and_not_seen_since_nothing_is_left() -> None:
    assert left_of([seen()], "seen-0", [repair()]).outcome == "restored"


def test_patched_it_is_left_to_be_restored() -> None:
    left = left_of([seen()], "seen-0", [repair(outcome="patched")])

    assert left.outcome == "patched"
    assert len(left.seen) == 1


def test_without_a_repair_it_is_left() -> None:
    assert left_of([seen()], "seen-0", []).outcome is None


def test_damage_seen_after_its_repair_is_there_again_without_what_was_before() -> None:
    again = seen(8)
    left = left_of([seen(), again], "seen-0", [repair()])

    assert (left.seen, left.outcome) == ((again,), None)


def test_a_repair_of_other_damage_lets_nothing_go() -> None:
    assert left_of([seen()], "seen-0", [repair(damages=["other"])]).outcome is None


def test_what_lies_outside_of_the_part_that_was_done_is_left() -> None:
    """Done 1349 to 1350, the tear is at 1350.4."""
    done = repair(done_to_m="1350")

    assert left_of([seen()], "seen-0", [done]).outcome is None


def test_a_tear_that_reaches_beyond_the_part_that_was_done_is_left() -> None:
    assert left_of([seen(to_m="1354")], "seen-0", [repair()]).outcome is None


def test_what_the_verifier_did_not_know_of_is_left_whatever_the_clocks_say() -> None:
    """Seen on another tablet on day 3, by a clock that was right; the repair is of day 7."""
    unknown = seen(3)

    assert left_of([seen(), unknown], "seen-0", [repair()]).seen == (unknown,)
