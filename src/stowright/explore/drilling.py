"""In words, what a cut part needs beyond the holes that it has."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal

from stowright.model.part import Feature
from stowright.model.refit import Redrill, Refit
from stowright.units import format_length

__all__ = ["drilling_words"]

type Unit = Literal["mm", "in"]

_FACES = {
    "good": "good face",
    "back": "back face",
    "u0": "edge at the origin end",
    "u1": "edge at the far end",
    "v0": "lower edge",
    "v1": "upper edge",
}


def drilling_words(refit: Refit, units: Unit) -> tuple[str, ...]:
    """Return a line for each cut part and purpose: new holes, old ones to fill, what to widen."""
    lines = [line for row in refit.redrills if not row.lost for line in _lines(row, units)]
    return tuple(dict.fromkeys(lines))


type _Group = tuple[str, str, tuple[float, ...]]


def _alike(holes: Iterable[Feature]) -> dict[_Group, list[Feature]]:
    groups: dict[_Group, list[Feature]] = {}
    for hole in holes:
        groups.setdefault((hole.purpose, hole.face, hole.size), []).append(hole)
    return groups


def _lines(row: Redrill, units: Unit) -> Iterator[str]:
    for (purpose, face, _), holes in _alike(row.deepen).items():
        many = "a hole" if len(holes) == 1 else f"{len(holes)} holes"
        how = "through" if holes[0].through else f"deeper, to {_length(holes[0].depth, units)}"
        yield (
            f"{row.mark} {row.name}: drill {many} {how} in its {_FACES[face]} at "
            f"{_places(holes, units)} ({purpose})"
        )
    for (purpose, face, size), holes in _alike(row.drill).items():
        many = "a new hole" if len(holes) == 1 else f"{len(holes)} new holes"
        across = format_length(size[0], units, with_unit=True, decimal=units == "in")
        deep = "" if holes[0].through else f", {_length(holes[0].depth, units)} deep"
        yield (
            f"{row.mark} {row.name}: drill {many} of {across}{deep} in its {_FACES[face]} at "
            f"{_places(holes, units)} ({purpose})"
        )
    if row.fill:
        ones = "the old one" if len(row.fill) == 1 else "the old ones"
        yield f"{row.mark} {row.name}: fill {ones} at {_places(row.fill, units)} first, with glue"
    for wide in row.widen:
        size_ = " × ".join(_length(value, units) for value in wide.size)
        yield (
            f"{row.mark} {row.name}: widen the {wide.kind} at {_places((wide,), units)} to {size_} "
            f"({wide.purpose})"
        )


def _length(value: float, units: Unit) -> str:
    return format_length(value, units, with_unit=True)


def _places(holes: Iterable[Feature], units: Unit) -> str:
    """Return where holes stand: along and across from the part's origin."""
    return "; ".join(
        f"{format_length(hole.at[0], units)} × {_length(hole.at[1], units)}" for hole in holes
    )
