"""What a detail shows, as plain data, and what those who plan one need."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from stowright.drawings.extent import Bounds
from stowright.drawings.ortho import Sight
from stowright.drawings.scene import Item
from stowright.model.design import BlockDesign, Design
from stowright.model.geometry import Point2
from stowright.model.part import PlacedFixing

__all__ = ["Detail", "around", "block_of", "fixing_between", "scaled", "sight_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Detail:
    """What a detail shows.

    Attributes:
        name, title: Of the scene.
        head: What stands over it, where the title is too long.
        sight: Directions of the picture.
        depth: Where the plane lies along the line of sight. [mm]
        window: What is shown. [mm on the picture plane]
        also: Makes what is no part: runners, the vehicle's floor. [paper at a scale]
        over: The same, drawn over the pieces.
        sizes: Linear dimensions: axis, start and end on the picture plane.
        notes: Words for what is no part, and where it lies on the picture plane.
    """

    name: str
    title: str
    sight: Sight
    depth: float
    window: Bounds
    also: Callable[[float], Iterable[Item]] = lambda _: ()
    over: Callable[[float], Iterable[Item]] = lambda _: ()
    sizes: tuple[tuple[str, Point2, Point2], ...] = ()
    notes: tuple[tuple[Point2, str], ...] = ()
    head: str = ""


def scaled(points: Iterable[Point2], scale: float) -> tuple[Point2, ...]:
    """Return points of the picture plane on paper. [mm]."""
    return tuple((x * scale, y * scale) for x, y in points)


def sight_of(block: BlockDesign, *, along: bool = False) -> Sight:
    """Return the sight across a block (from its face), or along it (from its right)."""
    across, inward, up = block.axes
    if along:
        return Sight(right=inward, up=up, look=(-across[0], -across[1], -across[2]))
    return Sight(right=across, up=up, look=inward)


def around(middle: Point2, wide: float, high: float) -> Bounds:
    """Return a window of a size around a point. [mm]."""
    x, y = middle
    return Bounds(
        left=x - wide / 2.0, right=x + wide / 2.0, bottom=y - high / 2.0, top=y + high / 2.0
    )


def block_of(design: Design, name: str) -> BlockDesign | None:
    """Return a block by name; None for a deck's name."""
    return next((b for b in design.blocks if b.name == name), None)


def fixing_between(design: Design, step: str, roles: tuple[str, str]) -> PlacedFixing | None:
    """Return the first fixing of a step that joins pieces of two roles."""
    role_of = {p.id: p.role for p in design.placed}
    for fixing in design.fixings:
        joined = {role_of.get(j, "") for j in fixing.joins}
        if fixing.step == step and fixing.kind in {"screw", "bolt"} and set(roles) <= joined:
            return fixing
    return None
