"""Every field of a standard that an engineer may set: its place, its name, what it may hold.

They are read from the published form of a standard, so that a field added to the form can be
edited without anything said of it here.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Final, Literal

from fieldapp.work.standard_editing.titles import in_a_row, title_of
from schemas.json_places import path_of
from schemas.reading import Refused
from schemas.standard import Standard

Step = str | int
Steps = tuple[Step, ...]
Kind = Literal["number", "count", "text", "choice", "choices", "yes or no", "part", "list"]
"""A part is one that a standard may leave out; a list is longer or shorter by whole parts."""

SIGNED: Final = frozenset({"public_key", "signature"})
"""Whoever signed the revision before did not sign this one."""
NOT_EDITED: Final = SIGNED | {
    "code",
    "revision",
    "mine",
    "demo",
    "effective_from",
    "approved_by",
}
"""Of the whole standard: they are the same as before, or are set when it is signed."""
NAMED_BY: Final = ("code", "what", "name", "condition", "of", "severity", "kind", "grade")
"""The first of these that a part has tells it from its neighbours."""


@dataclass(frozen=True)
class Field:
    """One thing that may be set. `value` is as it stands in the standard's JSON."""

    steps: Steps
    title: str
    unit: str
    kind: Kind
    value: Any
    choices: tuple[str, ...] = ()
    optional: bool = False
    meaning: str = ""
    within: str = ""
    """Name of the part that it belongs to."""

    @property
    def question(self) -> str:
        """As it is asked for: "Limits: row spacing, at most"."""
        return f"{self.within}, {in_a_row(self.title)}" if self.within else self.title

    @property
    def path(self) -> str:
        """Where it stands, as refusals and warnings name it."""
        return path_of(self.steps)


@dataclass(frozen=True)
class Group:
    """The fields of one part, under its name."""

    title: str
    steps: Steps
    fields: tuple[Field, ...]
    one_of_several: bool = False
    """It is a part of a list: it may be taken away."""


def groups_of_class(document: Mapping[str, Any], number: int) -> tuple[Group, ...]:
    """Give everything that one support class states, part by part.

    Parameters
    ----------
    document : mapping
        The standard's JSON, also one that lacks figures. [any]
    number : int
        Place of the class in it. [-]
    """
    form = _form()["$defs"]["SupportClass"]
    return tuple(_groups(document["classes"][number], form, ("classes", number), ""))


def groups_of_mine(document: Mapping[str, Any]) -> tuple[Group, ...]:
    """Give everything that holds in the whole mine, part by part."""
    form = _form()
    kept = {
        name: it for name, it in form["properties"].items() if name not in {*NOT_EDITED, "classes"}
    }
    return tuple(_groups(document, {**form, "properties": kept}, (), ""))


def named(steps: Steps, document: Mapping[str, Any], *, units: bool = True) -> str:
    """Say where a field stands as a person does: "Classes D1, pattern, bolt spacing (m)"."""
    words: list[str] = []
    part: Any = document
    for step in steps:
        part = _inside(part, step)
        if isinstance(step, str):
            title, unit = title_of(step)
            words.append(f"{title} ({unit})" if unit and units else title)
        elif words:
            words[-1] = f"{words[-1]} {_told_apart(part) or step + 1}"
    return ", ".join(word if n == 0 else in_a_row(word) for n, word in enumerate(words))


def part_at(document: Any, steps: Steps) -> Any:
    """Give what stands at a place; None where nothing does."""
    for step in steps:
        document = _inside(document, step)
    return document


def steps_of(path: str) -> Steps:
    """Read a place as refusals and warnings name it: "$.classes[0].mesh" for its steps."""
    found = re.findall(r"\.([A-Za-z_]\w*)|\[(\d+)\]", path)
    return tuple(name or int(number) for name, number in found)


def empty(form_name: str) -> dict[str, Any]:
    """Give a part with nothing filled in yet: it is refused until its figures are there."""
    form = _form()["$defs"][form_name]
    return dict.fromkeys(form.get("required", ()))


def form_of(steps: Steps) -> str | None:
    """Give the name of the form that a part at a place has, or each of a list's parts."""
    at = _form_at(steps)
    reference = _reference(at) or _reference(at.get("items", {}))
    return None if reference is None else reference.rpartition("/")[2]


def is_list(steps: Steps) -> bool:
    """Tell whether a place holds parts, one after the other."""
    return _is_list_of_parts(_resolved(_form_at(steps)))


def shaped(document: Mapping[str, Any], source: str) -> dict[str, Any]:
    """Give a standard's JSON with every part that it has to have, empty where it was left out.

    Raises
    ------
    Refused
        A figure stands where a part belongs, or a part where a figure does.
    """
    return _shaped(document, _form(), (), source)


# --- the published form ---------------------------------------------------------------------


@cache
def _form() -> dict[str, Any]:
    return Standard.model_json_schema()


def _form_at(steps: Steps) -> Mapping[str, Any]:
    at: Mapping[str, Any] = _form()
    for step in steps:
        at = _resolved(at)
        at = at["properties"][step] if isinstance(step, str) else at["items"]
    return at


def _reference(form: Mapping[str, Any]) -> str | None:
    choices = [form, *form.get("anyOf", ())]
    return next((it["$ref"] for it in choices if "$ref" in it), None)


def _resolved(form: Mapping[str, Any]) -> Mapping[str, Any]:
    """Give the form itself where a reference, or one of "that or nothing", stands for it."""
    kept = [it for it in form.get("anyOf", (form,)) if it.get("type") != "null"]
    one = kept[0]
    reference = one.get("$ref")
    found = _form()["$defs"][reference.rpartition("/")[2]] if reference else one
    return {**found, **{it: form[it] for it in ("description",) if it in form}}


def _may_be_none(form: Mapping[str, Any]) -> bool:
    return any(it.get("type") == "null" for it in form.get("anyOf", ()))


def _groups(
    part: Mapping[str, Any] | None,
    form: Mapping[str, Any],
    steps: Steps,
    title: str,
    one: bool = False,  # noqa: FBT001, FBT002
) -> Iterator[Group]:
    """Yield a part's own fields, then the parts within it."""
    fields: list[Field] = []
    inner: list[Iterator[Group]] = []
    for name, of in form["properties"].items():
        value = (part or {}).get(name)
        here, words = (*steps, name), _within(title, title_of(name)[0])
        resolved = _resolved(of)
        if resolved.get("type") == "object":
            if _may_be_none(of):
                fields.append(_field(here, of, value, title))
            if value is not None or not _may_be_none(of):
                inner.append(_groups(value, resolved, here, words))
        elif _is_list_of_parts(resolved):
            fields.append(_field(here, of, value, title))
            inner += _listed(value or (), resolved, here, words)
        else:
            fields.append(_field(here, of, value, title))
    if fields:
        yield Group(title or "Title", steps, tuple(fields), one)
    for groups in inner:
        yield from groups


def _listed(
    parts: Sequence[Mapping[str, Any]], form: Mapping[str, Any], steps: Steps, title: str
) -> Iterator[Iterator[Group]]:
    of = _resolved(form["items"])
    for number, part in enumerate(parts):
        named_part = f"{title} {_told_apart(part) or number + 1}"
        yield _groups(part, of, (*steps, number), named_part, one=True)


def _shaped(part: Any, form: Mapping[str, Any], steps: Steps, source: str) -> dict[str, Any]:
    if not isinstance(part, Mapping):
        raise Refused(source, path_of(steps), "a part with names and figures belongs here")
    found = dict(part)
    for name, of in form["properties"].items():
        value, resolved, here = part.get(name), _resolved(of), (*steps, name)
        if value is None and (_may_be_none(of) or resolved.get("type") != "object"):
            continue
        if resolved.get("type") == "object":
            found[name] = _shaped({} if value is None else value, resolved, here, source)
        elif resolved.get("type") == "array":
            found[name] = _shaped_list(value, resolved, here, source)
        elif isinstance(value, Mapping | list):
            raise Refused(source, path_of(here), "one figure or word belongs here")
    return found


def _shaped_list(value: Any, form: Mapping[str, Any], steps: Steps, source: str) -> list[Any]:
    if not isinstance(value, list):
        raise Refused(source, path_of(steps), "a list belongs here")
    if not _is_list_of_parts(form):
        return value
    of = _resolved(form["items"])
    return [_shaped(one, of, (*steps, number), source) for number, one in enumerate(value)]


def _field(steps: Steps, form: Mapping[str, Any], value: Any, within: str) -> Field:
    resolved = _resolved(form)
    title, unit = title_of(str(steps[-1]))
    return Field(
        steps,
        title,
        unit,
        _kind(resolved),
        value,
        tuple(resolved.get("enum", resolved.get("items", {}).get("enum", ()))),
        _may_be_none(form),
        " ".join(str(resolved.get("description", "")).split()),
        within,
    )


def _kind(form: Mapping[str, Any]) -> Kind:
    if form.get("type") == "object":
        return "part"
    if form.get("type") == "array":
        return "list" if _is_list_of_parts(form) else "choices"
    if "enum" in form:
        return "choice"
    plain: dict[str, Kind] = {"integer": "count", "boolean": "yes or no"}
    return plain.get(form["type"], "number" if "pattern" in form else "text")


def _is_list_of_parts(form: Mapping[str, Any]) -> bool:
    return form.get("type") == "array" and "$ref" in form["items"]


def _within(outer: str, name: str) -> str:
    return f"{outer}: {in_a_row(name)}" if outer else name


def _told_apart(part: Any) -> str:
    """Give what tells a part of a list from the others; "" where nothing does."""
    if not isinstance(part, Mapping):
        return ""
    return next((str(part[it]) for it in NAMED_BY if part.get(it) is not None), "")


def _inside(part: Any, step: Step) -> Any:
    if isinstance(part, Mapping):
        return part.get(str(step))
    if isinstance(part, Sequence) and isinstance(step, int) and step < len(part):
        return part[step]
    return None
