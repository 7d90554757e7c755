"""Why a value doesn't belong where it stands, in words for whoever wrote the file.

The checking library names a fault by a code; each code that our models can bring up has its
sentence here, completing "at $.place, …". `as_typed` says it to whoever sees no file.
"""

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from pydantic_core import ErrorDetails

from schemas.canonical import JsonValue
from schemas.json_places import Step

_LONGEST_SHOWN = 40
_TIME = "a time with its zone is needed, like 2025-02-01T06:00:00Z"
_NUMBER = "a number is needed"
_TEXT = "text in quotes is needed"
_FALLBACK = "what stands there doesn't belong there"

_SENTENCES: Final[Mapping[str, str]] = {
    "missing": "nothing is written, and something must be",
    "extra_forbidden": "there is no such field",
    "string_type": _TEXT,
    "string_too_short": "the text has fewer than {min_length} letters",
    "string_too_long": "the text has more than {max_length} letters",
    "string_pattern_mismatch": "the text hasn't the form that is needed there",
    "int_type": "a whole number without quotes is needed",
    "int_parsing": "a whole number without quotes is needed",
    "int_from_float": "a whole number is needed",
    "bool_type": "true or false without quotes is needed",
    "bool_parsing": "true or false without quotes is needed",
    "decimal_type": _NUMBER,
    "decimal_parsing": _NUMBER,
    "datetime_type": _TIME,
    "datetime_parsing": _TIME,
    "datetime_from_date_parsing": _TIME,
    "datetime_object_invalid": _TIME,
    "timezone_aware": _TIME,
    "time_type": "a time of day is needed, like 06:00",
    "time_parsing": "a time of day is needed, like 06:00",
    "model_type": "an object in { } is needed",
    "model_attributes_type": "an object in { } is needed",
    "dataclass_type": "an object in { } is needed",
    "dict_type": "an object in { } is needed",
    "tuple_type": "a list in [ ] is needed",
    "list_type": "a list in [ ] is needed",
    "too_short": "the list has fewer than {min_length}",
    "too_long": "the list has more than {max_length}",
    "greater_than": "it must be more than {gt}",
    "greater_than_equal": "it can't be less than {ge}",
    "less_than": "it must be less than {lt}",
    "less_than_equal": "it can't be more than {le}",
    "none_required": "only null may stand there",
    "union_tag_invalid": "its {discriminator} is none that is known",
    "union_tag_not_found": "its {discriminator} is not written",
}

_ABSENT: Final = ("missing", "extra_forbidden")


@dataclass(frozen=True)
class Fault:
    """One thing that the checking library found."""

    code: str
    steps: tuple[Step, ...]
    """Where it stands in the JSON, from the root."""
    stands_there: JsonValue
    facts: Mapping[str, Any]

    @classmethod
    def of(cls, details: ErrorDetails, root: JsonValue) -> "Fault":
        """Take what the checking library says, and find where it stands in the JSON.

        The library's places also name branches that it tried, which nobody wrote.
        """
        steps, value = _walked(details["loc"], root)
        last = details["loc"][-1:]
        if details["type"] in _ABSENT and steps[-1:] != last:
            steps = (*steps, *last)
        return cls(details["type"], steps, value, details.get("ctx", {}))

    @property
    def is_an_echo(self) -> bool:
        """Whether it only follows from faults inside: a list left short by what was refused."""
        return (
            self.code == "too_short"
            and isinstance(self.stands_there, list)
            and len(self.stands_there) >= self.facts["min_length"]
        )


def reason_of(faults: Sequence[Fault]) -> str:
    """Say why, for everything that is wrong at one place."""
    first = faults[0]
    reason = _needed(faults)
    if first.code in _ABSENT or isinstance(first.stands_there, dict | list):
        return reason
    if first.stands_there in ("", None):
        return "it is empty" if first.code == "string_too_short" else f"it is empty, and {reason}"
    return f"{_shown(first.stands_there)} stands there, and {reason}"


def as_typed(reason: str) -> str:
    """Say a reason to somebody who types a value and sees no file: without a file's quotes."""
    unquoted = re.sub(r" (?:in|without) quotes", "", reason)
    return unquoted.replace('decimal, such as "1.25"', "number, such as 1.25")


def _needed(faults: Sequence[Fault]) -> str:
    first = faults[0]
    if words := [fault for fault in faults if fault.code in ("literal_error", "enum")]:
        return f"one of these is needed: {_words(words)}"
    if first.stands_there == [] and first.code == "too_short":
        return "the list is empty"
    if first.code == "value_error":
        return str(first.facts["error"])
    return _filled(_SENTENCES.get(first.code, _FALLBACK), first.facts)


def _words(faults: Sequence[Fault]) -> str:
    """List the allowed words of all branches, each once."""
    listed = " ".join(str(fault.facts["expected"]) for fault in faults)
    return ", ".join(dict.fromkeys(re.findall(r"'([^']*)'", listed)))


def _shown(value: JsonValue) -> str:
    text = json.dumps(value, ensure_ascii=False)
    return text if len(text) <= _LONGEST_SHOWN else text[:_LONGEST_SHOWN] + "…"


def _filled(sentence: str, facts: Mapping[str, Any]) -> str:
    return re.sub(r"\{(\w+)\}", lambda named: str(facts[named[1]]), sentence)


def _walked(places: Sequence[Step], value: JsonValue) -> tuple[tuple[Step, ...], JsonValue]:
    steps: list[Step] = []
    for step in places:
        if not _holds(value, step):
            continue
        value = value[step]  # type: ignore[index]
        steps.append(step)
    return tuple(steps), value


def _holds(value: JsonValue, step: Step) -> bool:
    if isinstance(value, dict):
        return step in value
    return isinstance(value, list) and isinstance(step, int) and step < len(value)
