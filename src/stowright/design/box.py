"""Drawer boxes and trays: sides, inner front and back, bottom; grooved, planted or between."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from stowright.design.carcass import (
    CROSS,
    FLAT_ACROSS,
    FLAT_LONG,
    UPRIGHT_LEFT,
    UPRIGHT_RIGHT,
    let_in_depth,
)
from stowright.design.context import Context
from stowright.design.frame import BlockFrame
from stowright.design.let_in import Cut, let_in_all
from stowright.design.panel import Lie, Place3, panel
from stowright.design.pieces import JointDraft, Piece
from stowright.design.sums import changed, fitted, line, stated
from stowright.design.tab_joints import TAB_AND_SLOT, tabbed, with_tab_joints
from stowright.errors import DesignError
from stowright.model.catalogue import Runner, RunnerSize
from stowright.model.design import BoxSize, Sum
from stowright.model.geometry import Span
from stowright.model.job import Build
from stowright.model.part import Edge
from stowright.model.refit import OpeningRefit
from stowright.units import snap_down, tidy

__all__ = [
    "BoxOwner",
    "BoxPieces",
    "BoxPlan",
    "BoxQuestion",
    "box_mass_kg",
    "make_box",
    "make_flat_tray",
    "plan_box",
    "runner_zone",
]


#: Above and below a runner's holes that no slot may reach into (judgement). [mm]
_ROUND_HOLES = 8.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxPlan:
    """Sizes of a box in the block's frame, snapped, with their sums.

    Attributes:
        across, depth, up: The box over all (a planted bottom included).
        inner_width: Between the sides.
        side_height: Height of sides, inner front and back.
        t, t_end, t_bottom: Thickness of its sides, of its inner front and back, of its bottom.
        side_space: Space each side, linings not counted; as the opening reads, if it was read.
    """

    name: str
    size: BoxSize
    across: Span
    depth: Span
    up: Span
    inner_width: float
    side_height: float
    t: float
    t_end: float
    t_bottom: float
    side_space: float
    bottom_low: float
    sums: tuple[Sum, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxPieces:
    """The pieces of a box and their joints."""

    pieces: tuple[Piece, ...]
    drafts: tuple[JointDraft, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxQuestion:
    """Where a box goes.

    Attributes:
        across: Clear opening across.
        up_low: Bottom of the clear opening. fit_height: the height it is made for.
        start: Where the box begins behind the face plane.
        length: Box length.
        side_space: Space aimed at, each side. lining: each side.
        side_height: Fixed side height for a tray, or None for all that fits.
    """

    name: str
    build: Build
    across: Span
    up_low: float
    fit_height: float
    start: float
    length: float
    side_space: float
    lining: float
    side_height: float | None = None


def plan_box(context: Context, ask: BoxQuestion) -> BoxPlan:
    """Return the sizes of a box in an opening."""
    build = ask.build
    refit = context.refit_of(ask.name)
    t_end, t_bottom = context.t(build.drawer), context.t(build.drawer_bottom)
    t = refit.t if refit and refit.t is not None else t_end
    inner = fitted(
        f"{ask.name}: inner front and back",
        line("opening width", ask.across.size),
        line("runner space, left", -ask.side_space),
        line("runner space, right", -ask.side_space),
        *((line("linings", -2.0 * ask.lining),) if ask.lining else ()),
        line("box side, left", -t),
        line("box side, right", -t),
        *changed(refit.box_across if refit else None),
        grid=context.grid,
    )
    width = stated(
        f"{ask.name}: box width",
        line("inner front", inner.result),
        line("box side, left", t),
        line("box side, right", t),
    )
    planted = t_bottom if build.bottom_fit == "planted" else 0.0
    height = _height(context, ask, planted, refit)
    if ask.side_height is None:
        _require_groove(ask, height.result, t_bottom)
    play = (ask.across.size - width.result) / 2.0
    low = ask.up_low + build.under_gap
    up = Span(low=tidy(low), high=tidy(low + planted + height.result))
    check = stated(
        f"{ask.name}: across the opening, wall to wall",
        line("runner space, left", play),
        line("box width", width.result),
        line("runner space, right", play),
    )
    side_low = up.low + planted
    bottom_low = {
        "grooved": side_low + build.groove_up,
        "between": side_low,
        "planted": up.low,
    }[build.bottom_fit]
    return BoxPlan(
        name=ask.name,
        size=BoxSize(
            width=width.result, height=height.result, length=ask.length, under=tidy(planted)
        ),
        across=Span(low=tidy(ask.across.low + play), high=tidy(ask.across.high - play)),
        depth=Span(low=tidy(ask.start), high=tidy(ask.start + ask.length)),
        up=up,
        inner_width=inner.result,
        side_height=height.result,
        t=t,
        t_end=t_end,
        t_bottom=t_bottom,
        side_space=tidy(play - ask.lining + (refit.roomier / 2.0 if refit else 0.0)),
        bottom_low=tidy(bottom_low),
        sums=(inner, width, height, check),
    )


def _require_groove(ask: BoxQuestion, side: float, t_bottom: float) -> None:
    """A groove for the bottom lies within a side that is one, with wood over it."""
    build = ask.build
    needed = build.groove_up + t_bottom
    if build.bottom_fit == "grooved" and 2.0 * t_bottom < side <= needed:
        raise DesignError(
            ask.name,
            f"a groove {build.groove_up:g} mm up for a bottom of {t_bottom:g} mm needs a side "
            f"higher than {needed:g} mm; it is {side:.1f} mm",
            "a smaller groove_up, or a higher opening",
        )


def _height(context: Context, ask: BoxQuestion, planted: float, refit: OpeningRefit | None) -> Sum:
    name = f"{ask.name}: box side height"
    if refit is not None and refit.side_height is not None:
        return stated(name, line("as the sides are cut", refit.side_height))
    if ask.side_height is not None:
        return fitted(name, line("as the job says", ask.side_height), grid=context.grid)
    terms = [
        line("opening height", ask.fit_height),
        line("gap under the box", -ask.build.under_gap),
        line("gap over the box", -ask.build.over_gap),
    ]
    if planted:
        terms.append(line("planted bottom", -planted))
    terms += changed(refit.box_up if refit else None)
    return fitted(name, *terms, grid=context.grid)


def box_mass_kg(
    context: Context, build: Build, *, length: float, width: float, height: float, front_mm3: float
) -> float:
    """Return the mass of a box and front from plain volumes, before it is drawn. [kg]."""
    t, t_bottom = context.t(build.drawer), context.t(build.drawer_bottom)
    walls = 2.0 * length * height * t + 2.0 * max(0.0, width - 2.0 * t) * height * t
    return 1.0e-9 * (
        walls * context.density(build.drawer)
        + length * width * t_bottom * context.density(build.drawer_bottom)
        + front_mm3 * context.density(build.front_sheet)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxOwner:
    """Whose box it is: names for ids, and the word it is called by."""

    frame: BlockFrame
    block: str
    module: str
    opening: str
    word: Literal["drawer", "tray"] = "drawer"


def make_box(
    context: Context,
    owner: BoxOwner,
    build: Build,
    plan: BoxPlan,
    *,
    keep_clear: tuple[Span, ...] = (),
) -> BoxPieces:
    """Return the pieces of a box: two sides, inner front and back, bottom.

    ``keep_clear`` are heights of the block that no slot of a tab-and-slot joint may reach into.
    """
    side_up = _side_up(plan)
    sides = _sides(owner, build, plan, side_up)
    ends = _ends(context, owner, build, plan, side_up)
    bottom = _bottom(context, owner, build, plan)
    cuts = (*_FOR_ENDS, *_FOR_BOTTOM) if build.bottom_fit == "grooved" else _FOR_ENDS
    walls = let_in_all((*sides, *ends, bottom), cuts)
    sides, ends = walls[:2], walls[2:4]
    drafts = _drafts(build, sides, ends, bottom) if context.joined(build) else ()
    if build.joint != TAB_AND_SLOT:
        return BoxPieces(pieces=(*sides, *ends, bottom), drafts=drafts)
    up = owner.frame.axes[2]
    base = sum(a * o for a, o in zip(up, owner.frame.origin, strict=True))
    made = tabbed(
        context,
        build,
        (*sides, *ends, bottom),
        [(side.id, end.id) for side in sides for end in ends],
        keep_clear=tuple(Span(low=base + s.low, high=base + s.high) for s in keep_clear),
    )
    return BoxPieces(pieces=made.pieces, drafts=with_tab_joints(drafts, made))


#: Sides, ends and bottom of a box by their places: what is cut into which for which.
_FOR_ENDS = (Cut(0, (2, 3), "for the"), Cut(1, (2, 3), "for the"))
_FOR_BOTTOM = tuple(Cut(wall, (4,), "groove for the", "u", "groove") for wall in range(4))


def runner_zone(build: Build, plan: BoxPlan, runner: Runner, size: RunnerSize) -> tuple[Span, ...]:
    """Return the heights of the block at which the runner is screwed to a box's sides."""
    if runner.mount == "flat":
        return ()
    line_at = _side_up(plan).low + runner.section / 2.0 + build.runner_up
    ups = [hole.up for hole in size.holes] or [0.0]
    return (Span(low=line_at + min(ups) - _ROUND_HOLES, high=line_at + max(ups) + _ROUND_HOLES),)


def _piece(
    owner: BoxOwner,
    words: tuple[str, str, str],
    place: Place3,
    lie: Lie,
    material: str,
    *,
    waits_for: str = "",
    edges: tuple[Edge, ...] = (),
    hand: Literal["", "left", "right"] = "",
    front_edge: Edge | Literal[""] = "",
) -> Piece:
    return panel(
        owner.frame,
        place,
        lie,
        piece_id=f"{owner.opening}/{words[0]}",
        name=words[1],
        role=words[2],
        block=owner.block,
        body=owner.opening,
        material=material,
        module=owner.module,
        opening=owner.opening,
        release="B" if waits_for else "A",
        waits_for=waits_for,
        edges=edges,
        hand=hand,
        front_edge=front_edge,
    )


def _side_up(plan: BoxPlan) -> Span:
    return Span(low=tidy(plan.up.high - plan.side_height), high=plan.up.high)


def _sides(owner: BoxOwner, build: Build, plan: BoxPlan, up: Span) -> tuple[Piece, ...]:
    left = Span(low=plan.across.low, high=tidy(plan.across.low + plan.t))
    right = Span(low=tidy(plan.across.high - plan.t), high=plan.across.high)
    made = []
    for hand, across, lie in (("left", left, UPRIGHT_LEFT), ("right", right, UPRIGHT_RIGHT)):
        made.append(
            _piece(
                owner,
                (f"side-{hand}", f"{owner.word} side, {hand}", "drawer-side"),
                Place3(across=across, depth=plan.depth, up=up),
                lie,
                build.drawer,
                edges=("v1",),
                hand="left" if hand == "left" else "right",
                front_edge="u0",
            )
        )
    return tuple(made)


def _ends(
    context: Context, owner: BoxOwner, build: Build, plan: BoxPlan, up: Span
) -> tuple[Piece, ...]:
    reach = snap_down(plan.inner_width + 2.0 * let_in_depth(build), context.grid)
    middle = plan.across.middle
    across = Span(low=tidy(middle - reach / 2.0), high=tidy(middle + reach / 2.0))
    low, high = plan.depth.low, plan.depth.high
    made = []
    for word, depth in (
        ("front", Span(low=low, high=tidy(low + plan.t_end))),
        ("back", Span(low=tidy(high - plan.t_end), high=high)),
    ):
        made.append(
            _piece(
                owner,
                (f"inner-{word}", f"{owner.word} inner {word}", f"drawer-inner-{word}"),
                Place3(across=across, depth=depth, up=up),
                CROSS,
                build.drawer,
                waits_for=f"{owner.opening}: between runners",
                edges=("v1",),
            )
        )
    return tuple(made)


def _bottom(context: Context, owner: BoxOwner, build: Build, plan: BoxPlan) -> Piece:
    grow = {"grooved": build.groove_depth, "planted": plan.t, "between": 0.0}[build.bottom_fit]
    width = snap_down(plan.inner_width + 2.0 * grow, context.grid)
    length = snap_down(plan.size.length - 2.0 * plan.t_end + 2.0 * grow, context.grid)
    across = _centred(plan.across.middle, width)
    depth = _centred(plan.depth.middle, length)
    up = Span(low=plan.bottom_low, high=tidy(plan.bottom_low + plan.t_bottom))
    along_depth = {
        "long": length >= width,
        "across": length < width,
        "strongest": width >= length,
    }[build.grain]
    return _piece(
        owner,
        ("bottom", f"{owner.word} bottom", "drawer-bottom"),
        Place3(across=across, depth=depth, up=up),
        FLAT_LONG if along_depth else FLAT_ACROSS,
        build.drawer_bottom,
        waits_for=f"{owner.opening}: between runners",
    )


def _centred(middle: float, size: float) -> Span:
    return Span(low=tidy(middle - size / 2.0), high=tidy(middle + size / 2.0))


def _drafts(
    build: Build, sides: tuple[Piece, ...], ends: tuple[Piece, ...], bottom: Piece
) -> tuple[JointDraft, ...]:
    found = [
        JointDraft(
            receiver=side.id,
            entering=end.id,
            kind="butt" if build.joint == TAB_AND_SLOT else build.joint,
            glued=True,
            step="drawer",
            purpose=f"{side.name} to {end.name}",
        )
        for side in sides
        for end in ends
    ]
    walls = (*sides, *ends)
    if build.bottom_fit == "grooved":
        found += [
            JointDraft(
                receiver=wall.id,
                entering=bottom.id,
                kind="groove",
                glued=True,
                step="drawer",
                purpose="bottom in its groove",
            )
            for wall in walls
        ]
    elif build.bottom_fit == "planted":
        found += [
            JointDraft(
                receiver=bottom.id,
                entering=wall.id,
                kind="butt",
                glued=True,
                step="drawer",
                purpose=f"bottom planted under {wall.name}",
            )
            for wall in walls
        ]
    else:
        found += [
            JointDraft(
                receiver=wall.id,
                entering=bottom.id,
                kind="butt",
                glued=True,
                step="drawer",
                purpose=f"{wall.name} to bottom",
            )
            for wall in walls
        ]
    return tuple(found)


def make_flat_tray(owner: BoxOwner, build: Build, plan: BoxPlan, *, base_width: float) -> BoxPieces:
    """Return a tray without sides: two cheeks that carry the runners, two rails, a base on top.

    ``plan.up`` must be as high as the cheeks (at least the runner's section) plus the base.
    """
    t, t_end, across = plan.t, plan.t_end, plan.across
    cheek_up = Span(low=plan.up.low, high=tidy(plan.up.high - plan.t_bottom))
    base_up = Span(low=cheek_up.high, high=plan.up.high)
    low, high = plan.depth.low, plan.depth.high
    between = _centred(across.middle, plan.inner_width)
    rail_up = Span(low=cheek_up.low, high=cheek_up.high)
    cheeks = tuple(
        _piece(
            owner,
            (f"cheek-{hand}", f"tray cheek, {hand}", "tray-cheek"),
            Place3(across=span, depth=plan.depth, up=cheek_up),
            lie,
            build.drawer,
            hand="left" if hand == "left" else "right",
            front_edge="u0",
        )
        for hand, span, lie in (
            ("left", Span(low=across.low, high=tidy(across.low + t)), UPRIGHT_LEFT),
            ("right", Span(low=tidy(across.high - t), high=across.high), UPRIGHT_RIGHT),
        )
    )
    waits = f"{owner.opening}: between runners"
    rails = tuple(
        _piece(
            owner,
            (f"rail-{word}", f"tray rail, {word}", "tray-rail"),
            Place3(across=between, depth=depth, up=rail_up),
            CROSS,
            build.drawer,
            waits_for=waits,
        )
        for word, depth in (
            ("front", Span(low=low, high=tidy(low + t_end))),
            ("back", Span(low=tidy(high - t_end), high=high)),
        )
    )
    base = _piece(
        owner,
        ("base", "tray base", "tray-base"),
        Place3(across=_centred(across.middle, base_width), depth=plan.depth, up=base_up),
        FLAT_LONG if plan.depth.size >= across.size else FLAT_ACROSS,
        build.drawer_bottom,
        waits_for=waits,
        edges=("u0", "u1", "v0", "v1"),
    )
    drafts = [_tray_joint(cheek, rail) for cheek in cheeks for rail in rails]
    drafts += [_tray_joint(base, under) for under in (*cheeks, *rails)]
    return BoxPieces(pieces=(*cheeks, *rails, base), drafts=tuple(drafts))


def _tray_joint(receiver: Piece, entering: Piece) -> JointDraft:
    return JointDraft(
        receiver=receiver.id,
        entering=entering.id,
        kind="butt",
        glued=True,
        step="drawer",
        purpose=f"{receiver.name} to {entering.name}",
    )
