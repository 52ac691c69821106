"""A block's own frame: across (to the right as you look at its face), into the block, up.

The maker modules work in (across, depth, up) from the block's lower left corner at the face and
never ask which way the block faces.
"""

from __future__ import annotations

from dataclasses import dataclass

from stowright.model.bay import Face
from stowright.model.geometry import Axes3, Box, Point3, Span

__all__ = ["BAY_FRAME", "BlockFrame", "frame_of"]

#: Where across, depth and up point in the bay, by the face the block opens to.
_AXES: dict[str, Axes3] = {
    "tail": ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
    "left": ((-1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0)),
    "right": ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockFrame:
    """The corner at the face, lowest, leftmost as you look at it, and the three directions."""

    origin: Point3
    axes: Axes3

    def point(self, *, across: float, depth: float, up: float) -> Point3:
        """Return the bay coordinates of a point of the block."""
        a, d, h = self.axes
        ox, oy, oz = self.origin
        return (
            ox + across * a[0] + depth * d[0] + up * h[0],
            oy + across * a[1] + depth * d[1] + up * h[1],
            oz + across * a[2] + depth * d[2] + up * h[2],
        )

    def box(self, *, across: Span, depth: Span, up: Span) -> Box:
        """Return the bay box of a box of the block."""
        one = self.point(across=across.low, depth=depth.low, up=up.low)
        two = self.point(across=across.high, depth=depth.high, up=up.high)
        return Box(
            x=Span(low=min(one[0], two[0]), high=max(one[0], two[0])),
            y=Span(low=min(one[1], two[1]), high=max(one[1], two[1])),
            z=Span(low=min(one[2], two[2]), high=max(one[2], two[2])),
        )


#: The bay's own axes as a frame: across = x, depth = y, up = z.
BAY_FRAME = BlockFrame(
    origin=(0.0, 0.0, 0.0), axes=((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
)


def frame_of(face: Face, box: Box) -> BlockFrame:
    """Return the frame of a block that fills ``box`` and opens to ``face``."""
    corner: Point3
    if face == "tail":
        corner = (box.x.low, box.y.high, box.z.low)
    elif face == "left":
        corner = (box.x.high, box.y.high, box.z.low)
    else:
        corner = (box.x.low, box.y.low, box.z.low)
    return BlockFrame(origin=corner, axes=_AXES[face])
