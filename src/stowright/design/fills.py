"""What fills an opening: drawer, tray, locker, blank, open or through, in the block's frame."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stowright.design.arrange import OpeningPlan
from stowright.design.box import (
    BoxOwner,
    BoxPieces,
    BoxPlan,
    BoxQuestion,
    box_mass_kg,
    make_box,
    make_flat_tray,
    plan_box,
    runner_zone,
)
from stowright.design.carcass import Bounds
from stowright.design.context import Context
from stowright.design.frame import BlockFrame
from stowright.design.front import FrontOwner, FrontPlan, Laps, Lever, make_front, plan_front
from stowright.design.pieces import JointDraft, Piece
from stowright.design.runner_choice import Choice, RunnerQuestion, choose_runner
from stowright.design.sums import fitted, line, stated
from stowright.errors import DesignError
from stowright.model.design import BoxSize, Motion, RunnerFit, Sum
from stowright.model.geometry import Point3, Span
from stowright.model.job import Build
from stowright.units import snap_down, tidy

__all__ = ["FillPieces", "FillQuestion", "make_fill"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FillQuestion:
    """An opening and what stands around it.

    Attributes:
        laps: Limits of an overlay front.
        contents_kg: What the carry list puts in it.
    """

    context: Context
    frame: BlockFrame
    block: str
    module: str
    opening: OpeningPlan
    bounds: Bounds
    back: str
    laps: Laps
    contents_kg: float

    @property
    def name(self) -> str:
        """The opening's name."""
        return self.opening.fill.name

    @property
    def build(self) -> Build:
        """The fill's materials and methods."""
        return self.opening.fill.build

    @property
    def lining(self) -> float:
        """Lining on drawer and carcass together, each side. [mm]."""
        return self.build.lining.drawer + self.build.lining.carcass


@dataclass(frozen=True, slots=True, kw_only=True)
class FillPieces:
    """What came out for one opening, still in the block's frame where spans are given.

    Attributes:
        inside: What can be filled: across, depth, up.
        box_plan, front_plan: For the gaps; None without them.
    """

    pieces: tuple[Piece, ...] = ()
    drafts: tuple[JointDraft, ...] = ()
    sums: tuple[Sum, ...] = ()
    motions: tuple[Motion, ...] = ()
    inside: tuple[Span, Span, Span]
    box: BoxSize | None = None
    front: tuple[float, float] | None = None
    front_thickness: float = 0.0
    runner: RunnerFit | None = None
    box_plan: BoxPlan | None = None
    front_plan: FrontPlan | None = None
    hardware: tuple[tuple[str, int, str], ...] = ()


def make_fill(ask: FillQuestion) -> FillPieces:
    """Return the pieces of an opening's fill.

    Raises:
        DesignError: When no runner, box or front goes in.
    """
    kind = ask.opening.fill.fill
    if kind == "drawer":
        return _drawer(ask)
    if kind == "tray":
        return _tray(ask)
    if kind == "locker":
        return _locker(ask)
    if kind == "blank":
        return _blank(ask)
    return FillPieces(inside=_whole(ask.opening))


def _whole(opening: OpeningPlan, *, start: float = 0.0) -> tuple[Span, Span, Span]:
    return (opening.across, Span(low=start, high=opening.depth), opening.up)


def _owner(ask: FillQuestion, word: str) -> BoxOwner:
    return BoxOwner(
        frame=ask.frame,
        block=ask.block,
        module=ask.module,
        opening=ask.name,
        word="tray" if word == "tray" else "drawer",
    )


def _choose(ask: FillQuestion, *, front: float, room_up: float) -> Choice:
    build = ask.build
    front_mm3 = ask.opening.across.size * ask.opening.up.size * front

    def gross_kg(length: float, width: float) -> float:
        own = box_mass_kg(
            ask.context,
            build,
            length=length,
            width=width,
            height=max(room_up, 0.0),
            front_mm3=front_mm3,
        )
        return own + ask.contents_kg

    question = RunnerQuestion(
        about=ask.name,
        name=build.runner,
        depth=_depth(ask),
        front=front,
        back_room=build.back_room,
        opening_width=ask.opening.across.size,
        lining=ask.lining,
        lock=ask.opening.fill.lock,
        room_up=room_up,
        gross_kg=gross_kg,
        factors=build.runner_factors,
    )
    return choose_runner(ask.context.catalogue, question)


def _depth(ask: FillQuestion) -> float:
    """Return the clear depth as it is, or as it reads. [mm]."""
    refit = ask.context.refit_of(ask.name)
    return ask.opening.depth + (refit.depth.by if refit and refit.depth else 0.0)


def _length(ask: FillQuestion, choice: Choice) -> float:
    """Return the box's length: the runner's, or as its sides are cut. [mm]."""
    refit = ask.context.refit_of(ask.name)
    if refit is not None and refit.length is not None:
        return refit.length
    return snap_down(choice.size.length, ask.context.grid)


def _room_up(ask: FillQuestion) -> float:
    build = ask.build
    planted = ask.context.t(build.drawer_bottom) if build.bottom_fit == "planted" else 0.0
    refit = ask.context.refit_of(ask.name)
    less = refit.box_up.by if refit and refit.box_up else 0.0
    room = ask.opening.fit_height + less
    return room - build.under_gap - build.over_gap - planted - build.runner_up


def _drawer(ask: FillQuestion) -> FillPieces:
    build, context = ask.build, ask.context
    thick = context.t(build.front_sheet)
    front_set = thick if build.front == "inset" else 0.0
    room_up = _room_up(ask)
    choice = _choose(ask, front=front_set, room_up=room_up)
    plan = _box_plan(ask, choice, start=front_set, side_height=None)
    _require_height(ask, choice, plan.side_height)
    clear = runner_zone(build, plan, choice.runner, choice.size)
    made = make_box(context, _owner(ask, "drawer"), build, plan, keep_clear=clear)
    fit = _fit(ask, choice, plan, front=front_set)
    lever = None
    if choice.runner.lever is not None and build.lever != "none":
        lever = Lever(
            runner=choice.runner,
            up=ask.opening.up.low + fit.line,
            side_space=plan.side_space + ask.lining,
        )
    narrow = plan.size.width if build.lever == "narrow" and lever else None
    face = plan_front(context, ask.opening, build, laps=ask.laps, narrow_to=narrow)
    front = make_front(
        _front_owner(ask, "front", "drawer front", body=ask.name),
        face,
        how=build.lever,
        lever=lever,
    )
    return FillPieces(
        pieces=(*made.pieces, front),
        drafts=(*made.drafts, _front_draft(made, front)),
        sums=() if context.bodies_only else (*plan.sums, *face.sums, *_fit_sums(ask, fit, plan)),
        motions=(_slide(ask, fit),),
        inside=_inside(plan, build),
        box=plan.size,
        front=(tidy(face.across.size), tidy(face.up.size)),
        front_thickness=thick,
        runner=fit,
        box_plan=plan,
        front_plan=face,
    )


def _front_draft(made: BoxPieces, front: Piece) -> JointDraft:
    inner = next(p for p in made.pieces if p.role == "drawer-inner-front")
    return JointDraft(
        receiver=inner.id,
        entering=front.id,
        kind="lamination",
        glued=False,
        step="front",
        purpose="front held from inside",
        removable=True,
    )


def _front_owner(ask: FillQuestion, word: str, name: str, *, body: str) -> FrontOwner:
    return FrontOwner(
        frame=ask.frame,
        block=ask.block,
        module=ask.module,
        opening=ask.name,
        body=body,
        word=word,
        name=name,
        role="drawer-front" if word == "front" else "door" if word == "door" else "blank",
        material=ask.build.front_sheet,
    )


def _box_plan(
    ask: FillQuestion, choice: Choice, *, start: float, side_height: float | None
) -> BoxPlan:
    question = BoxQuestion(
        name=ask.name,
        build=ask.build,
        across=ask.opening.across,
        up_low=ask.opening.up.low,
        fit_height=ask.opening.fit_height,
        start=start,
        length=_length(ask, choice),
        side_space=choice.runner.side_space.aim,
        lining=ask.lining,
        side_height=side_height,
    )
    plan = plan_box(ask.context, question)
    if not plan.inner_width > 2.0 * ask.build.groove_depth:
        raise DesignError(
            ask.name,
            f"the box would be {plan.inner_width:.1f} mm wide inside",
            "a wider column, or a thinner runner",
        )
    return plan


def _require_height(ask: FillQuestion, choice: Choice, side_height: float) -> None:
    needed = choice.runner.section + ask.build.runner_up
    if side_height < needed - 1.0e-6:
        raise DesignError(
            ask.name,
            f"a box side of {side_height:.1f} mm is lower than the {needed:g} mm that the "
            f"{choice.runner.name} runner needs",
            f"an opening {needed - side_height:.1f} mm higher, or a runner of a lower section",
        )


def _fit(ask: FillQuestion, choice: Choice, plan: BoxPlan, *, front: float) -> RunnerFit:
    build, runner = ask.build, choice.runner
    planted = plan.t_bottom if build.bottom_fit == "planted" else 0.0
    in_drawer = runner.section / 2.0 + build.runner_up
    if runner.lock_in and runner.lock_out:
        lock = "in-out"
    else:
        lock = "in" if runner.lock_in else "out" if runner.lock_out else ""
    latch = ask.opening.fill.latch or ("" if runner.lock_in else _default_latch(ask.context))
    return RunnerFit(
        runner=runner,
        size=choice.size,
        set_back=tidy(front + runner.set_back),
        line=tidy(build.under_gap + planted + in_drawer),
        line_in_drawer=tidy(in_drawer),
        side_space=plan.side_space,
        lock=lock,
        latch=latch,
        next_size=choice.next_size,
        why=choice.why,
    )


def _default_latch(context: Context) -> str:
    latches = [item for item in context.catalogue.hardware if item.kind == "latch"]
    strong = [item for item in latches if item.capacity_n is not None]
    chosen = max(strong, key=lambda item: (item.capacity_n or 0.0, item.name), default=None)
    return chosen.name if chosen else ""


def _fit_sums(ask: FillQuestion, fit: RunnerFit, plan: BoxPlan) -> tuple[Sum, ...]:
    half = line("half the runner's section", fit.runner.section / 2.0)
    raised = (line("raised by", ask.build.runner_up),) if ask.build.runner_up else ()
    planted = plan.t_bottom if ask.build.bottom_fit == "planted" else 0.0
    bottom = (line("planted bottom", planted),) if planted else ()
    under = line("gap under the box", ask.build.under_gap)
    what_below = "carcass floor" if ask.opening.row == 1 else "shelf below"
    return (
        stated(f"{ask.name}: runner line above the {what_below}", under, *bottom, half, *raised),
        stated(f"{ask.name}: runner line above the drawer side's lower edge", half, *raised),
        stated(
            f"{ask.name}: room behind the runner",
            line("clear depth", ask.opening.depth),
            line("set-back", -fit.set_back),
            line("runner", -fit.size.length),
        ),
    )


def _slide(ask: FillQuestion, fit: RunnerFit) -> Motion:
    return Motion(
        body=ask.name,
        kind="slide",
        axis=_out(ask.frame),
        travel=fit.size.travel,
        pivot=None,
        droop=tidy(fit.runner.droop * fit.size.travel),
    )


def _out(frame: BlockFrame) -> Point3:
    x, y, z = frame.axes[1]
    return (0.0 - x, 0.0 - y, 0.0 - z)


def _inside(plan: BoxPlan, build: Build) -> tuple[Span, Span, Span]:
    t = plan.t
    floor = plan.bottom_low + plan.t_bottom
    lined = build.lining.drawer
    return (
        Span(low=plan.across.low + t + lined, high=plan.across.high - t - lined),
        Span(low=plan.depth.low + plan.t_end, high=plan.depth.high - plan.t_end),
        Span(low=tidy(floor), high=plan.up.high),
    )


def _tray(ask: FillQuestion) -> FillPieces:
    build, context = ask.build, ask.context
    choice = _choose(ask, front=0.0, room_up=_room_up(ask))
    section = choice.runner.section + build.runner_up
    t_bottom = context.t(build.drawer_bottom)
    sides = ask.opening.fill.sides
    if sides > 0.0:
        foot = build.groove_up if build.bottom_fit == "grooved" else 0.0
        seat = 0.0 if build.bottom_fit == "planted" else foot + t_bottom
        height = max(section, sides + seat)
        plan = _box_plan(ask, choice, start=0.0, side_height=height)
        clear = runner_zone(build, plan, choice.runner, choice.size)
        made = make_box(context, _owner(ask, "tray"), build, plan, keep_clear=clear)
        inside = _inside(plan, build)
        room = ask.opening.up.high - build.over_gap
        inside = (inside[0], inside[1], Span(low=inside[2].low, high=tidy(room)))
    else:
        plan = _flat_plan(_box_plan(ask, choice, start=0.0, side_height=section), t_bottom)
        whole = line("box width", plan.size.width)
        base = fitted(f"{ask.name}: tray base width", whole, grid=context.grid)
        plan = replace(plan, sums=(*plan.sums, base))
        made = make_flat_tray(_owner(ask, "tray"), build, plan, base_width=base.result)
        room = ask.opening.up.high - build.over_gap
        inside = (plan.across, plan.depth, Span(low=plan.up.high, high=tidy(room)))
    if plan.up.high > ask.opening.up.high - build.over_gap + 1.0e-6:
        raise DesignError(
            ask.name,
            f"the tray is {plan.up.size:.1f} mm high; the opening leaves "
            f"{ask.opening.up.size - build.under_gap - build.over_gap:.1f} mm",
            "a higher opening, lower sides, or a runner of a lower section",
        )
    fit = _fit(ask, choice, plan, front=0.0)
    return FillPieces(
        pieces=made.pieces,
        drafts=made.drafts,
        sums=(*plan.sums, *_fit_sums(ask, fit, plan)),
        motions=(_slide(ask, fit),),
        inside=inside,
        box=plan.size,
        runner=fit,
        box_plan=plan,
    )


def _flat_plan(plan: BoxPlan, t_bottom: float) -> BoxPlan:
    """Turn a plan for cheeks into one for cheeks with the base on top of them."""
    low = plan.up.high - plan.side_height
    up = Span(low=tidy(low), high=tidy(low + plan.side_height + t_bottom))
    size = BoxSize(width=plan.size.width, height=up.size, length=plan.size.length)
    return replace(
        plan,
        size=size,
        up=up,
        t_bottom=t_bottom,
        bottom_low=tidy(low + plan.side_height),
    )


def _locker(ask: FillQuestion) -> FillPieces:
    fill, build = ask.opening.fill, ask.build
    face = plan_front(ask.context, ask.opening, build, laps=ask.laps)
    door = make_front(_front_owner(ask, "door", f"{fill.door or 'drop'} door", body=ask.name), face)
    hinge_up = face.up.high if fill.door == "lift" else face.up.low
    pivot = ask.frame.point(across=face.across.middle, depth=face.depth.low, up=hinge_up)
    sign = -1.0 if fill.door == "lift" else 1.0
    ax, ay, az = ask.frame.axes[0]
    return FillPieces(
        pieces=(door,),
        sums=face.sums,
        motions=(
            Motion(
                body=ask.name,
                kind="swing",
                axis=(sign * ax + 0.0, sign * ay + 0.0, sign * az + 0.0),
                travel=90.0,
                pivot=pivot,
                droop=0.0,
            ),
        ),
        inside=_whole(ask.opening, start=max(0.0, face.depth.high)),
        front=(tidy(face.across.size), tidy(face.up.size)),
        front_thickness=ask.context.t(build.front_sheet),
        front_plan=face,
        hardware=_door_hardware(ask),
    )


def _door_hardware(ask: FillQuestion) -> tuple[tuple[str, int, str], ...]:
    wide = ask.opening.across.size
    hinges = 2 if wide < 600.0 else 3
    found = []
    for kind, count in (("hinge", hinges), ("latch", 1), ("stay", 1)):
        wanted = "drop-stay" if kind == "stay" and ask.opening.fill.door != "lift" else ""
        rows = [i for i in ask.context.catalogue.hardware if i.kind == kind]
        row = next((i for i in rows if i.name == wanted), rows[0] if rows else None)
        if row is not None:
            name = (
                ask.opening.fill.latch if kind == "latch" and ask.opening.fill.latch else row.name
            )
            found.append((name, count, f"{ask.name}: door"))
    return tuple(found)


def _blank(ask: FillQuestion) -> FillPieces:
    opening, context = ask.opening, ask.context
    t = context.t(ask.build.front_sheet)
    width = snap_down(opening.across.size, context.grid)
    height = snap_down(opening.up.size, context.grid)
    middle = opening.across.middle
    face = FrontPlan(
        across=Span(low=tidy(middle - width / 2.0), high=tidy(middle + width / 2.0)),
        up=Span(low=opening.up.low, high=tidy(opening.up.low + height)),
        depth=Span(low=0.0, high=t),
        sums=(),
    )
    piece = make_front(_front_owner(ask, "blank", "blank", body="fixed"), face)
    drafts = tuple(
        JointDraft(
            receiver=upright,
            entering=piece.id,
            kind="butt",
            glued=False,
            step="front",
            purpose="blank between the uprights",
            removable=True,
        )
        for upright in (ask.bounds.left, ask.bounds.right)
    )
    return FillPieces(
        pieces=(piece,),
        drafts=drafts,
        inside=_whole(opening, start=t),
        front=(width, height),
        front_thickness=t,
        front_plan=face,
    )
