"""What the views of a general arrangement share: the block looked at, its directions, the scale."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from stowright.drawings.ortho import Sight
from stowright.model.design import BlockDesign, Design, OpeningDesign
from stowright.model.geometry import Point2, Point3
from stowright.model.job import Deck
from stowright.units import Unit

__all__ = ["Arrangement", "ViewName", "dot"]

type ViewName = Literal["plan", "elevation", "section", "cross"]


#: Where along an opening's depth the cross section runs.
_CROSS = 0.4
_LARGE = 1.0 / 25.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrangement:
    """What the views of a general arrangement have in common.

    Attributes:
        design: The design.
        block: The block whose face is looked at.
        opening: The opening that the section runs through; None when the block has none.
        scale: Paper millimetres per millimetre.
        units: Unit of print.
        bare: True for views that only have to be as large as the drawn ones at least: pieces as
            rectangles, no notes.
    """

    design: Design
    block: BlockDesign
    opening: OpeningDesign | None
    scale: float
    units: Unit
    bare: bool = False

    @property
    def decks(self) -> tuple[Deck, ...]:
        """The decks over the block."""
        return tuple(d for d in self.design.job.decks if self.block.name in d.over)

    def sight(self, view: ViewName) -> Sight:
        """Return which way a view looks."""
        across, inward, up = self.block.axes
        if view == "plan":
            return Sight(right=across, up=inward, look=_minus(up))
        if view in {"elevation", "cross"}:
            return Sight(right=across, up=up, look=inward)
        return Sight(right=inward, up=up, look=_minus(across))

    def flat(self, view: ViewName, point: Point3) -> Point2:
        """Return a point of the bay on a view's paper. [mm]."""
        x, y = self.sight(view).flat(point)
        return (x * self.scale, y * self.scale)

    def span(self, direction: Point3) -> tuple[float, float]:
        """Return the block's extent along one of its directions. [mm]."""
        box = self.block.box
        ends = (
            dot((box.x.low, box.y.low, box.z.low), direction),
            dot((box.x.high, box.y.high, box.z.high), direction),
        )
        return min(ends), max(ends)

    @property
    def symbol(self) -> float:
        """Size of an anchor's symbol: smaller where hold-downs stand close on paper. [mm]."""
        return 4.0 if self.scale >= _LARGE else 3.0

    @property
    def cut_at(self) -> float:
        """Where the section's plane lies across the face. [mm]."""
        across = self.block.axes[0]
        if self.opening is None:
            low, high = self.span(across)
            return (low + high) / 2.0
        return dot(self.opening.at, across) + self.opening.width / 2.0

    @property
    def cross_at(self) -> float:
        """Where the cross section's plane lies along the block, clear of a middle rail. [mm]."""
        inward = self.block.axes[1]
        if self.opening is None:
            low, high = self.span(inward)
            return low + _CROSS * (high - low)
        return dot(self.opening.at, inward) + _CROSS * self.opening.depth


def _minus(a: Point3) -> Point3:
    return (-a[0], -a[1], -a[2])


def dot(a: Point3, b: Point3) -> float:
    """Return the scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
