"""The largest axis-aligned box that a block can have in the bay. Millimetres.

Walls that taper, arches that stand in part of the length and things that bar the way make several
boxes possible: between the arches over the whole length, or before or behind them at full width.
The candidates begin and end where something begins or ends along x (tail, arch, keep-out, a block
that stands already, headboard, an asked range, a station where the walls taper steeply); across,
each takes all that is free. The greatest volume wins. A box whose face is barred (an arch, a
keep-out or a block between its face and the doorway) counts half: a drawer could not come out
there. Where walls narrow steeply the ends of a box are drawn in to where its volume is greatest.

What is taken off, and in which order, is in ``bay_view``; each side is explained by ``box_limits``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from math import sqrt

from stowright.design.bay_solid import BaySolid, bay_solid, coverage_warnings
from stowright.design.bay_view import Ask, Strip, View, strip_between, view_of
from stowright.design.box_limits import (
    FAR,
    SAME,
    Domain,
    Hug,
    Plan,
    Shown,
    Through,
    box_over,
    headboard_limit,
    limits_of,
    plain_mm,
)
from stowright.errors import DesignError
from stowright.model.bay import Bay, Face
from stowright.model.design import Skew, UsableBox
from stowright.model.geometry import Box, Span
from stowright.model.job import Place

__all__ = ["free_box", "usable_box"]

#: A strip narrower than this is no place for a block. [mm].
LEAST_STRIP = 60.0
#: A box whose face is barred counts this much.
BARRED = 0.5
#: Of boxes at least this share of the greatest, "tail" and "cab" take the one nearest to it.
NEAR_ENOUGH = 0.5
#: Two boxes whose volumes differ by less than this share are equal.
EQUAL = 1.0e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class _Candidate:
    """A box in plan with its score."""

    plan: Plan
    score: float


def usable_box(
    *,
    bay: Bay,
    skew: Skew,
    block: str,
    face: Face,
    place: Place,
    z: Span,
    side_clear: float,
    end_clear: float,
    clear_at_face: float,
    lining: float,
    obstacles: tuple[Box, ...] = (),
    beside: Box | None = None,
    over_arches: bool = False,
    through: Through | None = None,
    shown: Shown = plain_mm,
) -> UsableBox:
    """Return the largest box a block can have, and what limits each of its sides.

    Args:
        bay: The bay, as measured.
        skew: How far it is out of square.
        block: The block's name, for the limits and for a refusal.
        face: The side it opens to.
        place: Where it goes; its ranges are intersected with what is possible.
        z: Heights of the carcass: z.low is its underside, on top of the packers. [mm]
        side_clear: To walls, arches, keep-outs and, unless it is the face, to the tail. [mm]
        end_clear: To the headboard. [mm]
        clear_at_face: From the face plane, with all that projects before it. [mm]
        lining: Thickness of the lining on the bay's walls. [mm]
        obstacles: Blocks that stand already, with the gap to them.
        beside: The block that this one stands next to.
        over_arches: The body stands over the arches: 15 above them, 10 clear of their sheet.
        through: The doorway that its drawers travel out through.
        shown: How a length is printed in the limits.

    Raises:
        DesignError: If nothing is free there.
    """
    if place.z is not None:
        z = Span(low=max(z.low, place.z[0]), high=min(z.high, place.z[1]))
    if not z.size > 0.0:
        reason = "no height is left between its packers and its top or its asked range"
        raise DesignError(block, reason, "give it more height")
    ask = Ask(
        block=block,
        face=face,
        z=z,
        side_clear=side_clear,
        end_clear=end_clear,
        clear_at_face=clear_at_face,
        lining=lining,
        over_arches=over_arches,
        obstacles=obstacles,
    )
    found = _largest(bay, skew, ask, (place, beside, through), shown)
    if found is None:
        raise DesignError(block, _why_not(place), "give it another place or a lower height")
    return found


@lru_cache(maxsize=1024)
def _largest(
    bay: Bay,
    skew: Skew,
    ask: Ask,
    where: tuple[Place, Box | None, Through | None],
    shown: Shown,
) -> UsableBox | None:
    """Return the largest box; None where nothing is free.

    Remembered: a search that changes sheets, runners or columns asks for the same box again.
    """
    found = _greatest(bay, skew, ask, where)
    return None if found is None else _finished(*found, shown)


@lru_cache(maxsize=1024)
def free_box(bay: Bay, skew: Skew, ask: Ask, place: Place) -> Box | None:
    """Return the largest free box alone, without what limits it; None where nothing is free.

    Remembered like ``usable_box``, whose box it is.
    """
    found = _greatest(bay, skew, ask, (place, None, None))
    if found is None:
        return None
    view, plan, domain = found
    return box_over(view=view, plan=plan, domain=domain)


def _greatest(
    bay: Bay, skew: Skew, ask: Ask, where: tuple[Place, Box | None, Through | None]
) -> tuple[View, Plan, Domain] | None:
    solid = bay_solid(bay)
    view = view_of(solid=solid, skew=skew, ask=ask)
    place, beside, through = where
    for group in _domain_groups(solid, ask.face, place, beside, through):
        found = [(_best(view, domain, place, beside), domain) for domain in group]
        fitting = [(best, domain) for best, domain in found if best is not None]
        if fitting:
            best, domain = max(fitting, key=lambda pair: pair[0].score)
            return view, best.plan, domain
    return None


def _finished(view: View, plan: Plan, domain: Domain, shown: Shown) -> UsableBox:
    """Return the box with its limits; their coordinates are the box's own."""
    box, limits = limits_of(view=view, plan=plan, domain=domain, shown=shown)
    return UsableBox(
        block=view.ask.block,
        box=box,
        limits=limits,
        hugs=domain.hugs,
        warnings=coverage_warnings(view.solid, z=view.ask.z),
    )


def _why_not(place: Place) -> str:
    """Return in words why nothing is free."""
    ranges = "".join(f", place.{axis}" for axis in "xy" if getattr(place, axis) is not None)
    return (
        "no room is left for it between tail, walls, arches, headboard, keep-outs and the blocks "
        f"that stand already{ranges}"
    )


# --- where it may lie ----------------------------------------------------------------------------


def _domain_groups(
    solid: BaySolid, face: Face, place: Place, beside: Box | None, through: Through | None
) -> tuple[tuple[Domain, ...], ...]:
    """Return the areas to search; a later group is tried when an earlier one has no room."""
    domain = Domain.whole(hugs="" if place.word == "fill" else place.word)
    for axis, asked in (("x", place.x), ("y", place.y)):
        if asked is not None:
            domain = domain.narrowed(axis, asked, f"the asked range (block.place.{axis})")
    doorway = _side_doorway(solid, face, place)
    if doorway is not None:
        domain = domain.narrowed("x", doorway[0], doorway[1])
    if through is not None:
        domain = domain.narrowed(through.axis, (through.low, through.high), through.words)
    if beside is None:
        return ((domain,),)
    across = ("y", "x") if face == "tail" else ("x", "y")
    return tuple(_next_to(domain, beside, axis, place.beside) for axis in across)


def _side_doorway(
    solid: BaySolid, face: Face, place: Place
) -> tuple[tuple[float, float], str] | None:
    """Return the side doorway that a filling block stays in, when its place is known."""
    if face == "tail" or place.word != "fill" or place.x is not None or place.beside:
        return None
    for number, opening in enumerate(solid.bay.openings, start=1):
        if opening.face == face and opening.at is not None:
            ends = (opening.at, opening.at + opening.width)
            return ends, f"the {face} doorway (bay.opening[{number}])"
    return None


def _next_to(domain: Domain, beside: Box, axis: str, name: str) -> tuple[Domain, ...]:
    """Return the areas on both sides of a block along one axis."""
    span = beside.y if axis == "y" else beside.x
    words = f"block {name!r} beside it" if name else "the block beside it"
    far = float("inf")
    hugs: tuple[Hug, Hug] = ("right", "left") if axis == "y" else ("tail", "cab")
    return (
        replace(domain.narrowed(axis, (span.high, far), words), hugs=hugs[0]),
        replace(domain.narrowed(axis, (-far, span.low), words), hugs=hugs[1]),
    )


# --- the search ----------------------------------------------------------------------------------


def _best(view: View, domain: Domain, place: Place, beside: Box | None) -> _Candidate | None:
    """Return the best box in one area, or None."""
    found = [
        _Candidate(plan=plan, score=_volume(plan) * (BARRED if barred else 1.0))
        for plan, barred in _plans(view, domain)
        if beside is None or _neighbours(plan, beside, domain.hugs)
    ]
    if not found:
        return None
    if place.word in {"tail", "cab"}:
        found = _nearest_to(found, place.word)
    greatest = max(candidate.score for candidate in found)
    equal = [c for c in found if c.score >= greatest * (1.0 - EQUAL)]
    return min(equal, key=lambda c: (c.plan[0] - c.plan[1], c.plan))


def _nearest_to(found: list[_Candidate], end: str) -> list[_Candidate]:
    """Return, of the boxes not much smaller than the greatest, those nearest to tail or cab."""
    greatest = max(candidate.score for candidate in found)
    near = [c for c in found if c.score >= NEAR_ENOUGH * greatest]
    if end == "tail":
        edge = min(c.plan[0] for c in near)
        return [c for c in near if c.plan[0] <= edge + 1.0]
    edge = max(c.plan[1] for c in near)
    return [c for c in near if c.plan[1] >= edge - 1.0]


def _volume(plan: Plan) -> float:
    """Return the area in plan: every candidate is equally high."""
    return (plan[1] - plan[0]) * (plan[3] - plan[2])


def _neighbours(plan: Plan, beside: Box, hugs: Hug) -> bool:
    """Tell whether a box stands next to a block: facing it, with no more than a strip between."""
    if hugs in {"left", "right"}:
        facing = min(plan[1], beside.x.high) - max(plan[0], beside.x.low)
        apart = beside.y.low - plan[3] if hugs == "left" else plan[2] - beside.y.high
    else:
        facing = min(plan[3], beside.y.high) - max(plan[2], beside.y.low)
        apart = beside.x.low - plan[1] if hugs == "cab" else plan[0] - beside.x.high
    return facing > 0.0 and apart < LEAST_STRIP


def _cuts(view: View, domain: Domain, farthest: float) -> list[float]:
    """Return where along x a box may begin or end."""
    low = max(view.tail, domain.x_low.at)
    high = min(farthest, domain.x_high.at)
    if not high > low:
        return []
    marks = {low, high, *view.solid.steep}
    for arch in view.arches:
        marks.update((arch.low, arch.high))
    for bar in view.bars:
        marks.update(bar.x)
    return sorted(mark for mark in marks if low <= mark <= high)


def _plans(view: View, domain: Domain) -> Iterator[tuple[Plan, bool]]:
    """Yield every box worth comparing, with whether its face is barred."""
    clear = view.ask.lining + view.ask.clear("cab")
    farthest = max(max(curve.net) for curve in view.headboard.curves) - clear
    nearest = min(view.headboard.least) - clear
    open_to = nearest if view.corner == 0.0 else -FAR
    cuts = _cuts(view, domain, farthest)
    strips = [strip_between(view, a, b) for a, b in pairwise(cuts)]
    for i in range(len(strips)):
        left = right = FAR
        bars: frozenset[int] = frozenset()
        for j in range(i, len(strips)):
            left, right = min(left, strips[j].left), min(right, strips[j].right)
            bars |= strips[j].bars
            for plan in _across(view, domain, (cuts[i], cuts[j + 1]), (left, right), bars, open_to):
                barred = _barred(view, plan, strips[:i], strips[i : j + 1])
                yield plan, barred
                if view.solid.steep:
                    yield _tuned(view, domain, plan), barred


def _across(
    view: View,
    domain: Domain,
    x: tuple[float, float],
    sides: tuple[float, float],
    bars: frozenset[int],
    open_to: float,
) -> Iterator[Plan]:
    """Yield the boxes over a length: one in each free strip across.

    Up to ``open_to`` the headboard stands in nobody's way and is not asked.
    """
    lean = 0.5 * view.lean * (x[1] - x[0]) / view.solid.bay.length
    low = max(lean - sides[1], domain.y_low.at)
    high = min(sides[0] - lean, domain.y_high.at)
    free = [(low, high)] if high > low else []
    if bars:
        free = _free(free, sorted(view.bars[k].y for k in bars))
        if domain.hugs in {"left", "right"}:
            wide = [strip for strip in free if strip[1] - strip[0] >= LEAST_STRIP] or free
            free = wide[-1:] if domain.hugs == "left" else wide[:1]
    if x[1] <= open_to:
        yield from ((*x, *strip) for strip in free)
        return
    for strip in _at_headboard(view, free):
        end = min(x[1], headboard_limit(view, y_low=strip[0], y_high=strip[1]))
        if end > x[0]:
            yield (x[0], end, strip[0], strip[1])


def _free(
    free: list[tuple[float, float]], barred: list[tuple[float, float]]
) -> list[tuple[float, float]]:
    """Return what is left of ranges, from the right to the left wall, less the barred ones."""
    for bar in barred:
        parts: list[tuple[float, float]] = []
        for low, high in free:
            parts.extend(((low, min(high, bar[0])), (max(low, bar[1]), high)))
        free = [part for part in parts if part[1] > part[0]]
    return free


def _at_headboard(view: View, free: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return the free strips, also cut at the headboard's stations where it steps steeply."""
    grid = view.solid.headboard.grid
    if not view.solid.headboard_steep:
        return free
    strips: list[tuple[float, float]] = []
    for low, high in free:
        ys = [low, *(y for y in grid if low < y < high), high]
        strips.extend((a, b) for k, a in enumerate(ys) for b in ys[k + 1 :])
    return strips


def _barred(view: View, plan: Plan, before: list[Strip], own: list[Strip]) -> bool:
    """Tell whether an arch, a keep-out or a block stands between the face and its doorway."""
    low, high = plan[2], plan[3]
    if view.ask.face == "tail":
        return any(
            strip.arch_left < high - 1.0
            or strip.arch_right < -low - 1.0
            or any(
                view.bars[k].y[0] < high - 1.0 and view.bars[k].y[1] > low + 1.0 for k in strip.bars
            )
            for strip in before
        )
    if view.ask.face == "left":
        return any(
            strip.arch_left < FAR or any(view.bars[k].y[1] > high for k in strip.bars)
            for strip in own
        )
    return any(
        strip.arch_right < FAR or any(view.bars[k].y[0] < low for k in strip.bars) for strip in own
    )


# --- steep walls ---------------------------------------------------------------------------------


def _tuned(view: View, domain: Domain, plan: Plan) -> Plan:
    """Return a box with its ends drawn in to where its volume is greatest.

    Between marks the free width is concave in either end and the length linear: their product has
    one top, which golden sections close in on.
    """
    caps = _caps(view, domain, plan)
    start, end = plan[0], plan[1]
    marks = [x for x in _marks(view) if start < x < end] or [start, end]

    def by_end(x: float) -> float:
        return (x - start) * _size(_across_at(view, start, x, caps))

    if marks[-1] < end:
        end = _top(by_end, marks[-1], end)

    def by_start(x: float) -> float:
        return (end - x) * _size(_across_at(view, x, end, caps))

    if start < marks[0] < end:
        start = _top(by_start, start, marks[0])
    low, high = _across_at(view, start, end, caps)
    return (start, min(end, headboard_limit(view, y_low=low, y_high=high)), low, high)


def _size(ends: tuple[float, float]) -> float:
    """Return the length of a range, none when it is empty."""
    return max(ends[1] - ends[0], 0.0)


def _marks(view: View) -> list[float]:
    """Return where along x a wall bends or an arch begins or ends."""
    ends = [x for arch in view.arches for x in (arch.low, arch.high)]
    return sorted({*view.solid.left.grid, *ends})


def _caps(view: View, domain: Domain, plan: Plan) -> tuple[float, float]:
    """Return how far a box drawn in along x may widen before it meets a bar or an asked edge."""
    near = [bar for bar in view.bars if bar.x[0] < plan[1] and bar.x[1] > plan[0]]
    high = min([bar.y[0] for bar in near if bar.y[0] >= plan[3] - SAME], default=FAR)
    low = max([bar.y[1] for bar in near if bar.y[1] <= plan[2] + SAME], default=-FAR)
    return max(low, domain.y_low.at), min(high, domain.y_high.at)


def _across_at(
    view: View, start: float, end: float, caps: tuple[float, float]
) -> tuple[float, float]:
    """Return the range across that is free over a length, between its caps."""
    strip = strip_between(view, start, end)
    left, right = strip.left, strip.right
    for arch in view.arches:
        if arch.low < end - SAME and arch.high > start + SAME:
            net = arch.least(low=start, high=end)
            if arch.arch.side == "left":
                left = min(left, net)
            else:
                right = min(right, net)
    lean = 0.5 * view.lean * (end - start) / view.solid.bay.length
    return max(lean - right, caps[0]), min(left - lean, caps[1])


def _top(value: Callable[[float], float], low: float, high: float) -> float:
    """Return where a function with one top is greatest, to a thousandth of a millimetre."""
    golden = (sqrt(5.0) - 1.0) / 2.0
    a, b = high - golden * (high - low), low + golden * (high - low)
    at_a, at_b = value(a), value(b)
    while high - low > 1.0e-3:
        if at_a > at_b:
            high, b, at_b = b, a, at_a
            a = high - golden * (high - low)
            at_a = value(a)
        else:
            low, a, at_a = a, b, at_b
            b = low + golden * (high - low)
            at_b = value(b)
    return max((low, (low + high) / 2.0, high), key=value)
