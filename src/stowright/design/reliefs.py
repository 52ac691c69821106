"""Round cuts that clear inside corners for a round cutter, so that square parts seat in them.

At a slot's corner the cut lies across the corner and takes least; where a slot is too narrow for
that, it lies in the slot's long side. At a tab's root it lies in the shoulder, so that the tab
keeps its whole width. Each cut's rim passes through the corner that it clears.
"""

from __future__ import annotations

from math import sqrt
from typing import Literal

from stowright.model.geometry import Point2
from stowright.model.part import Edge, Relief, Tab

__all__ = ["root_reliefs", "slot_reliefs", "slot_takes"]

_EPS = 1.0e-6


def slot_takes(cutter: float, *, width: float, length: float) -> bool:
    """Say whether a cutter goes into a slot and clears its corners without meeting itself."""
    if width < cutter + _EPS:
        return False
    return _across(cutter, width) or length >= 2.0 * cutter


def _across(cutter: float, width: float) -> bool:
    """Whether two cuts across the corners of a short side leave some of it between them."""
    return width >= sqrt(2.0) * cutter + 0.5


def slot_reliefs(
    low: Point2,
    high: Point2,
    *,
    size: Point2,
    cutter: float,
    face: Literal["good", "back"] = "good",
    depth: float = 0.0,
    through: bool = True,
) -> tuple[Relief, ...]:
    """Return the reliefs of a slot's corners that lie inside a part.

    Args:
        low: The slot's lower corner.
        high: Its upper corner.
        size: Length and width of the part: corners on its edges need none.
        cutter: Diameter of the cutter, 0 for none. [mm]
        face: The face the slot is made from.
        depth: How deep it is. [mm]
        through: Whether it goes right through.
    """
    if not cutter > 0.0:
        return ()
    r = cutter / 2.0
    wide, tall = high[0] - low[0], high[1] - low[1]
    found = []
    for u, du in ((low[0], 1.0), (high[0], -1.0)):
        for v, dv in ((low[1], 1.0), (high[1], -1.0)):
            if not (_EPS < u < size[0] - _EPS and _EPS < v < size[1] - _EPS):
                continue
            if _across(cutter, min(wide, tall)):
                by = (r / sqrt(2.0) * du, r / sqrt(2.0) * dv)
            else:
                by = (r * du, 0.0) if wide >= tall else (0.0, r * dv)
            found.append(
                Relief(
                    corner=(u, v),
                    centre=(round(u + by[0], 6), round(v + by[1], 6)),
                    diameter=cutter,
                    face=face,
                    depth=depth,
                    through=through,
                )
            )
    return tuple(found)


def root_reliefs(tab: Tab, *, size: Point2, cutter: float) -> tuple[Relief, ...]:
    """Return the reliefs at a tab's two roots, in a part that ends at its shoulders.

    Args:
        tab: The tab.
        size: Length and width of the part from shoulder to shoulder.
        cutter: Diameter of the cutter, 0 for none. [mm]
    """
    if not cutter > 0.0:
        return ()
    r = cutter / 2.0
    return tuple(
        Relief(
            corner=_on_edge(tab.edge, at, size),
            centre=_on_edge(tab.edge, at + away * r, size),
            diameter=cutter,
        )
        for at, away in ((tab.start, -1.0), (tab.end, 1.0))
    )


def _on_edge(edge: Edge, along: float, size: Point2) -> Point2:
    match edge:
        case "u0":
            return (0.0, round(along, 6))
        case "u1":
            return (size[0], round(along, 6))
        case "v0":
            return (round(along, 6), 0.0)
        case _:
            return (round(along, 6), size[1])
