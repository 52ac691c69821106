"""The outline of a wing: what covers the space between a block and the wall. Millimetres.

Offsets of the wing's outer edge from the bay's centre line, every 100 mm at deck height, each side
by itself. Where an arch or a keep-out crosses the sheet the outline steps round it and nowhere
else; an arch that is known by a reading between the arches alone has no height and steps nothing.
The scribe gap is taken off the wall as it was read; the wing waits for a reading (release B) where
no width was read near its height.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from stowright.design.bay_solid import BaySolid, bay_solid, wall_y
from stowright.design.bay_surface import Surface, value_at
from stowright.errors import require_positive
from stowright.model.bay import Bay
from stowright.model.geometry import Box, Point2, Span

__all__ = ["WingOutline", "wing_outline"]

type Side = Literal["left", "right"]

#: Distance between offsets. [mm].
EVERY = 100.0
#: A width read within this of a height speaks for it. [mm].
NEAR_HEIGHT = 50.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WingOutline:
    """A wing's outer edge and what lies under it.

    Attributes:
        offsets: (x, distance from the centre line), from the tail on; two at one x are a step.
        measured: A width was read within 50 mm of its height.
        scribe_gap: Gap to the wall, in the offsets.
        void_litres: Room under the wing between block and wall, arches and keep-outs taken off.
    """

    offsets: tuple[Point2, ...]
    measured: bool
    scribe_gap: float
    void_litres: float


def wing_outline(
    *,
    bay: Bay,
    side: Side,
    x: Span,
    z: float,
    inner_y: float,
    scribe_gap: float = 6.0,
    thickness: float = 0.0,
) -> WingOutline:
    """Return the outline of a wing and the void under it.

    Args:
        bay: The bay.
        side: Which side it lies on.
        x: Its range along the bay.
        z: Height of its upper surface; the outline is taken there.
        inner_y: Distance of its inner edge (the block's side) from the centre line.
        scribe_gap: Gap to the wall.
        thickness: Of its sheet: it is notched for what crosses the sheet.

    Raises:
        OutOfRangeError: If the range along the bay is empty.
    """
    require_positive(wing_length=x.size)
    solid = bay_solid(bay)
    crossing = _crossing(solid, side, Span(low=z - thickness, high=z))
    xs = _stations(x, crossing)
    offsets: list[Point2] = []
    for at in xs:
        before = _free_y(solid, side, at, z, crossing, from_tail=True)
        after = _free_y(solid, side, at, z, crossing, from_tail=False)
        ys = {x.low: (after,), x.high: (before,)}.get(at, (before, after))
        offsets.extend((at, max(y - scribe_gap, inner_y)) for y in dict.fromkeys(ys))
    return WingOutline(
        offsets=tuple(offsets),
        measured=any(abs(read.height - z) <= NEAR_HEIGHT for read in bay.widths),
        scribe_gap=scribe_gap,
        void_litres=_void_mm3(solid, side, x, z - thickness, inner_y) / 1.0e6,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Crossing:
    """Something that crosses the wing between two places along x.

    Attributes:
        near: Distance of its near face from the centre line.
        inner: An arch's inner face, which governs over ``near``.
    """

    start: float
    end: float
    near: float = 0.0
    inner: Surface | None = None

    def near_at(self, x: float, z: float) -> float:
        """Return the distance of its near face at a place."""
        return self.near if self.inner is None else value_at(self.inner, u=x, z=z)


def _crossing(solid: BaySolid, side: Side, z: Span) -> tuple[_Crossing, ...]:
    """Return the arches and keep-outs that cross the wing's sheet."""
    found = [
        _Crossing(start=arch.start, end=arch.end, inner=arch.inner)
        for arch in solid.arches
        if arch.side == side and z.low < arch.height < float("inf")
    ]
    for keep_out in solid.bay.keep_out:
        box = _on_side(keep_out.box, side)
        if box.z.low < z.high and box.z.high > z.low and box.y.high > 0.0:
            found.append(_Crossing(start=box.x.low, end=box.x.high, near=box.y.low))
    return tuple(found)


def _on_side(box: Box, side: Side) -> Box:
    """Return a box with y counted outwards to the given side."""
    if side == "left":
        return box
    return Box(x=box.x, y=Span(low=-box.y.high, high=-box.y.low), z=box.z)


def _stations(x: Span, crossing: tuple[_Crossing, ...]) -> list[float]:
    """Return where offsets are given: every 100 mm, the ends and where the outline steps."""
    count = int(x.size / EVERY + 1.0e-9)
    marks = {x.low + EVERY * k for k in range(count + 1)} | {x.high}
    marks.update(end for row in crossing for end in (row.start, row.end) if x.low < end < x.high)
    kept: list[float] = []
    for mark in sorted(marks):
        if not kept or mark - kept[-1] > 1.0e-6:
            kept.append(mark)
    kept[-1] = x.high
    return kept


def _free_y(
    solid: BaySolid,
    side: Side,
    x: float,
    z: float,
    crossing: tuple[_Crossing, ...],
    *,
    from_tail: bool,
) -> float:
    """Return the distance to what bounds the wing at x, looked at from the tail's or cab's side."""
    free = wall_y(solid, side=side, x=x, z=z)
    for row in crossing:
        inside = row.start < x <= row.end if from_tail else row.start <= x < row.end
        if inside:
            free = min(free, row.near_at(x, z))
    return free


# --- the void ------------------------------------------------------------------------------------


def _void_mm3(solid: BaySolid, side: Side, x: Span, z: float, inner_y: float) -> float:
    """Return the room between floor and wing, block and wall.

    Cells between all breakpoints along x and z: in each the free width is linear either way, so the
    mean of its corners times its area is exact.
    """
    arches = [arch for arch in solid.arches if arch.side == side]
    surface = solid.left if side == "left" else solid.right
    grids = [surface.grid, *(arch.inner.grid for arch in arches)]
    ends = [end for arch in arches for end in (arch.start, arch.end)]
    xs = _inside(x, [*(u for grid in grids for u in grid), *ends])
    levels = [level.z for level in surface.levels]
    levels += [level.z for arch in arches for level in arch.inner.levels]
    zs = _inside(Span(low=0.0, high=z), [*levels, *(arch.height for arch in arches)])
    total = 0.0
    for x_low, x_high in pairwise(xs):
        for z_low, z_high in pairwise(zs):
            cell = (x_low, x_high, z_low, z_high)
            total += _cell_mm3(solid, side, cell, inner_y)
    return total - _keep_outs_mm3(solid, side, x, z, inner_y)


def _inside(span: Span, marks: list[float]) -> list[float]:
    """Return the ends of a range and the marks inside it, in order."""
    return sorted({span.low, span.high, *(m for m in marks if span.low < m < span.high)})


def _cell_mm3(
    solid: BaySolid, side: Side, cell: tuple[float, float, float, float], inner_y: float
) -> float:
    """Return the free volume of one cell."""
    x_low, x_high, z_low, z_high = cell
    x_mid, z_mid = (x_low + x_high) / 2.0, (z_low + z_high) / 2.0
    inners = [
        arch.inner
        for arch in solid.arches
        if arch.side == side and arch.start < x_mid < arch.end and z_mid < arch.height
    ]
    depths = []
    for x in (x_low, x_high):
        for z in (z_low, z_high):
            free = wall_y(solid, side=side, x=x, z=z)
            free = min([free, *(value_at(inner, u=x, z=z) for inner in inners)])
            depths.append(max(free - inner_y, 0.0))
    return (x_high - x_low) * (z_high - z_low) * sum(depths) / 4.0


def _keep_outs_mm3(solid: BaySolid, side: Side, x: Span, z: float, inner_y: float) -> float:
    """Return what keep-outs take of the void, the wall taken where the keep-out's middle is."""
    taken = 0.0
    for keep_out in solid.bay.keep_out:
        box = _on_side(keep_out.box, side)
        wall = wall_y(solid, side=side, x=box.x.middle, z=box.z.middle)
        overlaps = (
            box.x.overlap(x),
            box.y.overlap(Span(low=inner_y, high=wall)),
            box.z.overlap(Span(low=0.0, high=z)),
        )
        if min(overlaps) > 0.0:
            taken += overlaps[0] * overlaps[1] * overlaps[2]
    return taken
