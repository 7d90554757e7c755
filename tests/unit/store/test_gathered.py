import pytest
from sqlalchemy import text

from fieldapp.store import Store

KEPT = b'{"line_m":"12.0"}'


def test_what_was_kept_comes_back_in_the_same_state_only(store: Store) -> None:
    store.gathered.keep("main", "one", KEPT)

    assert store.gathered.read("main", "one") == KEPT
    assert store.gathered.read("main", "two") is None
    assert store.gathered.read("ore", "one") is None


def test_a_newer_state_takes_the_place_of_the_older(store: Store) -> None:
    store.gathered.keep("main", "one", KEPT)
    store.gathered.keep("main", "two", b"{}")

    assert store.gathered.read("main", "one") is None
    assert store.gathered.read("main", "two") == b"{}"


@pytest.mark.parametrize(
    "damage",
    [
        "content = x'7b7d'",
        "state = 'two'",
        "heading = 'ore'",
        "bound = zeroblob(32)",
    ],
)
def test_what_was_altered_is_never_believed(store: Store, damage: str) -> None:
    store.gathered.keep("main", "one", KEPT)
    with store.database.writing() as connection:
        connection.execute(text(f"UPDATE gathered SET {damage}"))  # noqa: S608

    asked = [(heading, state) for heading in ("main", "ore") for state in ("one", "two")]
    assert not any(store.gathered.read(heading, state) for heading, state in asked)
