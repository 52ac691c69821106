"""Straps on deck cargo: which way each pulls, and what they hold together.

Direct lashings, statics alone: a strap holds cargo against a push by what points the other way. No
friction is counted, and no strap holds by pressing down. Every strap runs from the cargo to one
point; its weakest piece counts, strap or point.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, hypot, pi

from stowright.formulas.restraint import RuleSet
from stowright.model.bay import Anchor
from stowright.model.geometry import Box, Span

__all__ = ["LEAST", "Strap", "held_n", "pushes_on", "ring_straps", "to_anchors"]

#: Straps that hold cargo every way to rings of the unit: one at each corner.
LEAST = 4
#: How a strap at a corner runs to its ring: half way between the sides, half way down (assumed).
_DIAGONAL = cos(pi / 4.0) ** 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Strap:
    """One strap: how its pull is shared out from above, and what it takes as a working load.

    Attributes:
        x, y: Cosines of its pull on the cargo along both axes.
        holds_n: The least of strap and point. [N]
        to: Its point in words.
    """

    x: float
    y: float
    holds_n: float
    to: str


def pushes_on(rules: RuleSet) -> tuple[tuple[str, float, float, float], ...]:
    """Return each way that cargo is thrown: name, fraction of g, and its direction (x, y)."""
    return (
        ("forward", rules.forward, 1.0, 0.0),
        ("rearward", rules.rear, -1.0, 0.0),
        ("to the left", rules.side, 0.0, 1.0),
        ("to the right", rules.side, 0.0, -1.0),
    )


def held_n(straps: Sequence[Strap], *, x: float, y: float) -> float:
    """Return what straps hold together against a push along (x, y), a unit vector. [N]."""
    return sum(strap.holds_n * max(0.0, -(strap.x * x + strap.y * y)) for strap in straps)


def ring_straps(count: int, *, holds_n: float) -> tuple[Strap, ...]:
    """Return straps from the corners to rings of the unit, corner after corner.

    Args:
        count: How many.
        holds_n: Working load of the weaker of strap and ring. [N]
    """
    corners = ((1.0, 1.0), (-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0))
    return tuple(
        Strap(x=_DIAGONAL * a, y=_DIAGONAL * b, holds_n=holds_n, to="a ring of the unit")
        for a, b in (corners[n % LEAST] for n in range(count))
    )


def to_anchors(
    box: Box, anchors: Sequence[Anchor], count: int, *, strap_n: float
) -> tuple[Strap, ...]:
    """Return straps from upper corners of cargo to anchors, shared out in turn.

    A strap starts at the nearest corner; where its anchor stands beside the cargo it runs over it
    from the far end, so that it pulls along as well as across.

    Straps that share an anchor share what it is stated to take, the lesser of pull and shear.

    Args:
        box: The cargo.
        anchors: Anchors of stated strength.
        count: How many straps.
        strap_n: Working load of one strap. [N]
    """
    shared = [sum(1 for n in range(count) if n % len(anchors) == k) for k in range(len(anchors))]
    found = []
    for n in range(count):
        k = n % len(anchors)
        anchor = anchors[k]
        way = _way(box, anchor)
        point = min(anchor.tension or 0.0, anchor.shear or 0.0) / shared[k]
        found.append(
            Strap(
                x=way[0],
                y=way[1],
                holds_n=min(strap_n, point),
                to=f"{anchor.what} at ({anchor.x:.0f}, {anchor.y:.0f})",
            )
        )
    return tuple(found)


def _way(box: Box, anchor: Anchor) -> tuple[float, float]:
    """Return the cosines along x and y of a strap from a corner of cargo to an anchor."""
    along = anchor.x - _start(box.x, anchor.x)
    across = anchor.y - _start(box.y, anchor.y)
    length = hypot(along, across, anchor.z - box.z.high)
    return (along / length, across / length) if length > 0.0 else (0.0, 0.0)


def _start(side: Span, at: float) -> float:
    """Return where a strap starts along one side: at the near end, or the far one beside it."""
    if not side.low < at < side.high:
        return min(side.high, max(side.low, at))
    return side.low if at >= side.middle else side.high
