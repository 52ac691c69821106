"""Loose lines joined into few polylines; a line that is there twice is kept once."""

from __future__ import annotations

from collections.abc import Iterable

from stowright.model.geometry import Point2

__all__ = ["joined_strokes"]

_DIGITS = 2

type Segment = tuple[Point2, Point2]


def joined_strokes(lines: Iterable[Segment]) -> list[tuple[Point2, ...]]:
    """Return the lines as runs of points, ends rounded to a hundredth. [mm on paper].

    Runs start at ends where an odd number of lines meet, so few are needed; what closes on itself
    comes last.
    """
    segments = _once(lines)
    at: dict[Point2, list[int]] = {}
    for k, (a, b) in enumerate(segments):
        at.setdefault(a, []).append(k)
        at.setdefault(b, []).append(k)
    used = [False] * len(segments)
    odd = sorted(point for point, meeting in at.items() if len(meeting) % 2)
    runs: list[tuple[Point2, ...]] = []
    for start in [*odd, *sorted(at)]:
        while any(not used[k] for k in at[start]):
            runs.append(_run(start, segments, at, used))
    return runs


def _once(lines: Iterable[Segment]) -> list[Segment]:
    found: dict[Segment, None] = {}
    for a, b in lines:
        one, other = _rounded(a), _rounded(b)
        if one != other:
            found[(one, other) if one < other else (other, one)] = None
    return list(found)


def _rounded(point: Point2) -> Point2:
    return (round(point[0], _DIGITS) + 0.0, round(point[1], _DIGITS) + 0.0)


def _run(
    start: Point2, segments: list[Segment], at: dict[Point2, list[int]], used: list[bool]
) -> tuple[Point2, ...]:
    points = [start]
    while True:
        k = next((k for k in at[points[-1]] if not used[k]), None)
        if k is None:
            return tuple(points)
        used[k] = True
        a, b = segments[k]
        points.append(b if a == points[-1] else a)
