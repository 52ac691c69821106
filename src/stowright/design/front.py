"""Drawer fronts, locker doors and blanks: size, place, the notch that reaches a lever."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Literal

from stowright.design.arrange import OpeningPlan
from stowright.design.carcass import CROSS
from stowright.design.context import Context
from stowright.design.frame import BlockFrame
from stowright.design.panel import Place3, panel
from stowright.design.pieces import Piece
from stowright.design.sums import changed, fitted, line
from stowright.errors import DesignError
from stowright.model.catalogue import Runner
from stowright.model.design import Sum
from stowright.model.geometry import Point2, Span
from stowright.model.job import Build
from stowright.model.part import Feature
from stowright.model.refit import Change
from stowright.units import tidy

__all__ = ["FrontOwner", "FrontPlan", "Laps", "Lever", "make_front", "plan_front"]

#: Room for a finger beside a lever (common practice). [mm]
FINGER = 8.0
#: Room for a finger above and below a lever. [mm]
FINGER_UP = 12.0
#: A strip of ply narrower than this beside a notch breaks off: the notch takes it too. [mm]
SLIVER = 12.0
#: A notch lower than this cannot be reached into with a glove (common practice). [mm]
LEAST_NOTCH_HEIGHT = 50.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Laps:
    """How far an overlay front reaches past the opening on each side; negative: short of it."""

    left: float
    right: float
    below: float
    above: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Lever:
    """Where a lock's lever sits behind the front.

    Attributes:
        runner: Its runner (for the envelope).
        up: Height of the runner's centre line in the block's frame. [mm]
        side_space: Space between the box and the upright. [mm]
    """

    runner: Runner
    up: float
    side_space: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontPlan:
    """A front's place in the block's frame and its sums."""

    across: Span
    up: Span
    depth: Span
    sums: tuple[Sum, ...]


def plan_front(
    context: Context,
    opening: OpeningPlan,
    build: Build,
    *,
    laps: Laps,
    narrow_to: float | None = None,
    sheet: str = "",
) -> FrontPlan:
    """Return the size and place of a front.

    Args:
        context: The job.
        opening: The opening it closes.
        build: The fill's methods.
        laps: Limits of an overlay front's lap on each side.
        narrow_to: Width of a narrow front that leaves the levers free, or None.
        sheet: Material when it is not ``front_sheet``.

    Raises:
        DesignError: When the job's lap is more than the neighbours leave, or nothing is left of
            the front between its gaps.
    """
    t = context.t(sheet or build.front_sheet)
    name = opening.fill.name
    if build.front == "inset":
        gap = build.front_gap
        around = Laps(left=-gap, right=-gap, below=-gap, above=-gap)
        depth = Span(low=0.0, high=t)
    else:
        around = _allowed_laps(name, build, laps)
        depth = Span(low=-t, high=0.0)
    refit = context.refit_of(name)
    width = _side_sum(
        f"{name}: front width",
        opening.across.size,
        around.left,
        around.right,
        ("left", "right"),
        context.grid,
        refit.front_across if refit else None,
    )
    if narrow_to is not None:
        width = fitted(
            f"{name}: front width",
            line("box width, levers left free", narrow_to),
            grid=context.grid,
        )
        middle = opening.across.middle
        left = tidy(middle - width.result / 2.0)
    else:
        room = tidy(opening.across.size + around.left + around.right)
        slack = room - width.result
        left = tidy(opening.across.low - around.left + slack / 2.0)
    height = _side_sum(
        f"{name}: front height",
        opening.fit_height,
        around.below,
        around.above,
        ("below", "above"),
        context.grid,
        refit.front_up if refit else None,
    )
    _require_front(name, min(width.result, height.result), build.front_gap)
    low = tidy(opening.up.low - around.below)
    return FrontPlan(
        across=Span(low=left, high=tidy(left + width.result)),
        up=Span(low=low, high=tidy(low + height.result)),
        depth=depth,
        sums=(width, height),
    )


def _require_front(name: str, least: float, gap: float) -> None:
    if not least > 0.0:
        raise DesignError(
            name,
            f"nothing is left of its front between gaps of {gap:g} mm",
            "a smaller front_gap, or a larger opening",
        )


def _side_sum(
    size_of: str,
    clear: float,
    one: float,
    two: float,
    sides: tuple[str, str],
    grid: float,
    change: Change | None,
) -> Sum:
    word = "lap" if one + two > 0.0 else "front gap"
    return fitted(
        size_of,
        line("opening", clear),
        line(f"{word}, {sides[0]}", one),
        line(f"{word}, {sides[1]}", two),
        *changed(change),
        grid=grid,
    )


def _allowed_laps(name: str, build: Build, limits: Laps) -> Laps:
    if build.lap is None:
        return limits
    shortest = min(limits.left, limits.right)
    if build.lap > shortest + 1.0e-6:
        raise DesignError(
            name,
            f"a lap of {build.lap:g} mm runs into its neighbour; {shortest:.1f} mm are left",
            f"a lap of {shortest:.1f} mm or less",
        )
    lap = build.lap
    return Laps(left=lap, right=lap, below=min(lap, limits.below), above=min(lap, limits.above))


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontOwner:
    """Names for a front's piece."""

    frame: BlockFrame
    block: str
    module: str
    opening: str
    body: str
    word: str
    name: str
    role: Literal["drawer-front", "door", "blank"]
    material: str


def make_front(
    owner: FrontOwner, plan: FrontPlan, *, how: str = "none", lever: Lever | None = None
) -> Piece:
    """Return the front's piece, with its lever notches or holes.

    Args:
        owner: Names and material.
        plan: Its place.
        how: ``notch``, ``hand-hole``, ``narrow`` or ``none``.
        lever: Where the lever is, or None when the runner has none.
    """
    width, height = plan.across.size, plan.up.size
    outline: tuple[Point2, ...] = ()
    features: tuple[Feature, ...] = ()
    if lever is not None and how == "notch":
        outline, features = _notched(plan, lever, width, height)
    elif lever is not None and how == "hand-hole":
        features = _holes(plan, lever, width, height)
    return panel(
        owner.frame,
        Place3(across=plan.across, depth=plan.depth, up=plan.up),
        CROSS,
        piece_id=f"{owner.opening}/{owner.word}",
        name=owner.name,
        role=owner.role,
        block=owner.block,
        body=owner.body,
        material=owner.material,
        module=owner.module,
        opening=owner.opening,
        release="B",
        waits_for=f"{owner.opening}: opening at the face",
        edges=("u0", "u1", "v0", "v1"),
        outline=outline,
        features=features,
        exposed=True,
    )


def _lever_rows(plan: FrontPlan, lever: Lever, height: float) -> tuple[float, float]:
    """Return the height range that frees the lever, in the front's own frame."""
    envelope = lever.runner.lever or (0.0, 0.0, 0.0)
    tall = max(envelope[1] + 2.0 * FINGER_UP, LEAST_NOTCH_HEIGHT)
    middle = lever.up - plan.up.low
    low = float(ceil(max(0.0, middle - tall / 2.0)))
    high = low + float(ceil(tall))
    return (low if low >= SLIVER else 0.0), (high if height - high >= SLIVER else height)


def _notched(
    plan: FrontPlan, lever: Lever, width: float, height: float
) -> tuple[tuple[Point2, ...], tuple[Feature, ...]]:
    low, high = _lever_rows(plan, lever, height)
    overlay = plan.depth.low < 0.0
    # An overlay front hides the upright's edge as well; its lap is no more than the sheet.
    reach = lever.side_space + FINGER + (plan.depth.size if overlay else 0.0)
    deep = float(ceil(min(reach, width / 4.0)))
    outline = _waisted(width, height, deep, low, high)
    features = tuple(
        Feature(
            kind="notch",
            face="good",
            at=(u, low),
            size=(deep, high - low),
            depth=plan.depth.size,
            through=True,
            purpose=f"notch to reach the lock lever, {side}",
        )
        for side, u in (("left", 0.0), ("right", tidy(width - deep)))
    )
    return outline, features


def _waisted(
    width: float, height: float, deep: float, low: float, high: float
) -> tuple[Point2, ...]:
    """Return a rectangle with a bite out of each side between two heights, counter-clockwise."""
    foot = ((0.0, 0.0), (width, 0.0), (width, low)) if low > 0.0 else ()
    head = ((width, high), (width, height), (0.0, height), (0.0, high)) if high < height else ()
    right = ((width - deep, low), (width - deep, high))
    left = ((deep, high), (deep, low))
    tail = ((0.0, low),) if low > 0.0 else ()
    points = (*foot, *right, *head, *left, *tail)
    return tuple((tidy(u), tidy(v)) for u, v in points)


def _holes(plan: FrontPlan, lever: Lever, width: float, height: float) -> tuple[Feature, ...]:
    low, high = _lever_rows(plan, lever, height)
    across = 22.0
    inset = 8.0
    if height - high < inset:
        high = height - inset
    low = max(low, inset)
    return tuple(
        Feature(
            kind="hand-hole",
            face="good",
            at=(u, low),
            size=(across, tidy(high - low)),
            depth=plan.depth.size,
            through=True,
            radius=across / 2.0,
            purpose=f"hand-hole to reach the lock lever, {side}",
        )
        for side, u in (("left", inset), ("right", tidy(width - inset - across)))
    )
