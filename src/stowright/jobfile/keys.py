"""Which keys each table of the job file knows, and the nearest known name for a slip."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from functools import cache
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from stowright.jobfile.scanner import Path
from stowright.jobfile.shape_blocks import BlockShape, ColumnShape, FillShape
from stowright.jobfile.shape_build import BuildKeys
from stowright.jobfile.shape_job import JobFile
from stowright.jobfile.shape_types import Shape

__all__ = [
    "field_text",
    "header",
    "known_keys",
    "nearest_name",
    "own_keys",
    "pattern_of",
    "shape_at",
    "tables_with",
    "walk",
]

#: A path without list places: ``("block", "columns", "stack")``.
type Pattern = tuple[str, ...]

_OVERRIDING = (BlockShape, ColumnShape, FillShape)


def field_text(path: Path) -> str:
    """Print a path as people read it, list places counted from 1: ``bay.arches[2].start``."""
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        else:
            plain = part.replace("-", "a").replace("_", "a").isalnum() and part.isascii()
            text += f".{part}" if plain else f'."{part[:60]}"'
    return text.removeprefix(".") or "file"


def pattern_of(path: Path) -> Pattern:
    """Return a path without its list places."""
    return tuple(part for part in path if isinstance(part, str))


def nearest_name(name: str, known: Iterable[str]) -> str:
    """Return the nearest known name, or an empty text when none is near."""
    folded = {each.lower().replace("_", "-"): each for each in known}
    match = get_close_matches(name.lower().replace("_", "-")[:80], folded, n=1, cutoff=0.6)
    return folded[match[0]] if match else ""


def header(pattern: Pattern) -> str:
    """Print how a table is written: ``[bay]``, ``[[block]]``."""
    if not pattern:
        return "the top of the file"
    dotted = ".".join(pattern)
    return f"[[{dotted}]]" if pattern in _tables()[1] else f"[{dotted}]"


def shape_at(pattern: Pattern) -> type[Shape] | None:
    """Return the shape of the table at a path, or None where no table is known."""
    return _tables()[0].get(pattern)


def known_keys(shape: type[Shape]) -> tuple[str, ...]:
    """Return every key that a table takes."""
    return tuple(shape.model_fields)


def own_keys(shape: type[Shape]) -> tuple[str, ...]:
    """Return the keys that belong to a table itself, not those borrowed from [build]."""
    if shape in _OVERRIDING:
        return tuple(key for key in shape.model_fields if key not in BuildKeys.model_fields)
    return tuple(shape.model_fields)


def tables_with(key: str, near: Pattern) -> tuple[Pattern, ...]:
    """Return the tables that a key belongs to, those closest to ``near`` first."""
    found = [pattern for pattern, shape in _tables()[0].items() if key in own_keys(shape)]

    def distance(pattern: Pattern) -> tuple[int, int]:
        shared = 0
        while shared < min(len(pattern), len(near)) and pattern[shared] == near[shared]:
            shared += 1
        return len(pattern) + len(near) - 2 * shared, len(pattern)

    return tuple(sorted(found, key=distance))


def walk(shape: Shape, path: Path = ()) -> Iterator[tuple[Path, Shape]]:
    """Return every table that stands in a file, with its path."""
    yield path, shape
    for key in type(shape).model_fields:
        value = getattr(shape, key)
        if isinstance(value, Shape):
            yield from walk(value, (*path, key))
        elif isinstance(value, list):
            for place, each in enumerate(value):
                if isinstance(each, Shape):
                    yield from walk(each, (*path, key, place))


@cache
def _tables() -> tuple[dict[Pattern, type[Shape]], frozenset[Pattern]]:
    """Return every table by pattern, and which of them are lists of tables."""
    found: dict[Pattern, type[Shape]] = {(): JobFile}
    lists: set[Pattern] = set()
    waiting: list[Pattern] = [()]
    while waiting:
        pattern = waiting.pop(0)
        for key, field in found[pattern].model_fields.items():
            shape, is_list = _table_in(field.annotation)
            if shape is not None:
                found[*pattern, key] = shape
                waiting.append((*pattern, key))
                if is_list:
                    lists.add((*pattern, key))
    return found, frozenset(lists)


def _table_in(annotation: Any) -> tuple[type[Shape] | None, bool]:
    """Find the table class inside an annotation, and whether a list holds it."""
    origin = get_origin(annotation)
    if origin is None:
        is_table = isinstance(annotation, type) and issubclass(annotation, Shape)
        return (annotation if is_table else None), False
    if origin is Annotated:
        return _table_in(get_args(annotation)[0])
    if origin in (UnionType, Union, list):
        for each in get_args(annotation):
            shape, is_list = _table_in(each)
            if shape is not None:
                return shape, is_list or origin is list
    return None, False
