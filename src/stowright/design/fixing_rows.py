"""Rows of fixings: where they would stand, and where they stand once what is in the way is missed.

Spacing is common practice for glued and screwed carcasses: 50 to 75 from a corner, then 150 to
200 between centres; a short meeting gets two as soon as it is 60 long.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil, floor

from stowright.design.fixing_space import EPS, Interval, Solid

__all__ = ["END", "END_LEAST", "PITCH", "blocked_stretches", "settle", "wanted_places"]

#: From a corner to the first fixing. [mm]
END = 60.0
#: Widest spacing. [mm]
PITCH = 200.0
#: A meeting from this length on gets two. [mm]
TWO_FROM = 60.0
#: Nearer to an edge a screw splits the ply (common practice). [mm]
END_LEAST = 15.0
#: Positions are marked to this. [mm]
_MARK = 0.5
#: A fixing of a row of three or more moves no further than this to find a free place. [mm]
_REACH = 110.0


def wanted_places(length: float, *, end: float = END, pitch: float = PITCH) -> tuple[float, ...]:
    """Return the centres on a line of a given length, symmetrical about its middle. [mm].

    Args:
        length: Of the line.
        end: From either end to the first, where the line is long enough.
        pitch: Widest spacing.
    """
    if length < TWO_FROM:
        return (length / 2.0,)
    first = _marked(max(min(end, length / 4.0), END_LEAST))
    gaps = max(1, ceil((length - 2.0 * first) / pitch - EPS))
    step = (length - 2.0 * first) / gaps
    half = [_marked(first + i * step) for i in range((gaps + 1) // 2)]
    middle = [length / 2.0] if gaps % 2 == 0 else []
    return (*half, *middle, *(length - t for t in reversed(half)))


def _marked(value: float) -> float:
    return floor(value / _MARK + 0.5) * _MARK


def blocked_stretches(
    solids: Iterable[Solid], probe: Solid, axis: int, *, clear: float
) -> list[Interval]:
    """Return where along an axis a probe would come too near to any solid.

    Args:
        solids: What is taken.
        probe: The fixing's solid with its centre at 0 on ``axis``.
        axis: The axis along which it may stand.
        clear: Wood to be left between. [mm]
    """
    a, b, c = 2 * axis, (2 * axis + 2) % 6, (2 * axis + 4) % 6
    b_low, b_high = probe[b] - clear + EPS, probe[b + 1] + clear - EPS
    c_low, c_high = probe[c] - clear + EPS, probe[c + 1] + clear - EPS
    back, front = probe[a + 1] + clear, probe[a] - clear
    return [
        (solid[a] - back, solid[a + 1] - front)
        for solid in solids
        if solid[b] < b_high and solid[b + 1] > b_low and solid[c] < c_high and solid[c + 1] > c_low
    ]


def settle(
    wanted: Sequence[float],
    blocked: Iterable[Interval],
    *,
    low: float,
    high: float,
    spacing: float,
) -> tuple[float, ...]:
    """Return places as near as can be to those wanted that miss what is blocked.

    Args:
        wanted: Centres wanted.
        blocked: Stretches that no centre may lie in.
        low: Least distance that a centre may have.
        high: Greatest.
        spacing: Least distance between two of them.

    Returns:
        Places from low to high; fewer than wanted where there is no room.
    """
    reach = _REACH if len(wanted) > 2 else high - low
    walls = [wall for wall in blocked if wall[0] < high and wall[1] > low]
    placed: list[float] = []
    for want in wanted:
        found = _nearest(want, walls, low, high)
        if found is None or abs(found - want) > reach:
            continue
        placed.append(found)
        walls.append((found - spacing, found + spacing))
    return tuple(sorted(placed))


def _nearest(want: float, walls: Sequence[Interval], low: float, high: float) -> float | None:
    """Return the free place nearest to one wanted; of two as near, the lower."""
    if not any(a + EPS < want < b - EPS for a, b in walls) and low <= want <= high:
        return want
    ends = [floor(a / _MARK) * _MARK for a, _ in walls]
    ends += [ceil(b / _MARK) * _MARK for _, b in walls]
    ends += [ceil(low / _MARK) * _MARK, floor(high / _MARK) * _MARK]
    ends.sort(key=lambda t: (abs(t - want), t))
    for t in ends:
        if low <= t <= high and not any(a + EPS < t < b - EPS for a, b in walls):
            return t
    return None
