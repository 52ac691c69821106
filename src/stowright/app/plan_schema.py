"""The published JSON Schema of ``plan.json``: what other programs may rely on.

The contract's keys are required; further keys may stand beside them, here and in later releases.
"""

from __future__ import annotations

from typing import Any

__all__ = ["plan_schema"]

type Schema = dict[str, Any]

_TEXT: Schema = {"type": "string"}
_NUMBER: Schema = {"type": "number"}
_COUNT: Schema = {"type": "integer", "minimum": 0}
_FLAG: Schema = {"type": "boolean"}
_OBJECT: Schema = {"type": "object"}
_SIZE: Schema = {"type": "number", "exclusiveMinimum": 0}
_MASS: Schema = {"type": "number", "minimum": 0}


def plan_schema() -> Schema:
    """Return the JSON Schema (draft 2020-12) that every ``plan.json`` is valid against."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A stowright plan",
        "description": "Millimetres, kilograms, newtons. x towards the cab, y left, z up.",
        **_object(
            {
                "format": {"const": 1},
                "program": _object({"name": _TEXT, "version": _TEXT}),
                "job": _object({"title": _TEXT, "units": {"enum": ["mm", "in"]}}),
                "assumed": _list(_object({"field": _TEXT, "value": _TEXT, "why": _TEXT})),
                "warnings": _list(_TEXT),
                **_bay(),
                **_parts(),
                **_checks(),
                "cutting": _cutting(),
                **_making(),
                **_masses(),
            },
            optional={"cost": {"type": "object", "additionalProperties": _NUMBER}},
        ),
    }


def _object(needed: Schema, *, optional: Schema | None = None) -> Schema:
    return {
        "type": "object",
        "required": list(needed),
        "properties": {**needed, **(optional or {})},
    }


def _list(of: Schema, *, count: int | None = None) -> Schema:
    schema: Schema = {"type": "array", "items": of}
    return schema if count is None else schema | {"minItems": count, "maxItems": count}


def _or_null(schema: Schema) -> Schema:
    return {"anyOf": [schema, {"type": "null"}]}


_POINT: Schema = _list(_NUMBER, count=3)
_RANGE: Schema = _list(_NUMBER, count=2)
_AXES: Schema = _list(_POINT, count=3)
_PLACE: Schema = {"x": _RANGE, "y": _RANGE, "z": _RANGE}


def _bay() -> Schema:
    module = {
        "name": _TEXT,
        "width": _SIZE,
        "height": _SIZE,
        "depth": _SIZE,
        **_PLACE,
        "mass_kg": _MASS,
        "openings": _list(_opening()),
    }
    block = {
        "name": _TEXT,
        "face": {"enum": ["tail", "left", "right"]},
        **_PLACE,
        "modules": _list(_object(module)),
    }
    usable = {"block": _TEXT, **_PLACE, "what_it_costs": _list(_TEXT)}
    skew = _object({"lean": _NUMBER, "low": _NUMBER, "high": _NUMBER, "cause": _TEXT})
    return {
        "bay": _object({"skew": skew, "least_width": _SIZE, "least_length": _SIZE}),
        "usable": _list(_object(usable)),
        "blocks": _list(_object(block)),
    }


def _opening() -> Schema:
    box = {"width": _SIZE, "height": _SIZE, "length": _SIZE}
    runner = {"name": _TEXT, "length": _SIZE, "rating_kg": _MASS, "side_space": _NUMBER}
    return _object(
        {
            "name": _TEXT,
            "fill": {"enum": ["drawer", "tray", "open", "locker", "through", "blank"]},
            "at": _POINT,
            "width": _SIZE,
            "height": _SIZE,
            "depth": _SIZE,
            "sides": _object(dict.fromkeys(("left", "right", "below", "above"), _TEXT)),
            "box": _or_null(_object(box)),
            "front": _or_null(_object({"width": _SIZE, "height": _SIZE})),
            "runner": _or_null(_object(runner)),
            "extension": _or_null(_NUMBER),
            "lock": _or_null(_TEXT),
            "usable_litres": _NUMBER,
            "gross_kg": _MASS,
        }
    )


def _parts() -> Schema:
    feature = {
        "kind": _TEXT,
        "face": {"enum": ["good", "back", "u0", "u1", "v0", "v1"]},
        "at": _RANGE,
        "size": {"type": "array", "items": _SIZE, "minItems": 1, "maxItems": 2},
        "depth": _MASS,
        "purpose": _TEXT,
    }
    part = {
        "mark": _TEXT,
        "name": _TEXT,
        "block": _TEXT,
        "module": _TEXT,
        "material": _TEXT,
        "length": _SIZE,
        "width": _SIZE,
        "thickness": _SIZE,
        "quantity": {"type": "integer", "minimum": 1},
        "grain": {"enum": ["long", "free"]},
        "hand": {"enum": ["", "left", "right"]},
        "release": {"enum": ["A", "B"]},
        "waits_for": _TEXT,
        "mass_kg": _MASS,
        "edges": _list(_TEXT),
        "features": _list(_object(feature, optional={"starts": _MASS})),
    }
    tab = {
        "edge": {"enum": ["u0", "u1", "v0", "v1"]},
        "start": _NUMBER,
        "end": _NUMBER,
        "reach": _SIZE,
    }
    relief = {
        "corner": _RANGE,
        "centre": _RANGE,
        "diameter": _SIZE,
        "face": {"enum": ["good", "back"]},
        "depth": _MASS,
    }
    routed = {"tabs": _list(_object(tab)), "reliefs": _list(_object(relief))}
    placed = {"mark": _TEXT, "copy": _COUNT, "body": _TEXT, "origin": _POINT, "axes": _AXES}
    shoulders = _list(_MASS, count=4)
    return {
        "parts": _list(_object(part, optional=routed)),
        "placed": _list(_object(placed, optional={"shoulders": shoulders})),
    }


def _checks() -> Schema:
    fixing = {
        "id": _TEXT,
        "type": _TEXT,
        "length": _MASS,
        "joins": _list(_TEXT),
        "at": _POINT,
        "direction": _POINT,
        "pilot": _MASS,
    }
    demand = {
        "shear_n": _NUMBER,
        "tension_n": _or_null(_NUMBER),
        **dict.fromkeys(("shear_case", "tension_case", "rules"), _TEXT),
    }
    anchor = {
        **dict.fromkeys("xyz", _NUMBER),
        **dict.fromkeys(("surface", "thread", "plate", "existing"), _TEXT),
        "demand": _or_null(_object(demand)),
    }
    gap = {"name": _TEXT, "between": _list(_TEXT, count=2), "sum": _NUMBER, "least": _NUMBER}
    motion = {"body": _TEXT, "axis": _POINT, "travel": _NUMBER}
    line = _object({"what": _TEXT, "value": _NUMBER})
    total = {"size_of": _TEXT, "lines": _list(line), "exact": _NUMBER, "result": _NUMBER}
    return {
        "fixings": _list(_object(fixing)),
        "joints": _list(_OBJECT),
        "anchors": _list(_object(anchor)),
        "gaps": _list(_object(gap)),
        "motions": _list(_object(motion)),
        "loose": _list(_OBJECT),
        "deck_cargo": _list(_OBJECT),
        "packed": _or_null(_OBJECT),
        "refit": _or_null(_refit()),
        "sums": _list(_object(total)),
        "proofs": _list(_proof()),
    }


def _refit() -> Schema:
    size = _or_null(_list(_SIZE, count=3))
    change = {
        "mark": _TEXT,
        "name": _TEXT,
        **dict.fromkeys(("old", "new"), size),
        **dict.fromkeys(("old_quantity", "new_quantity"), _COUNT),
        **dict.fromkeys(("what", "why"), _list(_TEXT)),
    }
    frozen = {"mark": _TEXT, "stage": {"enum": ["cut", "fitted"]}, "pieces": _list(_TEXT)}
    shims = {"opening": _TEXT, "side": {"enum": ["left", "right"]}, "at": _NUMBER}
    gone = {
        **dict.fromkeys(("mark", "name", "why", "source", "words"), _TEXT),
        "pieces": _list(_TEXT),
        "way": {"enum": ["trim", "shim", "recut"]},
        "size": _list(_NUMBER, count=2),
        "new_parts": _COUNT,
    }
    drilled = {"mark": _TEXT, **dict.fromkeys(("drill", "fill", "widen"), _list(_OBJECT))}
    return _object(
        {
            "changes": _list(_object(change)),
            "reasons": _list(_TEXT),
            "shims": _list(_object({**shims, "shims": _list(_SIZE)})),
            "no_longer": _list(_object(gone)),
            "frozen": _list(_object({**frozen, "length": _SIZE, "width": _SIZE})),
            "redrills": _list(_object(drilled)),
            "as_built": _list(_OBJECT),
            "open": _list(_TEXT),
            "so_far": _or_null(_so_far()),
        }
    )


def _so_far() -> Schema:
    sheet = {**dict.fromkeys(("id", "sheet", "material"), _TEXT), "length": _SIZE, "width": _SIZE}
    gone = _list(_list(_NUMBER, count=4))
    offcut: Schema = {
        "type": "array",
        "prefixItems": [_TEXT, *[_NUMBER] * 4],
        "minItems": 5,
        "maxItems": 5,
    }
    return _object(
        {
            "parts": _list(_OBJECT),
            "entries": _OBJECT,
            "pieces": _OBJECT,
            "covers": _OBJECT,
            "sheets": _list(_object({**sheet, "gone": gone, "offcuts": _list(offcut)})),
        }
    )


def _proof() -> Schema:
    texts = dict.fromkeys(("id", "title", "about", "unit", "basis", "source"), _TEXT)
    figures = dict.fromkeys(("demand", "capacity", "utilisation"), _or_null(_NUMBER))
    return _object(
        {
            **texts,
            **figures,
            "kind": {"enum": ["ratio", "clearance", "chance", "complete"]},
            "status": {"enum": ["pass", "warn", "fail", "not proved"]},
            "factor": _NUMBER,
            "standing": {"enum": ["published", "common practice", "from memory", "assumed"]},
            "working": _list(_TEXT),
            "advice": _list(_TEXT),
            "assumed": _list(_TEXT),
        }
    )


def _cutting() -> Schema:
    stock = {"sheet": _TEXT, "width": _SIZE, "length": _SIZE, "origin": _TEXT}
    lying = dict.fromkeys(("x", "y"), _NUMBER) | dict.fromkeys(("along", "across"), _SIZE)
    cut = {
        "order": {"type": "integer", "minimum": 1},
        "axis": {"enum": ["x", "y"]},
        **dict.fromkeys(("at", "start", "end"), _NUMBER),
        "leaves": _list(_OBJECT),
    }
    layout = {
        "sheet": _TEXT,
        "copies": {"type": "integer", "minimum": 1},
        "kerf": _MASS,
        "trim": _MASS,
        "pieces": _list(_object({"mark": _TEXT, **lying, "turned": _FLAG})),
        "cuts": _list(_object(cut)),
        "offcuts": _list(_object({"along": _NUMBER, "across": _NUMBER, "keep": _FLAG})),
    }
    return _object(
        {
            "stock": _list(_object(stock)),
            "layouts": _list(_object(layout)),
            **dict.fromkeys(("sheets", "lower_bound", "saw_lines", "settings"), _COUNT),
            "proved_least": _FLAG,
            "cut_metres": _MASS,
        }
    )


def _making() -> Schema:
    row = {
        "kind": _TEXT,
        "name": _TEXT,
        "quantity": _MASS,
        "spare": _MASS,
        "packs": _list(_COUNT, count=2),
        "used_for": _list(_TEXT),
    }
    hold_point = {
        "what": _TEXT,
        **dict.fromkeys(("least", "most"), _or_null(_NUMBER)),
        "otherwise": _TEXT,
        "reads": {"enum": ["", "thickness", "bay"]},
    }
    step = {
        "number": {"type": "integer", "minimum": 1},
        "stage": _TEXT,
        "title": _TEXT,
        "parts": _list(_OBJECT),
        "fixings": _list(_OBJECT),
        "tools": _list(_TEXT),
        "text": _list(_TEXT),
        "figure": _TEXT,
        "hold_point": _or_null(_object(hold_point)),
    }
    return {
        "schedule": _list(_object(row)),
        "steps": _list(_object(step)),
        "cautions": _list(_TEXT),
    }


def _masses() -> Schema:
    axles = _object(dict.fromkeys(("front_axle", "rear_axle", "total"), _NUMBER))
    margins = _object(dict.fromkeys(("front_axle", "rear_axle", "total"), _or_null(_NUMBER)))
    mass = {
        **dict.fromkeys(("empty_kg", "contents_kg", "gross_kg"), _MASS),
        "centre": _object(dict.fromkeys("xyz", _NUMBER)),
        "heaviest_module": _or_null(_object({"block": _TEXT, "module": _TEXT, "mass_kg": _MASS})),
    }
    vehicle = {
        **dict.fromkeys(("front_axle", "rear_axle", "total"), _NUMBER),
        "margins": margins,
        "before": axles,
        "after": axles,
        "unit_change": axles,
        "case_margins": margins,
        "steering_share": _NUMBER,
        "centre_height": _object(dict.fromkeys(("unit", "before", "after"), _or_null(_NUMBER))),
        "cases": _list(_object({"name": _TEXT, "items": _list(_OBJECT)})),
    }
    return {"mass": _object(mass), "vehicle": _or_null(_object(vehicle))}
