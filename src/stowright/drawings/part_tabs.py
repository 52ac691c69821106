"""How a part's drawing tells tabs and their slots: where each begins, and its size in a note.

Both ends of every tab and slot would be a thicket of figures; one end and the note say as much.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from stowright.drawings.board import is_round, on_face, rectangle_of
from stowright.drawings.lettering import DIAMETER
from stowright.model.geometry import Point2
from stowright.model.part import Feature, Part, Tab, is_tab_slot
from stowright.units import MM_PER_INCH, Unit, format_length

__all__ = ["slot_size", "tab_corner", "tab_places", "tab_words"]

_NEAR = 0.05


def slot_size(feature: Feature, units: Unit) -> str:
    """Return a slot's size as its note says it: along u, along v, how deep from which face."""
    size = " × ".join(_exact(size, units) for size in feature.size)
    if feature.through:
        return size
    back = ", from the back" if feature.face == "back" else ""
    return f"{size} × {_exact(feature.depth, units)} deep{back}"


def _exact(mm: float, units: Unit) -> str:
    """Return a size that a fit depends on; 1/32 in would be several times the allowance."""
    return format_length(mm) if units == "mm" else f"{mm / MM_PER_INCH:.3f}"


def tab_corner(part: Part, point: Point2) -> bool:
    """Return whether a corner of the outline is one of a tab or of a slot at an edge."""
    u, v = point
    for tab in part.tabs:
        along, out = _along(part, tab, point)
        if min(abs(along - tab.start), abs(along - tab.end)) < _NEAR and out <= tab.reach + _NEAR:
            return True
    for feature in part.features:
        if is_tab_slot(feature) and on_face(feature) and not is_round(feature):
            r = rectangle_of(feature)
            if r.u0 - _NEAR <= u <= r.u1 + _NEAR and r.v0 - _NEAR <= v <= r.v1 + _NEAR:
                return True
    return False


def _along(part: Part, tab: Tab, point: Point2) -> Point2:
    """Return how far along a tab's edge a point lies, and how far from the blank's edge."""
    u, v = point
    match tab.edge:
        case "u0":
            return (v, u)
        case "u1":
            return (v, part.length - u)
        case "v0":
            return (u, v)
        case _:
            return (u, part.width - v)


def tab_places(part: Part) -> Iterator[tuple[float, float, str]]:
    """Yield where each tab begins along its edge, and its shoulder, as (u, v, what is wanted)."""
    for tab in part.tabs:
        match tab.edge:
            case "u0":
                yield tab.reach, tab.start, "uv"
            case "u1":
                yield part.length - tab.reach, tab.start, "uv"
            case "v0":
                yield tab.start, tab.reach, "uv"
            case _:
                yield tab.start, part.width - tab.reach, "uv"


def tab_words(part: Part, units: Unit) -> Iterator[str]:
    """Yield what tabs and relieved corners ask of whoever cuts the part, a sentence each."""
    if part.tabs:
        far = sorted({tab.reach for tab in part.tabs})
        long = Counter(round(tab.end - tab.start, 2) for tab in part.tabs)
        out = " and ".join(_exact(reach, units) for reach in far)
        each = ", ".join(
            f"{count} {'is' if count == 1 else 'are'} {_exact(size, units)} long"
            for size, count in sorted(long.items())
        )
        yield f"Sizes are over its tabs, which stand {out} out; located where they begin: {each}."
    if part.reliefs:
        wide = _exact(max(row.diameter for row in part.reliefs), units)
        yield f"Square inside corners are relieved for a cutter of {DIAMETER}{wide}."
