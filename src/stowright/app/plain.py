"""Model values as plain JSON data: fixed figures, no NaN, the same text every time."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

__all__ = ["json_text", "plain", "rounded"]

#: Written figures: a nanometre is far below anything that is cut, and hides binary noise.
_DECIMALS = 6


def plain(value: Any) -> Any:
    """Return a value as JSON data: dataclasses as objects, tuples as lists, numbers rounded."""
    if isinstance(value, float):
        return rounded(value)
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): plain(entry) for key, entry in value.items()}
    if isinstance(value, list | tuple):
        return [plain(entry) for entry in value]
    return value


def rounded(value: float) -> float | None:
    """Return a number as it is written; None for one that JSON cannot hold."""
    if not math.isfinite(value):
        return None
    return round(value, _DECIMALS) + 0.0  # + 0.0 turns -0.0 into 0.0


def json_text(data: Any) -> str:
    """Return data as JSON text that ends with a line break."""
    return json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False) + "\n"
