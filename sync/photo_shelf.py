"""What the exchange needs of whatever keeps the photos of a machine."""

import hashlib
from collections.abc import Iterable, Mapping
from typing import Protocol

from sync.names import PhotoName


class PhotoShelf(Protocol):
    """Photos that are kept on a machine. Each call is durable when it returns."""

    def named(self) -> Iterable[PhotoName]:
        """Give every photo that an entry names which counts here."""

    def held(self) -> frozenset[PhotoName]:
        """Give the photos whose bytes are here."""

    def content(self, name: PhotoName) -> bytes | None:
        """Give a photo's bytes; None where they are gone or are not its own any more."""

    def take_in(self, name: PhotoName, content: bytes) -> None:
        """Keep a photo whose bytes fit its name."""

    def published(self) -> Mapping[PhotoName, float]:
        """Give when photos were put into the share, or last seen good there."""

    def set_published(self, names: Iterable[PhotoName], at_s: float | None) -> None:
        """Keep that photos were put, or with None that they have to be put again."""

    def brought(self) -> frozenset[PhotoName]:
        """Give the photos that others took and that were brought here."""

    def acknowledged(self) -> frozenset[str]:
        """Give the hashes of the photos that somebody believed says to hold."""

    def acknowledge(self, names: Iterable[PhotoName]) -> None:
        """State, as an entry of this machine, that it holds photos of others."""


def is_of(name: PhotoName, content: bytes) -> bool:
    """Whether bytes are the photo that a name means."""
    return hashlib.sha256(content).hexdigest() == name.sha256
