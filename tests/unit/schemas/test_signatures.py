import hashlib
import json

import pytest

from schemas.canonical import JsonValue, canonical_bytes
from schemas.entry import Entry, read_entry
from schemas.signatures import (
    CERTIFICATE,
    DEVIATION,
    SIGN_OFF,
    Certificate,
    SigningKey,
    is_signature,
    is_signed_by,
    sign,
    signed_bytes,
)
from tests.made import PERSON_KEY, TABLET_KEY, entry

PUBLIC = PERSON_KEY.public_key
UNSIGNED = entry(1, {"decision": "accepted", "public_key": PUBLIC}, kind="sign_off")


def altered(signed: Entry, **fields: JsonValue) -> Entry:
    return read_entry(canonical_bytes({**json.loads(signed.line), **fields}), source="here")


def test_what_was_signed_is_believed() -> None:
    assert is_signed_by(sign(UNSIGNED, PERSON_KEY), PUBLIC)


def test_the_signature_is_over_purpose_nul_and_hash_of_the_line_without_it() -> None:
    signed = sign(UNSIGNED, PERSON_KEY)
    digest = hashlib.sha256(UNSIGNED.line).digest()

    assert signed_bytes(SIGN_OFF, digest) == b"lastrow sign_off 1\x00" + digest
    assert is_signature(PUBLIC, str(signed.body["signature"]), SIGN_OFF, digest)


def test_a_deviation_is_signed_for_a_purpose_of_its_own() -> None:
    unsigned = entry(1, {"row": 3, "public_key": PUBLIC}, kind="deviation")
    signed = sign(unsigned, PERSON_KEY)
    digest = hashlib.sha256(unsigned.line).digest()

    assert is_signed_by(signed, PUBLIC)
    assert is_signature(PUBLIC, str(signed.body["signature"]), DEVIATION, digest)
    assert not is_signature(PUBLIC, str(signed.body["signature"]), SIGN_OFF, digest)


def test_a_kind_that_nobody_signs_is_a_bug_and_never_believed() -> None:
    note = entry(1, {"public_key": PUBLIC, "signature": "00" * 64}, kind="event")

    assert not is_signed_by(note, PUBLIC)
    with pytest.raises(ValueError, match="nobody signs"):
        sign(entry(1, {"public_key": PUBLIC}, kind="event"), PERSON_KEY)


@pytest.mark.parametrize(
    "fields",
    [
        {"author": "p-somebody"},
        {"made_at": "2026-03-01T05:31:02Z"},
        {"parents": ["0" * 64]},
        {"read_by": "p-somebody"},
    ],
)
def test_a_changed_envelope_ends_the_signature(fields: dict[str, JsonValue]) -> None:
    assert not is_signed_by(altered(sign(UNSIGNED, PERSON_KEY), **fields), PUBLIC)


def test_a_changed_decision_ends_the_signature() -> None:
    signed = sign(UNSIGNED, PERSON_KEY)

    assert not is_signed_by(altered(signed, body={**signed.body, "decision": "sent back"}), PUBLIC)


def test_an_unsigned_entry_and_a_strangers_key_are_not_believed() -> None:
    assert not is_signed_by(UNSIGNED, PUBLIC)
    assert not is_signed_by(sign(UNSIGNED, PERSON_KEY), TABLET_KEY.public_key)


def test_signing_for_another_key_or_twice_is_a_bug() -> None:
    with pytest.raises(ValueError, match="another public key"):
        sign(UNSIGNED, TABLET_KEY)
    with pytest.raises(ValueError, match="already"):
        sign(sign(UNSIGNED, PERSON_KEY), PERSON_KEY)


def test_a_signature_for_one_purpose_is_none_for_another() -> None:
    digest = bytes(32)

    signature = PERSON_KEY.sign(SIGN_OFF, digest)

    assert is_signature(PUBLIC, signature, SIGN_OFF, digest)
    assert not is_signature(PUBLIC, signature, CERTIFICATE, digest)


@pytest.mark.parametrize(("key", "signature"), [("zz", "00"), ("", ""), (PUBLIC, "é")])
def test_nonsense_is_no_signature(key: str, signature: str) -> None:
    assert not is_signature(key, signature, SIGN_OFF, bytes(32))


def test_a_key_does_not_show_itself() -> None:
    assert str(PERSON_KEY.seed) not in repr(PERSON_KEY)
    assert PERSON_KEY.seed.hex() not in repr(PERSON_KEY)


def test_the_site_answers_for_its_certificates_only() -> None:
    site, stranger = SigningKey(b"s" * 32), SigningKey(b"t" * 32)
    roles = ("shift supervisor",)

    real = Certificate.issue(site, holder="p-1", public_key=PUBLIC, roles=roles)
    forged = Certificate.issue(stranger, holder="p-1", public_key=PUBLIC, roles=roles)

    assert real.is_from(site.public_key)
    assert not forged.is_from(site.public_key)
    assert not forged.model_copy(update={"site_key": site.public_key}).is_from(site.public_key)


@pytest.mark.parametrize(
    "change",
    [
        {"holder": "p-2"},
        {"public_key": TABLET_KEY.public_key},
        {"roles": ("shift supervisor", "geotechnical engineer")},
    ],
)
def test_a_certificate_that_was_changed_is_not_the_sites(change: dict[str, object]) -> None:
    site = SigningKey(b"s" * 32)
    real = Certificate.issue(site, holder="p-1", public_key=PUBLIC, roles=("shift supervisor",))

    assert not real.model_copy(update=change).is_from(site.public_key)
