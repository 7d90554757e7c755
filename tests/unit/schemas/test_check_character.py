"""No slip of a finger goes unseen: one wrong character, or two that changed places."""

from itertools import combinations

from schemas.check_character import DIGITS, check_character


def test_thirty_places_have_weights_of_their_own_and_none_that_of_the_check() -> None:
    # α of x⁵ + x² + 1 is primitive: its powers 1..31 are all the nonzero elements.
    weights = [check_character("0" * place + "1") for place in range(31)]

    assert sorted(weights) == sorted(DIGITS[1:])
    assert "1" not in weights[:30]


def test_it_is_a_sum_so_that_one_place_stands_for_every_code() -> None:
    # What is true of one code alone, changed in one place or two, is true of all of them:
    # the check of a sum (bit by bit) is the sum of the checks.
    one, other = "7K3Q9XTR", "00ZA4C2M"
    together = "".join(
        DIGITS[DIGITS.index(a) ^ DIGITS.index(b)] for a, b in zip(one, other, strict=True)
    )
    checks = [DIGITS.index(check_character(it)) for it in (one, other, together)]

    assert checks[0] ^ checks[1] == checks[2]


def test_every_change_of_one_character_and_every_swap_changes_the_check() -> None:
    # Exhaustive, by the sum above: a change of place i by d, or a swap of places i and j that
    # differ by d, is the sum with a code that holds d at i, or at i and j.
    places = range(20)
    for change in DIGITS[1:]:
        for place in places:
            assert check_character("0" * place + change + "0" * (19 - place)) != "0"
        for first, second in combinations(places, 2):
            held = ["0"] * 20
            held[first] = held[second] = change
            assert check_character("".join(held)) != "0"
        for place in places:  # swapped with the check character itself
            swapped = check_character("0" * place + change + "0" * (19 - place))
            assert swapped != change
