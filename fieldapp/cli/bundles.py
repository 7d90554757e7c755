"""Bundle files: read strictly, written so that they are read back as they were."""

from pathlib import Path
from typing import TYPE_CHECKING

from fieldapp.cli.files import content_of

if TYPE_CHECKING:
    from schemas.bundle import Bundle


def bundle_in(path: Path) -> "Bundle":
    """Read a bundle, and refuse one whose standard contradicts itself.

    Raises
    ------
    BadInput
        Names the file, the JSON path and the reason.
    """
    from fieldapp.assess.standard_check import refusals
    from schemas.bundle import Bundle
    from schemas.reading import Refused, read_model

    bundle = read_model(content_of(path), Bundle, source=path.name)
    found = refusals(bundle.standard)
    if found:
        first = found[0].path.removeprefix("$")
        raise Refused(path.name, f"$.standard{first}", found[0].reason, others=len(found) - 1)
    return bundle


def bundle_bytes(bundle: "Bundle") -> bytes:
    """Write a bundle as `lastrow assess` reads it."""
    return bundle.model_dump_json(indent=1, exclude_none=True).encode() + b"\n"
