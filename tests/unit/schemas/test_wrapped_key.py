import pytest

from schemas.canonical import JsonValue, Unreadable, canonical_bytes
from schemas.wrapped_key import WrappedKey, WrongSignCode, read_wrapped_key, unwrap, wrap
from tests.made import PERSON_KEY

CHEAP = 2**4


def wrapped(code: str = "4711", *, owner: str = "p-1") -> WrappedKey:
    return wrap(PERSON_KEY, code, owner=owner, random_bytes=bytes(range(28)), cost=CHEAP)


def test_the_right_code_gives_the_key_back() -> None:
    kept = read_wrapped_key(wrapped().to_bytes(), source="here")

    assert unwrap(kept, "4711") == PERSON_KEY


@pytest.mark.parametrize("code", ["", "4712", "04711", "4711 "])
def test_another_code_does_not(code: str) -> None:
    with pytest.raises(WrongSignCode) as caught:
        unwrap(wrapped(), code)

    assert caught.value.owner == "p-1"


@pytest.mark.parametrize(
    "change", [{"owner": "p-2"}, {"public_key": "0" * 64}, {"scrypt_n": 8}, {"salt": "0" * 32}]
)
def test_a_record_that_somebody_altered_does_not_open(change: dict[str, object]) -> None:
    with pytest.raises(WrongSignCode):
        unwrap(wrapped().model_copy(update=change), "4711")


def test_the_key_itself_does_not_stand_in_the_record() -> None:
    kept = wrapped().to_bytes()

    assert PERSON_KEY.seed not in kept
    assert PERSON_KEY.seed.hex().encode() not in kept
    assert b"4711" not in kept


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("format", 2),
        ("scrypt_n", 2**30),
        ("scrypt_n", 48),
        ("scrypt_r", 1000),
        ("salt", "zz"),
        ("sealed", ""),
        ("more", 1),
    ],
)
def test_a_damaged_record_is_refused_before_it_costs_anything(
    field: str, value: JsonValue
) -> None:
    fields = {**wrapped().model_dump(mode="json"), field: value}

    with pytest.raises(Unreadable) as caught:
        read_wrapped_key(canonical_bytes(fields), source="the key of p-1")

    assert caught.value.path == f"$.{field}"


def test_too_little_chance_is_a_bug() -> None:
    with pytest.raises(ValueError, match="28 random bytes"):
        wrap(PERSON_KEY, "4711", owner="p-1", random_bytes=b"", cost=CHEAP)
