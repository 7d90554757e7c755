from datetime import timedelta
from pathlib import Path

import pytest

from fieldapp.store import Store, open_store
from fieldapp.store.codes import SITE, KeyMissing, SignCodeDelayed, wait_s
from schemas.wrapped_key import WrappedKey, WrongSignCode, wrap
from tests.made import PERSON_KEY, STARTED_AT, TABLET_KEY


def kept(code: str = "4711", *, owner: str = "p-1") -> WrappedKey:
    return wrap(PERSON_KEY, code, owner=owner, random_bytes=bytes(28), cost=16)


def type_wrong(store: Store, times: int) -> None:
    for number in range(times):
        with pytest.raises(WrongSignCode):
            store.keys.unlock("p-1", "0000", now=STARTED_AT + timedelta(hours=number))


def test_the_tablets_key_is_made_once_and_stays(tmp_path: Path) -> None:
    with open_store(tmp_path) as store:
        first = store.keys.tablet()
        assert store.keys.tablet() == first
    with open_store(tmp_path) as store:
        assert store.keys.tablet() == first


def test_two_tablets_have_two_keys(tmp_path: Path) -> None:
    with open_store(tmp_path / "a") as one, open_store(tmp_path / "b") as other:
        assert one.keys.tablet() != other.keys.tablet()


def test_the_right_code_gives_the_key(store: Store) -> None:
    store.keys.keep(kept())
    store.keys.keep(wrap(TABLET_KEY, "9", owner=SITE, random_bytes=bytes(28), cost=16))

    assert store.keys.unlock("p-1", "4711", now=STARTED_AT) == PERSON_KEY
    assert store.keys.unlock(SITE, "9", now=STARTED_AT) == TABLET_KEY
    assert store.keys.owners() == ("p-1", SITE)
    assert store.keys.public_key("p-1") == PERSON_KEY.public_key


def test_who_has_no_key_here_is_told(store: Store) -> None:
    store.keys.tablet()

    with pytest.raises(KeyMissing) as caught:
        store.keys.unlock("p-2", "4711", now=STARTED_AT)

    assert caught.value.owner == "p-2"
    assert store.keys.owners() == ()


def test_the_tablets_own_key_is_nobodys_to_unlock_or_replace(store: Store) -> None:
    store.keys.tablet()

    with pytest.raises(KeyMissing):
        store.keys.unlock("tablet", "", now=STARTED_AT)
    with pytest.raises(ValueError, match="no sign code"):
        store.keys.keep(kept(owner="tablet"))


def test_after_three_wrong_codes_even_the_right_one_has_to_wait(store: Store) -> None:
    store.keys.keep(kept())
    type_wrong(store, 3)
    just_after = STARTED_AT + timedelta(hours=2)

    with pytest.raises(SignCodeDelayed) as caught:
        store.keys.unlock("p-1", "4711", now=just_after)

    assert caught.value.wait_s == 5
    assert store.keys.unlock("p-1", "4711", now=just_after + timedelta(seconds=5)) == PERSON_KEY


def test_the_wait_grows_and_has_an_end() -> None:
    assert [wait_s(wrong) for wrong in (0, 2, 3, 4, 5, 20, 10**9)] == [0, 0, 5, 10, 20, 900, 900]


def test_a_right_code_forgets_the_wrong_ones(store: Store) -> None:
    store.keys.keep(kept())
    type_wrong(store, 2)
    store.keys.unlock("p-1", "4711", now=STARTED_AT + timedelta(hours=3))

    type_wrong(store, 3)


def test_a_restart_does_not_shorten_the_wait(tmp_path: Path) -> None:
    with open_store(tmp_path) as store:
        store.keys.keep(kept())
        type_wrong(store, 3)
    with open_store(tmp_path) as store, pytest.raises(SignCodeDelayed):
        store.keys.unlock("p-1", "4711", now=STARTED_AT + timedelta(hours=2))


def test_a_clock_that_is_set_back_starts_the_wait_again(store: Store) -> None:
    store.keys.keep(kept())
    type_wrong(store, 3)
    a_day_before = STARTED_AT - timedelta(days=1)

    for _ in range(2):
        with pytest.raises(SignCodeDelayed) as caught:
            store.keys.unlock("p-1", "4711", now=a_day_before)
    waited = store.keys.unlock("p-1", "4711", now=a_day_before + timedelta(seconds=5))

    assert caught.value.wait_s == 5
    assert waited == PERSON_KEY


def test_others_do_not_wait_for_somebodys_wrong_codes(store: Store) -> None:
    store.keys.keep(kept())
    store.keys.keep(kept("22", owner="p-2"))
    type_wrong(store, 3)

    assert store.keys.unlock("p-2", "22", now=STARTED_AT) == PERSON_KEY


def test_a_new_code_takes_the_place_of_the_old_and_its_waits(store: Store) -> None:
    store.keys.keep(kept())
    type_wrong(store, 3)
    store.keys.keep(kept("0815"))

    assert store.keys.unlock("p-1", "0815", now=STARTED_AT) == PERSON_KEY
    with pytest.raises(WrongSignCode):
        store.keys.unlock("p-1", "4711", now=STARTED_AT)
