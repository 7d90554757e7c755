"""The published form of everything that is written down: JSON Schema, draft 2020-12.

`lastrow schema` writes it into a folder, and `schemas/published/` holds what it writes. It is
made from the models alone, so that it says exactly what a file is refused for.
"""

import ast
import inspect
import json
from collections.abc import Iterator, Mapping
from typing import Any, Final

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaMode, JsonSchemaValue
from pydantic_core import core_schema

from schemas.bodies import BODIES
from schemas.bundle import Bundle
from schemas.envelope import LARGEST_SCHEMA, MOST_PARENTS, PATTERNS
from schemas.findings import Assessment
from schemas.taps import Measurement, Taps

DRAFT: Final = "https://json-schema.org/draft/2020-12/schema"
VERSION: Final = 1


def published() -> dict[str, bytes]:
    """Give every schema as the bytes of a file, under the name of the file."""
    files = {"entry": _entry()}
    files |= {kind: _of_model(kind, model) for kind, model in BODIES.items()}
    files["bundle"] = _of_model("bundle", Bundle)
    files["assessment"] = _of_model("assessment", Assessment, mode="serialization")
    files["taps"] = _of_model("taps", Taps)
    files["measurement"] = _of_model("measurement", Measurement, mode="serialization")
    return {f"{name}.json": _written(schema) for name, schema in sorted(files.items())}


def described(name: str, model: type[BaseModel]) -> bytes:
    """Give the schema of what a model is written as, as the bytes of a file."""
    return _written(_of_model(name, model, mode="serialization"))


def urn(name: str) -> str:
    """Give the name by which a schema is known: it stands in no place on any network."""
    return f"urn:lastrow:schema:{name}:{VERSION}"


class _InOurWords(GenerateJsonSchema):
    """Describes each field by the sentence that stands under it in the model."""

    def field_title_should_be_set(self, schema: object) -> bool:  # noqa: ARG002
        """Set none: the name is the title."""
        return False

    def model_schema(self, schema: core_schema.ModelSchema) -> JsonSchemaValue:
        """Add what is said of each field."""
        written = super().model_schema(schema)
        for name, sentence in _sentences(schema["cls"]).items():
            written["properties"][name].setdefault("description", sentence)
        return written


def _of_model(
    name: str, model: type[BaseModel], *, mode: JsonSchemaMode = "validation"
) -> JsonSchemaValue:
    schema = model.model_json_schema(schema_generator=_InOurWords, mode=mode)
    return {"$schema": DRAFT, "$id": urn(name), **schema}


def _entry() -> dict[str, Any]:
    """Describe the envelope; the body is described by the schema of its kind."""
    form = {name: {"type": "string", "pattern": f"^{form}$"} for name, form in PATTERNS.items()}
    properties = {
        "kind": form["kind"],
        "schema": {"type": "integer", "minimum": 1, "maximum": LARGEST_SCHEMA},
        "must": _several(form["feature"]),
        "id": form["id"],
        "parents": _several(form["revision"]),
        "author": form["author"],
        "made_at": form["made_at"],
        "zone": form["zone"],
        "clock": form["clock"],
        "body": {"type": "object"},
    }
    return {
        "$schema": DRAFT,
        "$id": urn("entry"),
        "title": "Entry",
        "description": "What a person stated: one line of canonical JSON that never changes.",
        "type": "object",
        "properties": properties,
        "required": sorted(properties),
        "allOf": [_when_of_kind(kind) for kind in sorted(BODIES)],
    }


def _when_of_kind(kind: str) -> dict[str, Any]:
    fields = {"kind": {"const": kind}, "schema": {"const": VERSION}}
    is_it = {"properties": fields, "required": sorted(fields)}
    return {"if": is_it, "then": {"properties": {"body": {"$ref": urn(kind)}}}}


def _several(item: Mapping[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": item, "maxItems": MOST_PARENTS, "uniqueItems": True}


def _written(schema: Mapping[str, Any]) -> bytes:
    text = json.dumps(schema, indent=2, ensure_ascii=False)
    return (text + "\n").encode()


def _sentences(model: type[BaseModel]) -> dict[str, str]:
    """Give what stands under each field, in the model or in what it is made from."""
    made_from = (it for it in reversed(model.__mro__) if it is not BaseModel)
    models = [it for it in made_from if issubclass(it, BaseModel)]
    trees = [ast.parse(inspect.getsource(it)) for it in models]
    return {name: said for tree in trees for name, said in _under_fields(tree.body[0])}


def _under_fields(model: ast.stmt) -> Iterator[tuple[str, str]]:
    """Yield each field of a class with the text that stands under it."""
    assert isinstance(model, ast.ClassDef)  # noqa: S101 - the source of a class is a class
    for field, below in zip(model.body, model.body[1:], strict=False):
        if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name):
            text = ast.unparse(below) if isinstance(below, ast.Expr) else "None"
            sentence = ast.literal_eval(text)
            if isinstance(sentence, str):
                yield field.target.id, " ".join(sentence.split())
