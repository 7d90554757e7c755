"""What published sources say is what the app's own functions give."""

import pytest

from tests.reference.value import Value
from tests.reference.values import VALUES


@pytest.mark.parametrize("value", VALUES, ids=lambda it: it.check)
def test_the_app_gives_what_the_source_says(value: Value) -> None:
    ours = value.ours

    assert value.agrees(ours), f"{value.source}: {value.published} {value.unit}, ours {ours}"


def test_each_check_is_named_once() -> None:
    names = [it.check for it in VALUES]

    assert sorted(set(names)) == sorted(names)
