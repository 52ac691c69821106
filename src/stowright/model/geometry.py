"""Plain geometry values in the bay's axes.

Axes (as ISO 8855 orients a vehicle): x towards the cab, y to the left, z up. Origin on the load
floor at the top of its ribs, on the centre line, at the inner face of the shut tailgate or doors.
All lengths are millimetres.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["AXES", "Axes3", "Box", "Point2", "Point3", "Span", "lies_in"]

type Point2 = tuple[float, float]
type Point3 = tuple[float, float, float]
#: Three unit vectors: where a part's length, width and good-face normal point in the bay.
type Axes3 = tuple[Point3, Point3, Point3]

AXES: tuple[str, str, str] = ("x", "y", "z")


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A closed range on one axis. [mm]."""

    low: float
    high: float

    @property
    def size(self) -> float:
        """Length of the range; negative when it is empty. [mm]."""
        return self.high - self.low

    @property
    def middle(self) -> float:
        """Middle of the range. [mm]."""
        return (self.low + self.high) / 2.0

    def overlap(self, other: Span) -> float:
        """Length shared with another range; negative is the gap between them. [mm]."""
        return min(self.high, other.high) - max(self.low, other.low)


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """An axis-aligned box in the bay. [mm]."""

    x: Span
    y: Span
    z: Span

    @property
    def size(self) -> Point3:
        """Extent along x, y and z. [mm]."""
        return (self.x.size, self.y.size, self.z.size)

    @property
    def centre(self) -> Point3:
        """Middle of the box. [mm]."""
        return (self.x.middle, self.y.middle, self.z.middle)

    @property
    def litres(self) -> float:
        """Volume. [litre]."""
        return self.x.size * self.y.size * self.z.size / 1.0e6

    def overlap(self, other: Box) -> float:
        """Least overlap over the three axes; above zero when the boxes interpenetrate. [mm]."""
        return min(self.x.overlap(other.x), self.y.overlap(other.y), self.z.overlap(other.z))

    def moved(self, *, x: float = 0.0, y: float = 0.0, z: float = 0.0) -> Box:
        """Return the box shifted by a vector. [mm]."""
        return Box(
            x=Span(low=self.x.low + x, high=self.x.high + x),
            y=Span(low=self.y.low + y, high=self.y.high + y),
            z=Span(low=self.z.low + z, high=self.z.high + z),
        )


def lies_in(ring: tuple[Point2, ...], point: Point2) -> bool:
    """Return whether a point lies inside a ring (even-odd rule)."""
    x, y = point
    inside = False
    for (x0, y0), (x1, y1) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (y0 <= y) != (y1 <= y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            inside = not inside
    return inside
