"""The published JSON Schema of the job file, with descriptions and units."""

from __future__ import annotations

from typing import Any

from stowright.jobfile.shape_job import JobFile
from stowright.jobfile.shape_types import DEFINITIONS, Shape

__all__ = ["job_schema"]

_DIALECT = "https://json-schema.org/draft/2020-12/schema"
_MARK = "x-stowright"


def job_schema() -> dict[str, Any]:
    """Return the JSON Schema (2020-12) of the job file, format 1.

    A job file is TOML; the schema speaks of the tables that it holds. Rules between keys (a deck
    under a rail needs a rail) are checked on reading and do not show here.
    """
    raw = JobFile.model_json_schema(mode="validation")
    schema: dict[str, Any] = _tidied(raw)
    definitions = schema.pop("$defs")
    shapes = {shape.__name__: shape for shape in _every_shape(JobFile)}
    for name, table in definitions.items():
        shape = shapes.get(name)
        if shape is not None and shape.needs:
            table.update(_required(shape))
    schema["properties"]["format"] = {
        "const": 1,
        "description": JobFile.model_fields["format"].description,
    }
    return {
        "$schema": _DIALECT,
        "title": "stowright job file, format 1",
        "description": "Lengths are numbers in the job's unit or texts with a unit; masses are "
        "kilograms, forces newtons. x runs from the tail to the cab, y to the left, z up.",
        **{key: value for key, value in schema.items() if key not in ("title", "description")},
        "required": list(JobFile.needs),
        "$defs": {**{name: definitions[name] for name in sorted(definitions)}, **DEFINITIONS},
    }


def _required(shape: type[Shape]) -> dict[str, Any]:
    """Return what a table must have, or what may stand for it."""
    needs = {"required": list(shape.needs)}
    return {"anyOf": [needs, {"required": [shape.instead]}]} if shape.instead else needs


def _every_shape(root: type[Shape]) -> set[type[Shape]]:
    found = {root}
    waiting: list[type[Shape]] = list(Shape.__subclasses__())
    while waiting:
        shape = waiting.pop()
        found.add(shape)
        waiting.extend(shape.__subclasses__())
    return found


def _tidied(part: Any) -> Any:
    """Take out what only says that a key may be absent, and put in the shared definitions."""
    if isinstance(part, list):
        return [_tidied(each) for each in part]
    if not isinstance(part, dict):
        return part
    plain = {
        key: _tidied(value)
        for key, value in part.items()
        if not (key == "default" and value is None)
    }
    if _MARK in plain:
        plain["$ref"] = f"#/$defs/{plain.pop(_MARK)}"
    options = plain.get("anyOf")
    if isinstance(options, list):
        options = [option for option in options if option != {"type": "null"}]
        if len(options) == 1:
            del plain["anyOf"]
            plain = {**options[0], **plain}
        else:
            plain["anyOf"] = options
    return plain
