"""Signatures of people, tablets and the site: Ed25519, each with its purpose in front.

What is signed is always an ASCII purpose, a NUL byte and a SHA-256, so that a signature
made for one purpose is worth nothing for another. Keys and signatures are written in
hexadecimal. How a person's key is kept under a sign code is in `schemas.wrapped_key`.
"""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import ClassVar, Final, Self

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import (
    Ed25519PrivateKey,
    Ed25519PublicKey,
)
from pydantic import BaseModel, ConfigDict

from schemas.canonical import JsonValue, canonical_bytes, parse_json
from schemas.entry import Entry, read_entry

SEED_BYTES = 32
SIGN_OFF = "lastrow sign_off 1"
DEVIATION = "lastrow deviation 1"
REHAB = "lastrow rehab 1"
INTERSECTION = "lastrow intersection 1"
STANDARD = "lastrow standard 1"
CERTIFICATE = "lastrow certificate 1"

PURPOSES: Final[Mapping[str, str]] = {
    "sign_off": SIGN_OFF,
    "deviation": DEVIATION,
    "rehab": REHAB,
    "intersection": INTERSECTION,
    "standard": STANDARD,
}
"""The kinds of entry that a person signs, each with its purpose."""

SIGNED_STATE: Final = "verified"
"""Of a rehab only the revision that says so is signed."""
SIGNED_STEP: Final = "plated"
"""Of an intersection only the revision that says so is signed."""


@dataclass(frozen=True)
class SigningKey:
    """An Ed25519 private key; it never shows itself in a log or a traceback."""

    seed: bytes = field(repr=False)

    def __post_init__(self) -> None:
        if len(self.seed) != SEED_BYTES:
            raise ValueError(f"a key is {SEED_BYTES} bytes")

    @cached_property
    def public_key(self) -> str:
        """The public half, in hexadecimal."""
        return self._private().public_key().public_bytes_raw().hex()

    def sign(self, purpose: str, digest: bytes) -> str:
        """Sign a SHA-256 for one purpose; give the signature in hexadecimal."""
        return self.sign_bytes(signed_bytes(purpose, digest))

    def sign_bytes(self, message: bytes) -> str:
        """Sign bytes as they are (RFC 8032); what has no purpose in front is not for us."""
        return self._private().sign(message).hex()

    def _private(self) -> Ed25519PrivateKey:
        return Ed25519PrivateKey.from_private_bytes(self.seed)


def digest_of(content: Mapping[str, JsonValue]) -> bytes:
    """Give the SHA-256 of something's canonical JSON: what is signed of it."""
    return hashlib.sha256(canonical_bytes(content)).digest()


def signed_bytes(purpose: str, digest: bytes) -> bytes:
    """Give the bytes that are signed: purpose, NUL, SHA-256."""
    if len(digest) != hashlib.sha256().digest_size:
        raise ValueError("what is signed is a SHA-256")
    return purpose.encode("ascii") + b"\x00" + digest


def is_signature(public_key: str, signature: str, purpose: str, digest: bytes) -> bool:
    """Tell whether a signature is this key's, for this purpose; never raises on bad text."""
    return is_signature_of_bytes(public_key, signature, signed_bytes(purpose, digest))


def is_signature_of_bytes(public_key: str, signature: str, message: bytes) -> bool:
    """Tell whether a signature is this key's over these bytes (RFC 8032)."""
    try:
        key = Ed25519PublicKey.from_public_bytes(bytes.fromhex(public_key))
        key.verify(bytes.fromhex(signature), message)
    except (ValueError, InvalidSignature):
        return False
    return True


def sign(entry: Entry, key: SigningKey) -> Entry:
    """Give a sign-off, a deviation, a verified rehab or a standard with its person's signature.

    Signed is the SHA-256 of the whole canonical line as it stands without the field
    `signature` in its body: author, time and round are bound as firmly as the decision.

    Raises
    ------
    ValueError
        Nobody signs this kind, the body names another public key, or it is signed already. A
        bug of the caller.
    """
    if entry.kind not in PURPOSES:
        raise ValueError(f"nobody signs a {entry.kind}")
    if entry.body.get("public_key") != key.public_key:
        raise ValueError("the body names another public key")
    if "signature" in entry.body:
        raise ValueError("it is signed already")
    signature = key.sign(PURPOSES[entry.kind], _unsigned_digest(entry))
    return _with_body(entry, {**entry.body, "signature": signature})


def is_to_be_signed(entry: Entry) -> bool:
    """Tell whether an entry is worth nothing without its person's signature."""
    if entry.kind == "rehab":
        return entry.body.get("state") == SIGNED_STATE
    if entry.kind == "intersection":
        return entry.body.get("step") == SIGNED_STEP
    if entry.kind == "standard":
        return entry.body.get("public_key") is not None
    return entry.kind in PURPOSES


def is_signed_by(entry: Entry, public_key: str) -> bool:
    """Tell whether an entry's signature was made with this key over all that it says."""
    purpose, signature = PURPOSES.get(entry.kind), entry.body.get("signature")
    if purpose is None or not isinstance(signature, str):
        return False
    if entry.body.get("public_key") != public_key:
        return False
    return is_signature(public_key, signature, purpose, _unsigned_digest(entry))


def _unsigned_digest(entry: Entry) -> bytes:
    body = {name: value for name, value in entry.body.items() if name != "signature"}
    return hashlib.sha256(_with_body(entry, body).line).digest()


def _with_body(entry: Entry, body: dict[str, JsonValue]) -> Entry:
    envelope = parse_json(entry.line, source=entry.id)
    assert isinstance(envelope, dict)  # noqa: S101 - an Entry was read from an object
    return read_entry(canonical_bytes({**envelope, "body": body}), source=entry.id)


class Certificate(BaseModel):
    """The site says: this public key belongs to this person or tablet, with these roles.

    Signed by the site's root key over `lastrow certificate 1`, NUL, and the SHA-256 of the
    canonical JSON of holder, public key and roles.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    purpose: ClassVar[str] = CERTIFICATE

    holder: str
    public_key: str
    roles: tuple[str, ...]
    site_key: str
    signature: str

    @classmethod
    def issue(
        cls, site: SigningKey, *, holder: str, public_key: str, roles: tuple[str, ...]
    ) -> Self:
        """Certify a key with the site's root key."""
        digest = _certified_digest(holder, public_key, roles)
        return cls(
            holder=holder,
            public_key=public_key,
            roles=roles,
            site_key=site.public_key,
            signature=site.sign(cls.purpose, digest),
        )

    def is_from(self, site_key: str) -> bool:
        """Tell whether the site with this root key really said so."""
        digest = _certified_digest(self.holder, self.public_key, self.roles)
        return self.site_key == site_key and is_signature(
            site_key, self.signature, self.purpose, digest
        )


def _certified_digest(holder: str, public_key: str, roles: tuple[str, ...]) -> bytes:
    content: dict[str, JsonValue] = {
        "holder": holder,
        "public_key": public_key,
        "roles": list(roles),
    }
    return digest_of(content)
