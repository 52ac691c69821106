"""Screws, bolts, nuts, washers and plates as a section shows them, from their catalogue sizes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stowright.drawings.ortho import Sight
from stowright.drawings.scene import Item, Line, Region
from stowright.model.catalogue import Bolt, Catalogue, Nut, Screw, Washer
from stowright.model.geometry import Point2
from stowright.model.part import PlacedFixing

__all__ = ["fixing_items", "lies_in_plane"]

#: A fixing whose middle is no further than this from the plane is drawn in it. [mm]
_NEAR = 4.0


@dataclass(frozen=True, slots=True)
class _Along:
    """Points along a fixing's axis and across it, on paper."""

    start: Point2
    way: Point2
    scale: float

    def at(self, along: float, across: float) -> Point2:
        (x, y), (dx, dy) = self.start, self.way
        return (
            (x + along * dx - across * dy) * self.scale,
            (y + along * dy + across * dx) * self.scale,
        )

    def box(self, low: float, high: float, width: float) -> tuple[Point2, ...]:
        half = width / 2.0
        return (
            self.at(low, -half),
            self.at(high, -half),
            self.at(high, half),
            self.at(low, half),
        )


def lies_in_plane(fixing: PlacedFixing, sight: Sight, depth: float) -> bool:
    """Return whether a fixing runs in the plane of a section."""
    across = abs(sight.depth(fixing.direction))
    return across < 0.01 and abs(sight.depth(fixing.at) - depth) <= _NEAR


def fixing_items(
    fixing: PlacedFixing, catalogue: Catalogue, sight: Sight, scale: float
) -> Iterator[Item]:
    """Yield a fixing's outline; nothing for one whose row is not known."""
    row = _row(fixing.type, catalogue)
    along = _Along(sight.flat(fixing.at), sight.flat(fixing.direction), scale)
    if isinstance(row, Screw):
        yield from _screw(row, fixing.length, along)
    elif isinstance(row, Bolt):
        yield from _bolt(row, fixing.length, along)
    elif isinstance(row, Nut):
        yield _metal(along.box(0.0, row.height, row.across_flats))
    elif isinstance(row, Washer):
        yield _metal(along.box(0.0, row.thickness, row.outside))


def _row(name: str, catalogue: Catalogue) -> Screw | Bolt | Nut | Washer | None:
    rows: tuple[Screw | Bolt | Nut | Washer, ...] = (
        *catalogue.screws,
        *catalogue.bolts,
        *catalogue.nuts,
        *catalogue.washers,
    )
    return next((row for row in rows if row.name == name), None)


def _screw(row: Screw, length: float, along: _Along) -> Iterator[Item]:
    """Yield a screw: a countersunk head lies in the surface, any other on it."""
    tip = min(row.diameter, length / 3.0)
    if row.kind == "countersunk":
        sink = max((row.head - row.diameter) / 2.0, 0.1)
        yield _metal(
            (
                along.at(0.0, -row.head / 2.0),
                along.at(sink, -row.diameter / 2.0),
                along.at(sink, row.diameter / 2.0),
                along.at(0.0, row.head / 2.0),
            )
        )
        start = sink
    else:
        yield _metal(along.box(-max(row.head_height, 1.0), 0.0, row.head))
        start = 0.0
    half = row.diameter / 2.0
    yield _metal(
        (
            along.at(start, -half),
            along.at(length - tip, -half),
            along.at(length, 0.0),
            along.at(length - tip, half),
            along.at(start, half),
        )
    )
    yield Line(start=along.at(-3.0, 0.0), end=along.at(length + 2.0, 0.0), pen="centre")


def _bolt(row: Bolt, length: float, along: _Along) -> Iterator[Item]:
    if row.head == "countersunk":
        sink = max((row.across_flats - row.diameter) / 2.0, 0.1)
        yield _metal(
            (
                along.at(0.0, -row.diameter / 2.0 - sink),
                along.at(sink, -row.diameter / 2.0),
                along.at(sink, row.diameter / 2.0),
                along.at(0.0, row.diameter / 2.0 + sink),
            )
        )
    else:
        yield _metal(along.box(-row.head_height, 0.0, row.across_flats))
    yield _metal(along.box(0.0, length, row.diameter))
    low, high = along.at(-row.head_height - 3.0, 0.0), along.at(length + 3.0, 0.0)
    yield Line(start=low, end=high, pen="centre")


def _metal(corners: tuple[Point2, ...]) -> Region:
    return Region(outer=corners, fill="metal", pen="edge")
