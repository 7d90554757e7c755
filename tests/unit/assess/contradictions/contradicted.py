"""What contradicts itself in a round that conforms but for one fact."""

from decimal import Decimal
from hashlib import sha256
from typing import Any

from fieldapp.assess import assess
from schemas.bodies.round import BoltSeen
from schemas.bundle import Bundle
from schemas.entry import new_entry
from schemas.findings import Finding, Verdict
from tests.made import stated, thing_id
from tests.unit.assess.conforming import conforming, with_round


def contradicted(bundle: Bundle) -> list[Finding]:
    return [it for it in assess(bundle).findings if it.title == "Contradiction"]


def the_one(bundle: Bundle) -> tuple[str, str, Verdict]:
    """Give check, place and verdict of the only contradiction."""
    (found,) = contradicted(bundle)
    (place,) = found.places
    assert found.holds is Verdict.NO_ENTRY
    assert found.because == "common practice"
    assert found.fix
    return found.check, place.words, found.verdict


def with_heading(**changes: Any) -> Bundle:
    bundle = conforming()
    return bundle.model_copy(update={"heading": bundle.heading.model_copy(update=changes)})


def stated_as_entry(bundle: Bundle) -> Bundle:
    """The same round, with the line of the standard's entry and its hash."""
    body = bundle.standard.model_dump(mode="json", exclude_none=True)
    line = new_entry("standard", 1, thing_id(0), body, stated()).line.decode()
    named = with_round(bundle, standard=sha256(line.encode()).hexdigest())
    return named.model_copy(update={"standard_line": line})


def placed(position: int | None, s_m: str) -> BoltSeen:
    return BoltSeen(
        position=position, s_m=Decimal(s_m), method="tape", state="present", plate="seated"
    )
