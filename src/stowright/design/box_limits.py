"""What limits a usable box on each side, in words and as sums. Millimetres.

Each side has its stops: walls, arches, headboard, tail face, keep-outs, blocks that stand already,
an asked range. The nearest one governs; the second nearest says how far the next millimetre
still buys something.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from stowright.design.bay_solid import governing_reading
from stowright.design.bay_surface import (
    Curve,
    Cuts,
    Surface,
    fillet_intrusion,
    least_net,
    least_on,
    raw_on,
)
from stowright.design.bay_view import Bar, View
from stowright.model.design import Limit, SumLine
from stowright.model.geometry import Box, Span

__all__ = [
    "FAR",
    "SAME",
    "Domain",
    "Edge",
    "Hug",
    "Plan",
    "Shown",
    "Through",
    "box_over",
    "headboard_limit",
    "limits_of",
    "plain_mm",
]

type Plan = tuple[float, float, float, float]  # x low, x high, y low, y high
type Shown = Callable[[float], str]
type Hug = Literal["", "left", "right", "tail", "cab"]
type LeftRight = Literal["left", "right"]

FAR = float("inf")
#: Coordinates closer than this are the same. [mm].
SAME = 1.0e-6
#: Outwards is along its axis or against it.
_SIGNS = {"tail": -1.0, "cab": 1.0, "left": 1.0, "right": -1.0}


def plain_mm(length: float) -> str:
    """Return a length in millimetres to a tenth, as text."""
    return f"{length:.1f} mm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Through:
    """The range that a block stays in so that its drawers travel out through the doorway.

    Attributes:
        axis: Across the doorway: ``y`` at the tail, ``x`` at a side.
        low, high: Its ends, unbounded where nothing travels out. [mm]
        words: What the range is, for the limits.
    """

    axis: Literal["x", "y"]
    low: float
    high: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """One edge of the area that was asked for; ``words`` is empty for none."""

    at: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Domain:
    """The area in plan that was asked for, and the side that a smaller block stays at."""

    x_low: Edge
    x_high: Edge
    y_low: Edge
    y_high: Edge
    hugs: Hug

    @staticmethod
    def whole(*, hugs: Hug) -> Domain:
        """Return the area without an edge."""
        low, high = Edge(at=-FAR, words=""), Edge(at=FAR, words="")
        return Domain(x_low=low, x_high=high, y_low=low, y_high=high, hugs=hugs)

    def narrowed(self, axis: str, ends: tuple[float, float], words: str) -> Domain:
        """Return the area cut down to a range on ``x`` or ``y``."""
        low, high = (self.x_low, self.x_high) if axis == "x" else (self.y_low, self.y_high)
        if ends[0] > low.at:
            low = Edge(at=ends[0], words=words)
        if ends[1] < high.at:
            high = Edge(at=ends[1], words=words)
        if axis == "x":
            return replace(self, x_low=low, x_high=high)
        return replace(self, y_low=low, y_high=high)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stop:
    """Something that stops a box on one side; distances count outwards.

    Attributes:
        at: Where it stands, before allowances.
        taken: The allowances (what, how much).
        asked: An asked range and nothing that stands there.
    """

    words: str
    at: float
    taken: tuple[tuple[str, float], ...] = ()
    asked: bool = False

    @property
    def net(self) -> float:
        """How far out the box may go."""
        return self.at - sum(value for _, value in self.taken) if self.taken else self.at


def headboard_limit(view: View, *, y_low: float, y_high: float) -> float:
    """Return how far towards the cab a box across [y_low, y_high] may reach. [mm]."""
    clear = view.ask.clear("cab")
    net = least_net(view.headboard, low=y_low, high=y_high) - view.ask.lining - clear
    return net - _corner(view, y_low, y_high)


def _corner(view: View, y_low: float, y_high: float) -> float:
    """Return what a headboard that may be out of square takes beyond the end clearance."""
    if view.corner == 0.0:
        return 0.0
    nearer = view.corner * max(abs(y_low), abs(y_high))
    return max(nearer - view.ask.clear("cab"), 0.0)


def limits_of(
    *, view: View, plan: Plan, domain: Domain, shown: Shown
) -> tuple[Box, tuple[Limit, ...]]:
    """Return the box over a plan and a limit for each of its six sides.

    The box's coordinates are those of the governing stops, so that ``at`` and the allowances of a
    limit add up to the box's side.
    """
    stops = _stops(view, plan, domain)
    limits = [_limit(side, found, _SIGNS[side], shown) for side, found in stops.items()]
    return _box(view, stops), (*limits, *_heights(view, shown))


def box_over(*, view: View, plan: Plan, domain: Domain) -> Box:
    """Return the box alone that ``limits_of`` gives over a plan."""
    return _box(view, _stops(view, plan, domain))


def _box(view: View, stops: Mapping[str, list[_Stop]]) -> Box:
    sides = {side: _SIGNS[side] * found[0].net for side, found in stops.items()}
    return Box(
        x=Span(low=sides["tail"], high=sides["cab"]),
        y=Span(low=sides["right"], high=sides["left"]),
        z=view.ask.z,
    )


def _stops(view: View, plan: Plan, domain: Domain) -> dict[str, list[_Stop]]:
    """Return what stops the box on each side, nearest first."""
    lean = 0.5 * view.lean * (plan[1] - plan[0]) / view.solid.bay.length
    stops = {
        "tail": _tail_stops(view, plan, domain),
        "cab": _cab_stops(view, plan, domain),
        "left": _side_stops(view, plan, domain, "left", lean),
        "right": _side_stops(view, plan, domain, "right", lean),
    }
    ends = {"tail": -plan[0], "cab": plan[1], "left": plan[3], "right": -plan[2]}
    return {side: _ordered(found, ends[side]) for side, found in stops.items()}


def _ordered(stops: list[_Stop], end: float) -> list[_Stop]:
    """Return the stops, nearest first; where none stands at the box's end, the volume chose it."""
    ordered = sorted(stops, key=lambda stop: (stop.net, stop.words))
    if ordered[0].net > end + 1.0e-3:
        ordered.insert(0, _Stop(words="the greatest volume: farther out the bay narrows", at=end))
    return ordered


def _limit(side: str, stops: list[_Stop], sign: float, shown: Shown) -> Limit:
    """Return the limit of one side from its stops, nearest first."""
    first = stops[0]
    return Limit(
        side=side,
        governed_by=first.words,
        at=sign * first.at,
        allowances=tuple(SumLine(what=what, value=-sign * value) for what, value in first.taken),
        next=_next(stops, shown),
        beyond=_beyond(stops),
    )


def _beyond(stops: list[_Stop]) -> float:
    """Return how far behind an asked range something stands; nil where the range is not asked."""
    first = stops[0]
    if not first.asked:
        return 0.0
    return max(0.0, min((stop.at for stop in stops if not stop.asked), default=first.at) - first.at)


def _next(stops: list[_Stop], shown: Shown) -> str:
    """Return what the next millimetre would buy."""
    first = stops[0]
    second = next((stop for stop in stops[1:] if stop.net > first.net + SAME), None)
    if second is None:
        return "each millimetre more here buys one; nothing else stands behind it"
    margin = shown(second.net - first.net)
    if first.asked:
        return f"{margin} more is free beyond it, up to {second.words}"
    twin = next((stop for stop in stops[1:] if stop.net <= first.net + SAME), None)
    if twin is not None:
        return f"nothing alone: {twin.words} governs alike; both moved would buy {margin}"
    return f"each millimetre more here buys one, up to {margin}; then {second.words} governs"


# --- the stops of each side ----------------------------------------------------------------------


def _from_cuts(cuts: Cuts, low: float, high: float) -> tuple[float, float, Curve]:
    """Return (least net, where along u, on which cut)."""
    best, where, on = FAR, low, cuts.curves[0]
    for curve in cuts.curves:
        net, u = least_on(curve, low=low, high=high)
        if net < best:
            best, where, on = net, u, curve
    return best, where, on


def _surface_stop(
    view: View,
    what: str,
    surface: Surface,
    cuts: Cuts,
    span: tuple[float, float],
    taken: tuple[tuple[str, float], ...],
) -> _Stop:
    """Return the stop of a measured surface: its governing reading, error, cove, allowances."""
    net, u, curve = _from_cuts(cuts, span[0], span[1])
    at = raw_on(curve, u=u)
    cove = fillet_intrusion(radius=view.solid.bay.cove, z=curve.z)
    error = at - net - cove
    lines = (("reading error", error), ("cove at the underside", cove), *taken)
    return _Stop(
        words=f"{what}: {governing_reading(surface, u=u, z=curve.z)}", at=at, taken=_kept(lines)
    )


def _kept(lines: tuple[tuple[str, float], ...]) -> tuple[tuple[str, float], ...]:
    """Return the lines that take something."""
    return tuple(line for line in lines if abs(line[1]) > 1.0e-12)


def _clear_name(view: View, side: str) -> str:
    """Return what the clearance on a side is called."""
    if side == view.ask.face:
        return "clear at the face"
    return "end clear" if side == "cab" else "side clear"


def _side_stops(
    view: View, plan: Plan, domain: Domain, side: LeftRight, lean: float
) -> list[_Stop]:
    """Return what stops the box towards the left or the right."""
    ask, x = view.ask, (plan[0], plan[1])
    name = _clear_name(view, side)
    shared = (("lining", ask.lining), ("lean of the side walls, half its share", lean))
    surface = view.solid.left if side == "left" else view.solid.right
    taken = (*shared, (name, ask.clear(side)))
    stops = [_surface_stop(view, f"{side} wall", surface, view.wall_cuts(side), x, taken)]
    for arch in view.arches:
        if arch.arch.side == side and arch.low < x[1] - SAME and arch.high > x[0] + SAME:
            taken = (*shared, (name, ask.clear_to_arch(side)))
            along = arch.along(*x)
            stops.append(
                _surface_stop(view, f"{side} arch", arch.arch.inner, arch.cuts, along, taken)
            )
    high = plan[3] if side == "left" else -plan[2]
    for bar in view.bars:
        near, stands = (bar.y[0], bar.box.y.low) if side == "left" else (-bar.y[1], -bar.box.y.high)
        if bar.x[0] < x[1] - SAME and bar.x[1] > x[0] + SAME and near >= high - 1.0e-3:
            stops.append(_Stop(words=bar.words, at=stands, taken=_bar_taken(bar, name)))
    edge = domain.y_high if side == "left" else domain.y_low
    if edge.words:
        at = edge.at if side == "left" else -edge.at
        stops.append(_Stop(words=edge.words, at=at, asked=True))
    return stops


def _bar_taken(bar: Bar, clear: str) -> tuple[tuple[str, float], ...]:
    """Return what a bar takes: its reading error and the clearance to it."""
    return _kept((("reading error", bar.error), (clear, bar.clear)))


def _tail_stops(view: View, plan: Plan, domain: Domain) -> list[_Stop]:
    """Return what stops the box towards the tail; distances are -x."""
    error = view.solid.bay.reading_error if view.tail_reading else 0.0
    words = "the tail plane at floor height"
    if view.tail_reading:
        words = f"tail face leaning in: {view.tail_reading}"
    taken = (
        ("reading error", error),
        (_clear_name(view, "tail"), view.ask.clear("tail")),
    )
    stops = [_Stop(words=words, at=-view.tail_at, taken=_kept(taken))]
    stops.extend(_stops_along(view, plan, "tail"))
    if domain.x_low.words:
        stops.append(_Stop(words=domain.x_low.words, at=-domain.x_low.at, asked=True))
    return stops


def _cab_stops(view: View, plan: Plan, domain: Domain) -> list[_Stop]:
    """Return what stops the box towards the cab."""
    ask, across = view.ask, (plan[2], plan[3])
    taken = (
        ("lining", ask.lining),
        ("headboard may be out of square", _corner(view, *across)),
        ("end clear", ask.clear("cab")),
    )
    surface = view.solid.headboard
    stops = [_surface_stop(view, "headboard", surface, view.headboard, across, taken)]
    stops.extend(_stops_along(view, plan, "cab"))
    if domain.x_high.words:
        stops.append(_Stop(words=domain.x_high.words, at=domain.x_high.at, asked=True))
    return stops


def _stops_along(view: View, plan: Plan, side: Literal["tail", "cab"]) -> list[_Stop]:
    """Return the arches and bars that stop the box along x."""
    stops = []
    name = _clear_name(view, side)
    cove = fillet_intrusion(radius=view.solid.bay.cove, z=view.ask.z.low)
    for arch in view.arches:
        inner = arch.least(low=arch.arch.start, high=arch.arch.end)
        out = plan[3] if arch.arch.side == "left" else -plan[2]
        if out <= inner + SAME:
            continue
        near, stands, field = (
            (arch.low, arch.arch.start, "start")
            if side == "cab"
            else (-arch.high, -arch.arch.end, "end")
        )
        taken = (
            ("reading error", view.solid.bay.reading_error),
            ("cove at the underside", cove),
            ("lining", view.ask.lining),
            (name if side == view.ask.face else "side clear", view.ask.clear_to_arch(side)),
        )
        if near >= (plan[1] if side == "cab" else -plan[0]) - 1.0e-3:
            words = f"{arch.arch.side} arch: {arch.arch.field}.{field}"
            stops.append(_Stop(words=words, at=stands, taken=_kept(taken)))
    for bar in view.bars:
        near, stands = (bar.x[0], bar.box.x.low) if side == "cab" else (-bar.x[1], -bar.box.x.high)
        inside = bar.y[0] < plan[3] - SAME and bar.y[1] > plan[2] + SAME
        if inside and near >= (plan[1] if side == "cab" else -plan[0]) - 1.0e-3:
            stops.append(_Stop(words=bar.words, at=stands, taken=_bar_taken(bar, "side clear")))
    return stops


def _heights(view: View, shown: Shown) -> tuple[Limit, Limit]:
    """Return the limits of floor and top: the caller chose the heights."""
    z, bay = view.ask.z, view.solid.bay
    floor = Limit(
        side="floor",
        governed_by="the carcass's underside, on top of its packers",
        at=z.low,
        allowances=(),
        next="thinner packers would buy height",
    )
    if bay.clear_height is None:
        text = "open above"
    else:
        room = bay.clear_height - bay.reading_error - view.ask.lining - z.high
        text = f"{shown(room)} more up to bay.clear_height less the reading error"
        if room < 0.0:
            text = f"stands {shown(-room)} above bay.clear_height less the reading error"
    top = Limit(side="top", governed_by="the height asked for", at=z.high, allowances=(), next=text)
    return floor, top
