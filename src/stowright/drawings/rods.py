"""What stands on a set-out rod: every part and gap along one line through an opening.

A rod is worked out from where the pieces stand, so it says what the model says: up from the load
floor, across from the outside of the left upright, or in from the face.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from stowright.model.design import BlockDesign, Design, OpeningDesign
from stowright.model.geometry import Point3
from stowright.model.part import PlacedPart

__all__ = ["Bar", "Rod", "RodAxis", "RodMark", "rod_of"]

type RodAxis = Literal["up", "across", "in"]

_NEAR = 0.01
_COLUMNS = ("carcass", "box", "front")
#: What stands in a box but has no place in the sums from floor to deck and from side to side.
_LEFT_OUT = frozenset({"divider"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A part on the rod, from ``low`` to ``high`` along it. [mm]."""

    column: str
    name: str
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RodMark:
    """A named gap or line on the rod; a line has no width. [mm]."""

    name: str
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Rod:
    """A set-out rod.

    Attributes:
        title: What it is for, in words.
        datum: Where its zero lies, in words.
        length: The highest mark. [mm]
        columns: Names of the columns that have bars, in order.
        bars: The parts.
        marks: Gaps and lines.
    """

    title: str
    datum: str
    length: float
    columns: tuple[str, ...]
    bars: tuple[Bar, ...]
    marks: tuple[RodMark, ...]

    @property
    def places(self) -> tuple[float, ...]:
        """Every place that is marked, once, in rising order, zero left out. [mm]."""
        ends = [end for bar in self.bars for end in (bar.low, bar.high)]
        ends += [end for mark in self.marks for end in (mark.low, mark.high)]
        kept: list[float] = []
        for end in sorted(ends):
            if end > _NEAR and (not kept or end - kept[-1] > _NEAR):
                kept.append(end)
        return tuple(kept)


def rod_of(design: Design, opening: str, axis: RodAxis) -> Rod:
    """Return the rod through the middle of an opening.

    Args:
        design: The design.
        opening: The opening's name.
        axis: ``up`` from the load floor, ``across`` from the left upright's outside, ``in`` from
            the carcass's face.
    """
    block, found = _block_and_opening(design, opening)
    look = _Look(design, block, found, axis)
    bars = tuple(sorted(look.bars(), key=lambda b: (_COLUMNS.index(b.column), b.low, b.high)))
    marks = (*look.gaps(), *look.lines())
    ends = [bar.high for bar in bars] + [mark.high for mark in marks]
    titles: dict[RodAxis, tuple[str, str]] = {
        "up": ("heights", "load floor, top of its ribs"),
        "across": ("widths", "outside of the left upright"),
        "in": ("depths", "face of the carcass"),
    }
    title, datum = titles[axis]
    return Rod(
        title=f"{opening}: {title}",
        datum=datum,
        length=max(ends, default=0.0),
        columns=tuple(c for c in _COLUMNS if any(bar.column == c for bar in bars)),
        bars=bars,
        marks=marks,
    )


def _block_and_opening(design: Design, name: str) -> tuple[BlockDesign, OpeningDesign]:
    for block in design.blocks:
        for opening in block.openings:
            if opening.name == name:
                return block, opening
    raise KeyError(name)


class _Look:
    """Looks along one direction of a block, from a zero."""

    def __init__(
        self, design: Design, block: BlockDesign, opening: OpeningDesign, axis: RodAxis
    ) -> None:
        self._design = design
        self._opening = opening
        self._axis = axis
        across, inward, up = block.axes
        self._directions: dict[RodAxis, Point3] = {"across": across, "in": inward, "up": up}
        self._zero = 0.0
        if axis == "across":
            left = design.placed_by_id(opening.bounds[0])
            self._zero = self._reach(left, across)[0]
        elif axis == "in":
            self._zero = _dot(opening.at, inward)
        self._middle = {
            "across": _dot(opening.at, across) + opening.width / 2.0,
            "up": _dot(opening.at, up) + opening.height / 2.0,
            "in": _dot(opening.at, inward) + opening.depth / 2.0,
        }

    def bars(self) -> Iterator[Bar]:
        """Yield the parts that the rod meets, alike ones once."""
        seen: set[tuple[str, float, float]] = set()
        for placed in self._design.placed:
            column = self._column(placed)
            if not column or not self._meets(placed, column):
                continue
            low, high = self._along(placed)
            key = (column, round(low, 3), round(high, 3))
            if key not in seen:
                seen.add(key)
                part = self._design.part(placed.mark)
                yield Bar(column=column, name=f"{part.mark} {part.name}", low=low, high=high)

    def gaps(self) -> Iterator[RodMark]:
        """Yield the named gaps between two pieces of this opening along the rod."""
        letter = self._letter()
        for gap in self._design.gaps:
            if gap.axis != letter or not gap.name.startswith(f"{self._opening.name}: "):
                continue
            pieces = [p for p in self._design.placed if p.id in gap.between]
            if len(pieces) == 2:
                first, second = sorted(self._along(p) for p in pieces)
                name = gap.name.removeprefix(f"{self._opening.name}: ")
                yield RodMark(name=name, low=first[1], high=second[0])

    def lines(self) -> Iterator[RodMark]:
        """Yield the runner's centre line, or where the runner starts and ends."""
        runner = self._opening.runner
        if runner is None:
            return
        if self._axis == "up":
            at = _dot(self._opening.at, self._directions["up"]) + runner.line
            yield RodMark(name="runner centre line", low=at, high=at)
        elif self._axis == "in":
            end = runner.set_back + runner.size.length
            yield RodMark(name="runner", low=runner.set_back, high=end)

    def _column(self, placed: PlacedPart) -> str:
        if placed.role in _LEFT_OUT:
            return ""
        if placed.body == self._opening.name:
            return (
                "front" if placed.role.endswith("front") and "inner" not in placed.role else "box"
            )
        if placed.body == "fixed":
            return "carcass"
        return ""

    def _meets(self, placed: PlacedPart, column: str) -> bool:
        """Return whether a part belongs on the rod.

        Of the carcass and everything fixed only panels that lie square across the rod and stand in
        its way; of the drawer everything.
        """
        if column != "carcass":
            return not (self._axis == "up" and "inner" in placed.role)
        if self._axis == "across":
            return placed.id in self._opening.bounds[:2]
        if placed.block != self._opening.block and placed.role != "deck":
            return False
        flat = abs(_dot(placed.axes[2], self._directions[self._axis])) > 0.9
        across = self._reach(placed, self._directions["across"])
        inward = self._reach(placed, self._directions["in"])
        up = self._reach(placed, self._directions["up"])
        over = across[0] < self._middle["across"] < across[1]
        if self._axis == "in":
            return flat and over and up[0] < self._middle["up"] < up[1]
        start = _dot(self._opening.at, self._directions["in"])
        inside = inward[1] > start and inward[0] < start + self._opening.depth
        return flat and over and inside

    def _along(self, placed: PlacedPart) -> tuple[float, float]:
        low, high = self._reach(placed, self._directions[self._axis])
        return low - self._zero, high - self._zero

    def _reach(self, placed: PlacedPart, direction: Point3) -> tuple[float, float]:
        corners = [
            _dot(placed.point(u, v, w), direction)
            for u in (0.0, placed.length)
            for v in (0.0, placed.width)
            for w in (0.0, placed.thickness)
        ]
        return min(corners), max(corners)

    def _letter(self) -> str:
        direction = self._directions[self._axis]
        return "xyz"[max(range(3), key=lambda k: abs(direction[k]))]


def _dot(a: Point3, b: Point3) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
