"""The bay as one block sees it: over its heights, with its own allowances taken off. Millimetres.

A view turns the bay's surfaces into net numbers for one range of heights: walls and arches as cuts
less reading error and cove, arches and keep-outs as bars along x, blocks that stand already as bars
too. The search in ``usable_box`` works on these; ``box_limits`` puts them into words.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from stowright.design.bay_solid import ArchSolid, BaySolid, bay_solid, tail_lean_over
from stowright.design.bay_surface import FAR, Cuts, cuts_at, fillet_intrusion, least_net
from stowright.model.bay import Bay, Face
from stowright.model.design import Skew
from stowright.model.geometry import Box, Span

__all__ = [
    "ABOVE_ARCH",
    "ARCH_SHEET_CLEAR",
    "BEARER_ABOVE_ARCH",
    "ArchView",
    "Ask",
    "Bar",
    "Strip",
    "View",
    "lean_in_width",
    "strip_between",
    "view_of",
]

type Side = Literal["tail", "cab", "left", "right"]

#: A body over the arches keeps this above their tops (its bearer) ... [mm].
BEARER_ABOVE_ARCH = 15.0
#: ... and this clear of the arch's sheet all round. [mm].
ARCH_SHEET_CLEAR = 10.0
#: Nothing rests on an arch: any body above one keeps this. [mm].
ABOVE_ARCH = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """What a block asks of the bay.

    Attributes:
        z: Heights that the carcass fills; z.low is its underside, on top of the packers.
        side_clear, end_clear, clear_at_face: Clearances; the last one holds on the face's side.
        lining: Lining on the bay's walls.
        over_arches: The body stands over the arches (or is the lower one of such a pair).
        obstacles: Blocks that stand already, with the gap to them.
    """

    block: str
    face: Face
    z: Span
    side_clear: float
    end_clear: float
    clear_at_face: float
    lining: float
    over_arches: bool
    obstacles: tuple[Box, ...]

    def clear(self, side: Side) -> float:
        """Return the clearance on one side of the block. [mm]."""
        if side == self.face:
            return self.clear_at_face
        return self.end_clear if side == "cab" else self.side_clear

    def clear_to_arch(self, side: Side) -> float:
        """Return the clearance on one side towards an arch. [mm]."""
        clear = self.clear_at_face if side == self.face else self.side_clear
        return max(clear, ARCH_SHEET_CLEAR) if self.over_arches else clear


@dataclass(frozen=True, slots=True, kw_only=True)
class ArchView:
    """An arch over the block's heights.

    Attributes:
        low, high: Where along x it bars the way, allowances included.
        cuts: Its inner face, net of reading error and cove.
        taken: Lining and clearance that come off the cuts.
    """

    arch: ArchSolid
    low: float
    high: float
    cuts: Cuts
    taken: float

    def least(self, *, low: float, high: float) -> float:
        """Return the net distance from the centre line that it leaves over a length. [mm]."""
        ends = self.along(low, high)
        return least_net(self.cuts, low=ends[0], high=ends[1]) - self.taken

    def along(self, low: float, high: float) -> tuple[float, float]:
        """Return the part of a length where the arch itself stands (an end when it is beside)."""
        start, end = self.arch.start, self.arch.end
        return min(max(low, start), end), max(min(high, end), start)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A box that bars the way: its ranges with all allowances, and where they come from."""

    x: tuple[float, float]
    y: tuple[float, float]
    box: Box
    error: float
    clear: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """The bay over a block's heights.

    Attributes:
        left, right, headboard: Cuts of the surfaces, net of reading error and cove.
        tail, tail_at, tail_reading: Where the box may begin; the tail face; its reading.
        lean: Sideways lean that comes off the width of a body as long as the bay.
        corner: How much nearer a corner of the headboard may stand, per mm off the centre line.
    """

    solid: BaySolid
    ask: Ask
    left: Cuts
    right: Cuts
    headboard: Cuts
    arches: tuple[ArchView, ...]
    bars: tuple[Bar, ...]
    tail: float
    tail_at: float
    tail_reading: str
    lean: float
    corner: float

    def wall_cuts(self, side: Side) -> Cuts:
        """Return the cuts of a side wall."""
        return self.left if side == "left" else self.right


def lean_in_width(*, solid: BaySolid, skew: Skew) -> float:
    """Return how much of the sideways lean the half widths do not show yet. [mm].

    Half widths read from a straight centre line already hold the lean; taking it again would be
    twice. Whole widths hold none of it.
    """
    return max(abs(skew.lean) - abs(solid.lean_in_stations), 0.0)


@lru_cache(maxsize=256)
def _surfaces_at(bay: Bay, z: Span) -> tuple[Cuts, Cuts, Cuts, tuple[Cuts, ...]]:
    """Return left wall, right wall, headboard and arches cut at a body's heights.

    Remembered, since a search changes widths far oftener than heights.
    """
    solid, cove = bay_solid(bay), bay.cove
    inner = []
    for arch in solid.arches:
        over = Span(low=min(z.low, arch.height), high=min(z.high, arch.height))
        inner.append(cuts_at(arch.inner, z=over, fillet=cove))
    return (
        cuts_at(solid.left, z=z, fillet=cove),
        cuts_at(solid.right, z=z, fillet=cove),
        cuts_at(solid.headboard, z=z, fillet=cove),
        tuple(inner),
    )


def view_of(*, solid: BaySolid, skew: Skew, ask: Ask) -> View:
    """Return the bay over the block's heights, with its allowances."""
    bay, z = solid.bay, ask.z
    left, right, headboard, inner = _surfaces_at(bay, z)
    tail_at, reading = tail_lean_over(solid, z=z)
    error = bay.reading_error if reading else 0.0
    return View(
        solid=solid,
        ask=ask,
        left=left,
        right=right,
        headboard=headboard,
        arches=tuple(
            _arch_view(solid, ask, arch, cuts)
            for arch, cuts in zip(solid.arches, inner, strict=True)
            if _bars(ask, arch, solid)
        ),
        bars=(*_keep_outs(solid, ask), *_obstacles(ask)),
        tail=tail_at + error + ask.clear("tail"),
        tail_at=tail_at,
        tail_reading=reading,
        lean=lean_in_width(solid=solid, skew=skew),
        corner=2.0 * abs(skew.lean) / bay.length if skew.cause == "not known which" else 0.0,
    )


def _bars(ask: Ask, arch: ArchSolid, solid: BaySolid) -> bool:
    """Tell whether an arch is high enough to bar the block."""
    above = BEARER_ABOVE_ARCH if ask.over_arches else ABOVE_ARCH
    return ask.z.low < arch.height + solid.bay.reading_error + above


def _arch_view(solid: BaySolid, ask: Ask, arch: ArchSolid, cuts: Cuts) -> ArchView:
    """Return an arch over the block's heights."""
    cove = fillet_intrusion(radius=solid.bay.cove, z=ask.z.low)
    around = solid.bay.reading_error + ask.lining + cove
    return ArchView(
        arch=arch,
        low=arch.start - around - ask.clear_to_arch("cab"),
        high=arch.end + around + ask.clear_to_arch("tail"),
        cuts=cuts,
        taken=ask.lining + ask.clear_to_arch(arch.side),
    )


def _keep_outs(solid: BaySolid, ask: Ask) -> tuple[Bar, ...]:
    """Return the keep-outs at the block's heights, reading error and clearance about them."""
    error, bars = solid.bay.reading_error, []
    for number, keep_out in enumerate(solid.bay.keep_out, start=1):
        box = keep_out.box
        if box.z.low - error < ask.z.high and box.z.high + error > ask.z.low:
            around = error + ask.side_clear
            bars.append(
                Bar(
                    x=(box.x.low - around, box.x.high + around),
                    y=(box.y.low - around, box.y.high + around),
                    box=box,
                    error=error,
                    clear=ask.side_clear,
                    words=f"{keep_out.what} (bay.keep_out[{number}])",
                )
            )
    return tuple(bars)


def _obstacles(ask: Ask) -> tuple[Bar, ...]:
    """Return the blocks that stand already at these heights; their gap is in their box."""
    return tuple(
        Bar(
            x=(box.x.low, box.x.high),
            y=(box.y.low, box.y.high),
            box=box,
            error=0.0,
            clear=0.0,
            words="a block that stands already",
        )
        for box in ask.obstacles
        if box.z.low < ask.z.high and box.z.high > ask.z.low
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """What bounds the bay between two cuts along x.

    Attributes:
        left, right: Least net distance to wall or arch.
        arch_left, arch_right: The same where an arch stands, else unbounded.
        bars: Numbers of the bars that stand in it.
    """

    left: float
    right: float
    arch_left: float
    arch_right: float
    bars: frozenset[int]


def strip_between(view: View, low: float, high: float) -> Strip:
    """Return what bounds the bay between two cuts."""
    lining, middle = view.ask.lining, (low + high) / 2.0
    left = least_net(view.left, low=low, high=high) - lining - view.ask.clear("left")
    right = least_net(view.right, low=low, high=high) - lining - view.ask.clear("right")
    inner = {"left": FAR, "right": FAR}
    for arch in view.arches:
        if arch.low < middle < arch.high:
            net = arch.least(low=low, high=high)
            inner[arch.arch.side] = min(inner[arch.arch.side], net)
    return Strip(
        left=min(left, inner["left"]),
        right=min(right, inner["right"]),
        arch_left=inner["left"],
        arch_right=inner["right"],
        bars=frozenset(k for k, bar in enumerate(view.bars) if bar.x[0] < middle < bar.x[1]),
    )
