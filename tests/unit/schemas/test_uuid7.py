from uuid import RFC_4122

import pytest

from schemas.uuid7 import uuid7


def test_time_comes_first_so_that_later_things_sort_later() -> None:
    earlier, later = uuid7(1_000, b"\xff" * 10), uuid7(1_001, b"\x00" * 10)

    assert str(earlier) < str(later)


def test_version_and_variant_stand_whatever_chance_gives() -> None:
    for chance in (b"\x00" * 10, b"\xff" * 10):
        made = uuid7(2**48 - 1, chance)

        assert (made.version, made.variant) == (7, RFC_4122)


@pytest.mark.parametrize(("ms", "chance"), [(-1, bytes(10)), (2**48, bytes(10)), (1, bytes(9))])
def test_what_does_not_fit_is_a_bug(ms: int, chance: bytes) -> None:
    with pytest.raises(ValueError, match=r"48 bits|random bytes"):
        uuid7(ms, chance)
