"""What plans of places share: the bay and the modules on its floor, seen from above."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.drawings.bay_lines import plan_bay
from stowright.drawings.ortho import Sight
from stowright.drawings.scene import Item, Polyline
from stowright.model.design import Design
from stowright.model.geometry import Point2, Point3

__all__ = ["FROM_ABOVE", "bay_outline", "from_above", "module_outlines"]

#: Seen from above, the tail below.
FROM_ABOVE = Sight(right=(0.0, -1.0, 0.0), up=(1.0, 0.0, 0.0), look=(0.0, 0.0, -1.0))


def from_above(point: Point3, scale: float) -> Point2:
    """Return a point of the bay on paper, about the bay's origin. [mm]."""
    x, y = FROM_ABOVE.flat(point)
    return (x * scale, y * scale)


def bay_outline(design: Design, scale: float) -> list[Item]:
    """Return the floor's outline and the arches; the open tailgate is left out."""
    return [
        item
        for item in plan_bay(design.job.bay, lambda point: from_above(point, scale))
        if not (isinstance(item, Polyline) and item.pen == "phantom")
    ]


def module_outlines(design: Design, scale: float) -> Iterator[Item]:
    """Yield the footprint of each module."""
    for block in design.blocks:
        for module in block.modules:
            x, y = module.box.x, module.box.y
            corners = ((x.low, y.low), (x.high, y.low), (x.high, y.high), (x.low, y.high))
            ring = tuple(from_above((a, b, 0.0), scale) for a, b in corners)
            yield Polyline(points=ring, closed=True, pen="phantom")
