"""From the shape of ``[build]`` and its overrides to one resolved Build for each body."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from stowright.jobfile.scanner import Path
from stowright.jobfile.shape_build import (
    BuildKeys,
    LiningShape,
    PackersShape,
    RunnerFactorsShape,
)
from stowright.jobfile.taking import NOT_SAID, USUAL, Taker
from stowright.model.job import Build, Packers, RunnerFactors, RunnerStated

__all__ = ["LENGTH_KEYS", "PLAIN_KEYS", "build_of", "overridden"]

_NESTED = ("packers", "lining", "handle_projection", "runner_factors", "runner_stated")
_FACTORS = tuple(field.name for field in fields(RunnerFactors))
_STATED = tuple(field.name for field in fields(RunnerStated))
#: Keys of [build] that hold one value, under the same name in file and model.
PLAIN_KEYS = tuple(field.name for field in fields(Build) if field.name not in _NESTED)
#: Those of them that are lengths.
LENGTH_KEYS = frozenset(
    key
    for key in PLAIN_KEYS
    if isinstance(getattr(Build(), key), float) or key in ("joint_depth", "lap", "fit_allowance")
)
_ZEROS = ("runner_up", "lining", "handle")


def build_of(shape: BuildKeys, taker: Taker) -> Build:
    """Return the job's own Build, each default noted."""
    given = overridden(shape, Build())
    default = Build()
    for key in PLAIN_KEYS:
        value = getattr(default, key)
        if getattr(shape, key) is None and value is not None:
            _note(("build", key), value, taker, is_length=key in LENGTH_KEYS)
    packers, lining = shape.packers or PackersShape(), shape.lining or LiningShape()
    for key in ("how", "sheet"):
        if getattr(packers, key) is None:
            _note(("build", "packers", key), getattr(default.packers, key), taker)
    for key in ("drawer", "carcass", "bay"):
        if getattr(lining, key) is None:
            _note(("build", "lining", key), 0.0, taker, is_length=True)
    factors = shape.runner_factors or RunnerFactorsShape()
    for key in _FACTORS:
        if getattr(factors, key) is None:
            _note(("build", "runner_factors", key), getattr(default.runner_factors, key), taker)
    if shape.handle is None or shape.handle.projection is None:
        _note(("build", "handle", "projection"), 0.0, taker, is_length=True)
    return given


def overridden(shape: BuildKeys, parent: Build) -> Build:
    """Return the parent's Build with every key that a table writes itself laid over it."""
    changes: dict[str, Any] = {
        key: value for key in PLAIN_KEYS if (value := getattr(shape, key)) is not None
    }
    if shape.packers is not None:
        how, sheet = shape.packers.how, shape.packers.sheet
        changes["packers"] = Packers(
            how=parent.packers.how if how is None else how,
            sheet=parent.packers.sheet if sheet is None else sheet,
        )
    if shape.lining is not None:
        given = {
            key: value
            for key in ("drawer", "carcass", "bay")
            if (value := getattr(shape.lining, key)) is not None
        }
        changes["lining"] = replace(parent.lining, **given)
    if shape.runner_factors is not None:
        said = {
            key: value
            for key in _FACTORS
            if (value := getattr(shape.runner_factors, key)) is not None
        }
        changes["runner_factors"] = replace(parent.runner_factors, **said)
    if shape.runner_stated is not None:
        known = {
            key: value
            for key in _STATED
            if (value := getattr(shape.runner_stated, key)) is not None
        }
        changes["runner_stated"] = replace(parent.runner_stated, **known)
    if shape.handle is not None and shape.handle.projection is not None:
        changes["handle_projection"] = shape.handle.projection
    return replace(parent, **changes) if changes else parent


def _note(path: Path, value: Any, taker: Taker, *, is_length: bool = False) -> None:
    why = NOT_SAID if path[1] in _ZEROS else USUAL
    if is_length:
        taker.length(path, None, value, why)
    else:
        taker.take(path, None, value, why)
