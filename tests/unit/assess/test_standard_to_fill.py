"""The form that a real mine fills in: empty where only common practice would speak."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

import assets
from fieldapp.assess.standard_check import refusals, warnings
from schemas.limits import Demanded
from schemas.reading import Refused, read_model
from schemas.standard import Standard
from tests.standards import D1, DEMO, O2, W3

FORM = (Path(assets.__file__).parent / "standard_to_fill.json").read_bytes()
STEP = re.compile(r"\.(\w+)|\[(\d+)\]")
MOST_PLACES = 500
MOUTH = {"because": "S-2, 8.6", "breach": "rework", "guard_factor": "0"}


def worked() -> Any:
    """Give the figures of the demo's classes in one class that has everything."""
    document = json.loads(DEMO)
    decline, ore, wide = (document["classes"][index] for index in (D1, O2, W3))
    decline["shotcrete"] = wide["shotcrete"]
    decline["bolts"][0] |= {"curing": ore["bolts"][0]["curing"], "energy_kj": "12", "yields": True}
    decline["rock"] = ore["rock"] | {"intersection": False}
    decline["demand"]["energy"] = {
        "ejected_m": "0.4",
        "velocity_m_per_s": "2",
        "yield_travel_m": "0.1",
        "because": "S-2, 3.6",
    }
    decline["demand"]["walls"]["pressure_by"] = "stated"
    decline["intersection"] = wide["intersection"]
    decline["intersection"]["cables"] |= {
        "length": {**MOUTH, "at_least_m": "2.0"},
        "density": {**MOUTH, "at_least_per_m2": "0.2"},
        "tension": {**MOUTH, "at_least_kn": "50"},
    }
    decline["limits"]["shotcrete_thickness"] = wide["limits"]["shotcrete_thickness"]
    decline["limits"] |= {check: ore["limits"][check] for check in ("torque", "curing")}
    return {**document, "classes": [decline], "demo": False}


def at(document: Any, path: str) -> tuple[Any, Any]:
    """Give what holds a place, and the place's name in it."""
    steps = [name or int(index) for name, index in STEP.findall(path)]
    for step in steps[:-1]:
        document = document[step]
    return document, steps[-1]


def read(document: Any) -> Standard:
    return read_model(json.dumps(document).encode(), Standard, source="the form")


def test_the_empty_form_is_refused_at_its_first_empty_place() -> None:
    with pytest.raises(Refused) as caught:
        read_model(FORM, Standard, source="the form")

    assert (caught.value.path, caught.value.reason) == ("$.code", "it is empty")
    assert caught.value.others > 100


def test_every_limit_of_the_form_is_empty() -> None:
    limits = json.loads(FORM)["classes"][0]["limits"]
    filled = [
        f"{check}.{field}"
        for check, limit in limits.items()
        for field, value in limit.items()
        if field != "triggers" and value not in ("", None)
    ]

    assert filled == ["neighbouring_bolts.breach"], "that one is this program's rule, not a figure"


def test_filling_each_place_that_is_named_ends_at_a_standard() -> None:
    form, known = json.loads(FORM), worked()
    places = [place for _ in range(MOST_PLACES) if (place := filled_once(form, known))]
    standard = read(form)

    assert len(places) > 150
    assert refusals(standard) == ()
    assert [doubt.path for doubt in warnings(standard)] == ["$.how_to_fill"]


def filled_once(form: Any, known: Any) -> str | None:
    """Write the worked figure into the first place that is refused; None when none is."""
    place = first_refused(form)
    if place is not None:
        (holder, step), (figures, same) = at(form, place), at(known, place)
        assert holder[step] in ("", None), f"{place} is refused although it is filled"
        holder[step] = figures[same]
    return place


def first_refused(form: Any) -> str | None:
    try:
        return next((refusal.path for refusal in refusals(read(form))), None)
    except Refused as refusal:
        return refusal.path


def test_the_form_shows_every_field_that_a_class_may_state() -> None:
    shown = json.loads(FORM)["classes"][0]
    missing = list(unshown(read(worked()).classes[0], shown, ""))

    assert missing == []


def unshown(part: BaseModel, shown: Any, path: str) -> list[str]:
    found = []
    for name in type(part).model_fields:
        value = getattr(part, name)
        if name not in shown:
            found.append(f"{path}.{name}")
        elif isinstance(value, BaseModel):
            found += unshown(value, shown[name], f"{path}.{name}")
        elif isinstance(value, tuple) and value and isinstance(value[0], Demanded | BaseModel):
            found += unshown(value[0], shown[name][0], f"{path}.{name}[0]")
    return found
