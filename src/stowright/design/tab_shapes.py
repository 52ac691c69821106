"""From shoulders to blanks: pieces with tabs grow by them, slots at an edge become notches.

Everything else in this room sees a piece from shoulder to shoulder, as if its joints were butt
joints; here, after the last fixing, its frame moves out to the corner of its blank.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from stowright.design.pieces import Piece
from stowright.model.geometry import Point2
from stowright.model.part import EDGES, Edge, Feature, Relief, Tab

__all__ = ["finished", "reaches"]

type _Step = tuple[float, float, float]

_EPS = 1.0e-6
_NO_REACH = (0.0, 0.0, 0.0, 0.0)


def reaches(tabs: tuple[Tab, ...]) -> tuple[float, float, float, float]:
    """Return how far tabs stand out at the u0, u1, v0 and v1 edges. [mm]."""
    if not tabs:
        return _NO_REACH
    found = dict.fromkeys(EDGES, 0.0)
    for tab in tabs:
        found[tab.edge] = max(found[tab.edge], tab.reach)
    return (found["u0"], found["u1"], found["v0"], found["v1"])


def finished(pieces: Iterable[Piece]) -> tuple[Piece, ...]:
    """Return the pieces as they are cut: tabs and open slots in their outlines."""
    return tuple(_finished(piece) for piece in pieces)


def _finished(piece: Piece) -> Piece:
    if piece.outline or not (piece.tabs or any(map(_is_open, piece.features))):
        return piece
    steps = _steps(piece)
    if not any(steps.values()):
        return piece
    u0, u1, v0, v1 = reaches(piece.tabs)
    outline = tuple(
        (round(u + u0, 6), round(v + v0, 6)) for u, v in _walk(piece.length, piece.width, steps)
    )
    if not piece.tabs:
        return replace(piece, outline=outline)
    x, y, z = (
        round(o - u0 * a - v0 * b, 6)
        for o, a, b in zip(piece.origin, piece.axes[0], piece.axes[1], strict=True)
    )
    by = (u0, v0)
    return replace(
        piece,
        origin=(x, y, z),
        length=round(piece.length + u0 + u1, 6),
        width=round(piece.width + v0 + v1, 6),
        outline=outline,
        features=tuple(_moved(f, by, (u0, u1, v0, v1)) for f in piece.features),
        tabs=tuple(_tab_moved(tab, by) for tab in piece.tabs),
        reliefs=tuple(_relief_moved(row, by) for row in piece.reliefs),
    )


def _steps(piece: Piece) -> dict[Edge, list[_Step]]:
    """Return tabs (outward) and open slots (inward) along each edge: from, to, how far in."""
    found: dict[Edge, list[_Step]] = {edge: [] for edge in EDGES}
    for tab in piece.tabs:
        found[tab.edge].append((tab.start, tab.end, -tab.reach))
    for slot in piece.features:
        if _is_open(slot):
            edge = _open_at(slot, piece)
            if edge is not None:
                first = 1 if edge in {"u0", "u1"} else 0
                start = slot.at[first]
                found[edge].append((start, start + slot.size[first], slot.size[1 - first]))
    return {edge: sorted(steps) for edge, steps in found.items()}


def _is_open(slot: Feature) -> bool:
    """Whether it is a slot right through, which is open where it meets an edge."""
    return slot.kind == "slot" and slot.through and len(slot.size) == 2


def _open_at(slot: Feature, piece: Piece) -> Edge | None:
    (u, v), (along, across) = slot.at, (slot.size[0], slot.size[1])
    if u <= _EPS:
        return "u0"
    if u + along >= piece.length - _EPS:
        return "u1"
    if v <= _EPS:
        return "v0"
    return "v1" if v + across >= piece.width - _EPS else None


def _walk(length: float, width: float, steps: dict[Edge, list[_Step]]) -> list[Point2]:
    """Return the contour of a rectangle with steps in its edges, counter-clockwise."""
    found: list[Point2] = [(0.0, 0.0)]
    for a, b, deep in steps["v0"]:
        found += [(a, 0.0), (a, deep), (b, deep), (b, 0.0)]
    found.append((length, 0.0))
    for a, b, deep in steps["u1"]:
        found += [(length, a), (length - deep, a), (length - deep, b), (length, b)]
    found.append((length, width))
    for a, b, deep in reversed(steps["v1"]):
        found += [(b, width), (b, width - deep), (a, width - deep), (a, width)]
    found.append((0.0, width))
    for a, b, deep in reversed(steps["u0"]):
        found += [(0.0, b), (deep, b), (deep, a), (0.0, a)]
    return found


def _moved(feature: Feature, by: Point2, out: tuple[float, float, float, float]) -> Feature:
    """Return a feature in the blank's frame; one in an edge begins at the shoulder."""
    a, b = feature.at
    match feature.face:
        case "u0" | "u1":
            starts = out[0] if feature.face == "u0" else out[1]
            return replace(feature, at=(round(a + by[1], 6), b), starts=starts)
        case "v0" | "v1":
            starts = out[2] if feature.face == "v0" else out[3]
            return replace(feature, at=(round(a + by[0], 6), b), starts=starts)
        case _:
            return replace(feature, at=(round(a + by[0], 6), round(b + by[1], 6)))


def _tab_moved(tab: Tab, by: Point2) -> Tab:
    along = by[1] if tab.edge in {"u0", "u1"} else by[0]
    return replace(tab, start=round(tab.start + along, 6), end=round(tab.end + along, 6))


def _relief_moved(row: Relief, by: Point2) -> Relief:
    (a, b), (c, d) = row.corner, row.centre
    return replace(
        row,
        corner=(round(a + by[0], 6), round(b + by[1], 6)),
        centre=(round(c + by[0], 6), round(d + by[1], 6)),
    )
