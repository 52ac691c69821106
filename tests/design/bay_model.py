"""The bay once more, by other means: numpy interpolation and shapely polygons at one height.

Written from the contract's sentences, not from the code it checks. Nothing is taken off: no error,
no clearance, no cove unless asked for.
"""

import numpy as np
from shapely import affinity
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

FAR = 5000.0


def _levels(stations, where, value):
    levels = {}
    for station in stations:
        levels.setdefault(station.height, []).append((where(station), value(station)))
    return [(height, sorted(levels[height])) for height in sorted(levels)]


def _at_level(levels, k, us):
    """A level with one station takes the shape of the level below."""
    _, rows = levels[k]
    xs, vs = zip(*rows, strict=True)
    if len(rows) == 1:
        if k == 0:
            return np.full_like(us, vs[0])
        below = _at_level(levels, k - 1, us)
        return below + vs[0] - _at_level(levels, k - 1, np.array([xs[0]]))[0]
    return np.interp(us, xs, vs)


def ruled(stations, where, value, us, z):
    """Linear in u at each level, then in z."""
    us = np.asarray(us, dtype=float)
    levels = _levels(stations, where, value)
    heights = [height for height, _ in levels]
    table = np.array([_at_level(levels, k, us) for k in range(len(levels))])
    return np.array([np.interp(z, heights, table[:, i]) for i in range(len(us))])


def half_width(bay, side, xs, z):
    return ruled(bay.widths, lambda s: s.at, lambda s: getattr(s, side), xs, z)


def headboard(bay, ys, z):
    return ruled(bay.lengths, lambda s: s.y, lambda s: s.length, ys, z)


def tail(bay, z):
    rows = sorted([(0.0, 0.0), *((s.height, s.x) for s in bay.tail_lean)])
    return float(np.interp(z, *zip(*rows, strict=True)))


def _marks(bay, low, high):
    xs = {low, high, *(s.at for s in bay.widths), *(s.at for s in bay.between)}
    for arch in bay.arches:
        xs.update((arch.start, arch.end))
    return np.array(sorted({x for x in xs if low <= x <= high} | set(np.arange(low, high, 20.0))))


def arch_inner(bay, arch, xs, z):
    """Distance from the centre line to an arch's inner face."""
    left, right = (half_width(bay, side, xs, 0.0) for side in ("left", "right"))
    reach = {a.side: a.reach for a in bay.arches}
    inner = {"left": left - reach.get("left", 0.0), "right": right - reach.get("right", 0.0)}
    if bay.between and len(reach) == 2:
        clear = ruled(bay.between, lambda s: s.at, lambda s: s.width, xs, z)
        more = (clear - inner["left"] - inner["right"]) / 2.0
        inner = {side: value + more for side, value in inner.items()}
    return inner[arch.side]


def arch_polygon(bay, arch, z):
    """An arch in plan at a height below its top."""
    xs = _marks(bay, arch.start, arch.end)
    sign = 1.0 if arch.side == "left" else -1.0
    near = [(x, sign * y) for x, y in zip(xs, arch_inner(bay, arch, xs, z), strict=True)]
    far = [(x, sign * FAR) for x in (xs[-1], xs[0])]
    return Polygon([*near, *far])


def polygon_at(bay, z, *, cove=0.0):
    """The free area in plan at a height; ``cove`` is how far the fillet stands in there."""
    xs = _marks(bay, -200.0, 3500.0)
    left, right = (half_width(bay, side, xs, z) for side in ("left", "right"))
    walls = Polygon(
        [
            *((x, -y) for x, y in zip(xs, right, strict=True)),
            *((x, y) for x, y in zip(xs[::-1], left[::-1], strict=True)),
        ]
    )
    ys = np.array(sorted({*np.arange(-1500.0, 1501.0, 25.0), *(s.y for s in bay.lengths)}))
    head = headboard(bay, ys, z)
    before = Polygon([(-200.0, -1500.0), *zip(head, ys, strict=True), (-200.0, 1500.0)])
    free = walls.intersection(before)
    arches = [arch_polygon(bay, a, z) for a in bay.arches if z <= a.height]
    free = free.difference(unary_union(arches)) if arches else free
    if cove > 0.0:
        free = free.buffer(-cove, quad_segs=32)
    free = free.intersection(box(tail(bay, z), -FAR, FAR, FAR))
    for keep in bay.keep_out:
        if keep.box.z.low < z < keep.box.z.high:
            free = free.difference(
                box(keep.box.x.low, keep.box.y.low, keep.box.x.high, keep.box.y.high)
            )
    return free


def in_plan(solid):
    """A box's rectangle in plan."""
    return box(solid.x.low, solid.y.low, solid.x.high, solid.y.high)


def rotated(width, height, angle):
    """A rectangle turned about its middle by an angle in radians."""
    return affinity.rotate(
        box(-width / 2.0, -height / 2.0, width / 2.0, height / 2.0), angle, use_radians=True
    )
