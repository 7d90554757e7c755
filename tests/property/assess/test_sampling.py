"""More looks never say less, and a draw is a fair lot that anybody can draw again."""

from decimal import Decimal
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess.sampling import Stratum, drawn, looks_needed, most_bad

CONFIDENCES = st.sampled_from([Decimal("0.80"), Decimal("0.90"), Decimal("0.95"), Decimal("0.99")])
WORDS = st.text(alphabet='ab, "é', max_size=6)
MEMBERS = st.lists(WORDS, unique=True, max_size=30)


@st.composite
def looks(draw: st.DrawFn) -> tuple[int, int, int]:
    of = draw(st.integers(2, 200))
    looked_at = draw(st.integers(1, of - 1))
    return of, looked_at, draw(st.integers(0, min(looked_at, 5)))


@settings(max_examples=60)
@given(looks(), CONFIDENCES)
def test_more_good_ones_looked_at_bound_the_bad_ones_closer(
    look: tuple[int, int, int], confidence: Decimal
) -> None:
    of, looked_at, found = look

    assert most_bad(of, looked_at + 1, found, confidence) <= most_bad(*look, confidence)


@settings(max_examples=60)
@given(looks(), CONFIDENCES)
def test_one_more_bad_one_found_bounds_them_wider(
    look: tuple[int, int, int], confidence: Decimal
) -> None:
    of, looked_at, found = look
    one_more = min(found + 1, looked_at)

    assert most_bad(of, looked_at, one_more, confidence) >= most_bad(*look, confidence) >= found


@settings(max_examples=60)
@given(st.integers(1, 300), st.integers(1, 40), CONFIDENCES)
def test_as_many_looks_as_are_needed_bound_the_share_and_one_fewer_don_t(
    of: int, percent: int, confidence: Decimal
) -> None:
    share = Decimal(percent) / 100
    needed = looks_needed(of, share, confidence)
    allowed = max(1, -(-percent * of // 100)) - 1  # the next whole number of bad ones is too many

    assert most_bad(of, needed, 0, confidence) <= allowed
    assert needed == 0 or most_bad(of, needed - 1, 0, confidence) > allowed


@settings(max_examples=60)
@given(MEMBERS, st.integers(0, 30), WORDS, st.randoms(use_true_random=False))
def test_a_draw_depends_on_no_order_and_grows_by_what_is_added(
    members: list[str], draw: int, seed: str, chance: Random
) -> None:
    shuffled = tuple(chance.sample(members, len(members)))
    first = drawn([Stratum("back", tuple(members), draw)], seed)["back"]
    again = drawn([Stratum("back", shuffled, draw)], seed)["back"]
    more = drawn([Stratum("back", shuffled, draw + 1)], seed)["back"]

    assert set(first) == set(again)
    assert len(first) == min(draw, len(members))
    assert set(first) <= set(more)


def test_each_bolt_is_drawn_as_often_as_any_other() -> None:
    """Twelve of 48 in 600 walks: 150 each; chi² over 47 degrees of freedom below 83 (0.1 %)."""
    back = Stratum("back", tuple(f"bolt {n}" for n in range(48)), 12)
    counts = dict.fromkeys(back.members, 0)
    for walk in range(600):
        for member in drawn([back], f"walk {walk}")["back"]:
            counts[member] += 1
    expected = 600 * 12 / 48
    spread = sum((count - expected) ** 2 / expected for count in counts.values())

    assert spread < 83
