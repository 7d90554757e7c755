"""Keys, signatures and ids beside the vectors of the RFCs that define them."""

from uuid import UUID

import pytest

from schemas.signatures import SigningKey, is_signature_of_bytes
from schemas.uuid7 import uuid7
from schemas.wrapped_key import stretched
from tests.reference.record import reference

# RFC 8032, 7.1: secret key, public key, message, signature of TEST 1, TEST 2 and TEST 3.
TEST_1 = (
    "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
    "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
    "",
    "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701c"
    "f9b46bd25bf5f0595bbe24655141438e7a100b",
)
TEST_2 = (
    "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
    "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
    "72",
    "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f"
    "11d8c387b2eaeb4302aeeb00d291612bb0c00",
)
TEST_3 = (
    "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
    "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
    "af82",
    "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984"
    "dc6594a7c15e9716ed28dc027beceea1ec40a",
)
every_vector = pytest.mark.parametrize(
    ("secret", "public", "message", "signature"), [TEST_1, TEST_2, TEST_3]
)


@every_vector
@reference("RFC 8032, 7.1: TEST 1 to TEST 3, signing", "published")
def test_a_key_signs_as_the_rfc_says(
    secret: str, public: str, message: str, signature: str
) -> None:
    key = SigningKey(bytes.fromhex(secret))

    assert key.public_key == public
    assert key.sign_bytes(bytes.fromhex(message)) == signature


@every_vector
@reference("RFC 8032, 7.1: TEST 1 to TEST 3, verifying", "published")
def test_a_signature_is_believed_as_the_rfc_says(
    secret: str, public: str, message: str, signature: str
) -> None:
    assert SigningKey(bytes.fromhex(secret)).public_key == public
    assert is_signature_of_bytes(public, signature, bytes.fromhex(message))
    assert not is_signature_of_bytes(public, signature, bytes.fromhex(message) + b"\x00")


# RFC 7914, section 12, each output's first 32 bytes: PBKDF2 makes the output in blocks of 32
# bytes that do not depend on how many are asked for.
@pytest.mark.parametrize(
    ("code", "salt", "cost", "first_bytes"),
    [
        ("", b"", (16, 1, 1), "77d6576238657b203b19ca42c18a0497f16b4844e3074ae8dfdffa3fede21442"),
        (
            "password",
            b"NaCl",
            (1024, 8, 16),
            "fdbabe1c9d3472007856e7190d01e9fe7c6ad7cbc8237830e77376634b373162",
        ),
        (
            "pleaseletmein",
            b"SodiumChloride",
            (16384, 8, 1),
            "7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2",
        ),
    ],
)
@reference("RFC 7914, 12: scrypt's first three vectors, first 32 bytes", "published")
def test_a_code_is_stretched_as_the_rfc_says(
    code: str, salt: bytes, cost: tuple[int, int, int], first_bytes: str
) -> None:
    n, r, p = cost

    assert stretched(code, salt, n=n, r=r, p=p).hex() == first_bytes


@reference("RFC 9562, A.6: the example of a UUID version 7", "published")
def test_the_example_of_a_uuid_version_7() -> None:
    # unix_ts_ms 0x017F22E279B0, rand_a 0xCC3, rand_b 0b01 and 0x8C4DC0C0C07398F
    rand_b = 0b01 << 60 | 0x8C4DC0C0C07398F
    chance = (0xCC3 << 62 | rand_b).to_bytes(10, "big")

    assert uuid7(0x017F22E279B0, chance) == UUID("017F22E2-79B0-7CC3-98C4-DC0C0C07398F")
