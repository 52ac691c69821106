"""A block: where it stands, how it is arranged, its modules' pieces and what fills them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from stowright.design.arrange import Arrangement, ModulePlan, OpeningPlan, arrange
from stowright.design.carcass import ModulePieces, make_module
from stowright.design.context import Context
from stowright.design.fills import FillPieces, FillQuestion, make_fill
from stowright.design.frame import BlockFrame, frame_of
from stowright.design.front import Laps
from stowright.design.gaps import opening_gaps
from stowright.design.heights import BlockHeight, block_height
from stowright.design.over_arches import Lift
from stowright.design.pieces import JointDraft, Piece
from stowright.design.stowing import Room, Stowing
from stowright.design.sums import as_settled, line, stated
from stowright.design.travel import through_of, travel_warnings
from stowright.design.usable_box import usable_box
from stowright.model.design import (
    BlockDesign,
    Gap,
    Limit,
    ModuleDesign,
    Motion,
    OpeningDesign,
    Skew,
    Sum,
    UsableBox,
)
from stowright.model.geometry import Box, Span
from stowright.model.job import Block, Place
from stowright.units import tidy

__all__ = ["BlockPieces", "StandingBlock", "make_block", "rooms_of", "stand"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingBlock:
    """A block with its place and sizes, before any panel is made.

    Attributes:
        box: The carcasses together, in the bay.
        packers: Height of the packers under it.
        lift: How it gets over the arches; None for a block that does not.
    """

    block: Block
    usable: UsableBox
    plan: Arrangement
    box: Box
    frame: BlockFrame
    packers: float
    lift: Lift | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockPieces:
    """Everything that came out for a block."""

    design: BlockDesign
    pieces: tuple[Piece, ...]
    drafts: tuple[JointDraft, ...]
    sums: tuple[Sum, ...]
    gaps: tuple[Gap, ...]
    motions: tuple[Motion, ...]
    hardware: tuple[tuple[str, int, str], ...]


def stand(
    context: Context, block: Block, skew: Skew, standing: tuple[StandingBlock, ...]
) -> StandingBlock:
    """Return where a block stands and how it is arranged.

    Args:
        context: The job.
        block: The block.
        skew: How far the bay is out of square.
        standing: The blocks that stand already.

    Raises:
        DesignError: When there is no room for it.
    """
    job, build = context.job, block.build
    height = _height_as_cut(
        context, block, block_height(context, block, tuple(s.box for s in standing))
    )
    front = _projects(context, block)
    beside = next((s.box for s in standing if s.block.name == block.place.beside), None)
    usable = usable_box(
        bay=job.bay,
        skew=skew,
        block=block.name,
        face=block.face,
        place=_place(job.blocks, block),
        z=Span(low=height.low, high=height.low + height.sum.result),
        side_clear=build.side_clear,
        end_clear=build.end_clear,
        clear_at_face=block.clear_at_face + front,
        lining=build.lining.bay,
        obstacles=tuple(_obstacle(context, s, block, front) for s in standing),
        beside=beside,
        over_arches=height.lift is not None,
        through=through_of(context, block),
        shown=context.shown,
    )
    if height.lift is not None:
        usable = _on_bearers(usable, height.lift)
    plan = arrange(context, block, usable, height=height.sum)
    box = _settled(block, usable, plan, height.low)
    frame = frame_of(block.face, box)
    return StandingBlock(
        block=block,
        usable=_warned(context, block, usable, plan, frame),
        plan=plan,
        box=box,
        frame=frame,
        packers=height.packers,
        lift=height.lift,
    )


def _height_as_cut(context: Context, block: Block, height: BlockHeight) -> BlockHeight:
    """Return the height of a block, or what its sides are cut to."""
    cut = context.cut_block(block.name)
    if cut is None or cut.height is None:
        return height
    return replace(height, sum=as_settled(height.sum, cut.height, "as the sides are cut"))


def _warned(
    context: Context, block: Block, usable: UsableBox, plan: Arrangement, frame: BlockFrame
) -> UsableBox:
    """Return the box with what does not pass the doorway among its warnings."""
    openings = tuple(
        (o, frame.box(across=o.across, depth=Span(low=0.0, high=o.depth), up=o.up))
        for module in plan.modules
        for column in module.columns
        for o in column.openings
    )
    found = tuple(travel_warnings(context, block, openings))
    return replace(usable, warnings=(*usable.warnings, *found)) if found else usable


def _on_bearers(usable: UsableBox, lift: Lift) -> UsableBox:
    """Return the box with what governs its floor: the arch under it."""
    first, *rest = lift.sum.lines
    by_arch = lift.words == first.what
    floor = Limit(
        side="floor",
        governed_by=lift.words,
        at=first.value if by_arch else lift.low,
        allowances=tuple(rest) if by_arch else (),
        next="each millimetre less here buys one of height" if by_arch else "",
    )
    limits = (floor if limit.side == "floor" else limit for limit in usable.limits)
    return replace(usable, limits=tuple(limits))


def _place(blocks: tuple[Block, ...], block: Block) -> Place:
    """Two blocks that open to opposite sides and both fill meet on the centre line."""
    opposite = {"left": "right", "right": "left"}.get(block.face)
    place = block.place
    if opposite is None or place.word != "fill" or place.y is not None or place.beside:
        return place
    facing = [b for b in blocks if b.face == opposite and b.place.word == "fill"]
    if not any(_share_length(place, other.place) for other in facing):
        return place
    half, far = block.build.module_gap / 2.0, 1.0e5
    return replace(place, y=(half, far) if block.face == "left" else (-far, -half))


def _share_length(one: Place, two: Place) -> bool:
    if two.y is not None or two.beside:
        return False
    if one.x is None or two.x is None:
        return True
    return min(one.x[1], two.x[1]) > max(one.x[0], two.x[0])


def _projects(context: Context, block: Block) -> float:
    """Return how far fronts and handles stand before a block's carcasses. [mm]."""
    builds = [block.build, *(f.build for c in block.columns for f in c.stack)]
    return max(
        build.handle_projection
        + (context.t(build.front_sheet) if build.front == "overlay" else 0.0)
        for build in builds
    )


def _obstacle(context: Context, standing: StandingBlock, block: Block, front: float) -> Box:
    """Return what a standing block keeps from another: its fronts and the gap between them.

    ``front`` is what stands before the other's own carcasses: it keeps that much further off.
    """
    box, gap = standing.box, block.build.module_gap
    own = _projects(context, standing.block)
    face = standing.block.face
    low_x = gap + (own if face == "tail" else 0.0)
    high_x = gap + (front if block.face == "tail" else 0.0)
    low_y = gap + (own if face == "right" else 0.0) + (front if block.face == "left" else 0.0)
    high_y = gap + (own if face == "left" else 0.0) + (front if block.face == "right" else 0.0)
    return Box(
        x=Span(low=box.x.low - low_x, high=box.x.high + high_x),
        y=Span(low=box.y.low - low_y, high=box.y.high + high_y),
        z=box.z,
    )


def _settled(block: Block, usable: UsableBox, plan: Arrangement, low: float) -> Box:
    """Return the carcasses' box: the face stays, what is left over lies behind and to the sides."""
    room = usable.box
    up = Span(low=low, high=tidy(low + plan.height))
    if block.face == "tail":
        x = Span(low=room.x.low, high=tidy(room.x.low + plan.depth))
        y = _hugged(
            room.y, plan.width, low_side=usable.hugs == "right", high_side=usable.hugs == "left"
        )
        return Box(x=x, y=y, z=up)
    x = _hugged(room.x, plan.width, low_side=usable.hugs == "tail", high_side=usable.hugs == "cab")
    if block.face == "left":
        y = Span(low=tidy(room.y.high - plan.depth), high=room.y.high)
    else:
        y = Span(low=room.y.low, high=tidy(room.y.low + plan.depth))
    return Box(x=x, y=y, z=up)


def _hugged(room: Span, size: float, *, low_side: bool, high_side: bool) -> Span:
    if low_side:
        low = room.low
    elif high_side:
        low = room.high - size
    else:
        low = room.low + (room.size - size) / 2.0
    return Span(low=tidy(low), high=tidy(low + size))


def rooms_of(standing: StandingBlock) -> tuple[Room, ...]:
    """Return the block's openings as places to put things, before their fills are made."""
    return tuple(
        _room(standing, opening)
        for module in standing.plan.modules
        for column in module.columns
        for opening in column.openings
        if opening.fill.fill != "blank"
    )


def _room(standing: StandingBlock, opening: OpeningPlan) -> Room:
    boxed = opening.fill.fill in {"drawer", "tray"}
    t = standing.plan.t
    # A box loses two runners and two sides across, front and ends along, bottom and gaps up.
    side = 2.0 * (t + 19.4) if boxed else 0.0
    ends = 4.0 * t if boxed else 0.0
    air = opening.fill.build.under_gap + opening.fill.build.over_gap + 2.0 * t if boxed else 0.0
    return Room(
        name=opening.fill.name,
        inside=(opening.across.size - side, opening.depth - ends, opening.up.size - air),
    )


def make_block(context: Context, standing: StandingBlock, stowing: Stowing) -> BlockPieces:
    """Return the block's pieces, openings, sums, gaps and motions.

    Raises:
        DesignError: When a fill does not go into its opening.
    """
    block, plan, frame = standing.block, standing.plan, standing.frame
    pieces: list[Piece] = []
    drafts: list[JointDraft] = []
    sums = [] if context.bodies_only else _block_sums(standing)
    gaps: list[Gap] = []
    motions: list[Motion] = []
    hardware: list[tuple[str, int, str]] = []
    openings: list[OpeningDesign] = []
    modules: list[ModuleDesign] = []
    for module in plan.modules:
        made = make_module(context, block, frame, plan, module)
        pieces += made.pieces
        drafts += made.drafts
        sums += made.sums
        by_id = {piece.id: piece for piece in made.pieces}
        names = []
        for column in module.columns:
            for opening in column.openings:
                ask = _question(context, standing, module, opening, made, stowing)
                fill = make_fill(ask)
                pieces += fill.pieces
                drafts += fill.drafts
                sums += fill.sums
                motions += fill.motions
                hardware += fill.hardware
                gaps += () if context.bodies_only else opening_gaps(ask, fill, by_id)
                openings.append(_opening(ask, fill, stowing))
                names.append(opening.fill.name)
        modules.append(_module(standing, module, tuple(names)))
    gaps += _module_gaps(standing, pieces)
    drafts += _module_joints(standing)
    design = BlockDesign(
        name=block.name,
        face=block.face,
        usable=standing.usable,
        box=standing.box,
        face_at=_face_at(standing),
        axes=frame.axes,
        packer_height=standing.packers,
        modules=tuple(modules),
        openings=tuple(openings),
    )
    return BlockPieces(
        design=design,
        pieces=tuple(pieces),
        drafts=tuple(drafts),
        sums=tuple(sums),
        gaps=tuple(gaps),
        motions=tuple(motions),
        hardware=tuple(hardware),
    )


def _block_sums(standing: StandingBlock) -> list[Sum]:
    lift = (standing.lift.sum,) if standing.lift else ()
    return [*_usable_sums(standing), *lift, *standing.plan.sums]


def _face_at(standing: StandingBlock) -> float:
    box = standing.box
    return {"tail": box.x.low, "left": box.y.high, "right": box.y.low}[standing.block.face]


def _usable_sums(standing: StandingBlock) -> tuple[Sum, ...]:
    """Return the usable length and width as sums of their governing readings and allowances."""
    limits = {limit.side: limit for limit in standing.usable.limits}
    found = []
    for what, low_side, high_side in (("length", "tail", "cab"), ("width", "right", "left")):
        low, high = limits.get(low_side), limits.get(high_side)
        if low is None or high is None:
            continue
        terms = [
            line(f"{high_side}: {high.governed_by}", high.at),
            line(f"{low_side}: {low.governed_by}", -low.at),
            *high.allowances,
            *(line(a.what, -a.value) for a in low.allowances),
        ]
        found.append(stated(f"{standing.block.name}: usable {what}", *terms))
    return tuple(found)


def _question(
    context: Context,
    standing: StandingBlock,
    module: ModulePlan,
    opening: OpeningPlan,
    made: ModulePieces,
    stowing: Stowing,
) -> FillQuestion:
    name = opening.fill.name
    held = stowing.by_opening.get(name)
    return FillQuestion(
        context=context,
        frame=standing.frame,
        block=standing.block.name,
        module=module.name,
        opening=opening,
        bounds=made.bounds[name],
        back=made.backs[name],
        laps=_laps(standing, module, opening),
        contents_kg=held.mass_kg if held else 0.0,
    )


def _laps(standing: StandingBlock, module: ModulePlan, opening: OpeningPlan) -> Laps:
    """Return how far an overlay front may reach before it meets its neighbour's front gap."""
    plan, build = standing.plan, opening.fill.build
    gap = build.front_gap
    shared = len(module.columns) > 1
    last_column = module.columns[-1].index
    between = (plan.t - gap) / 2.0
    beside = plan.t + (standing.block.build.module_gap - gap) / 2.0

    def side(*, outermost: bool, inner: bool) -> float:
        if inner:
            return between
        return plan.t if outermost else min(plan.t, beside)

    modules = plan.modules
    left = side(
        outermost=module is modules[0],
        inner=shared and opening.column != module.columns[0].index,
    )
    right = side(outermost=module is modules[-1], inner=shared and opening.column != last_column)
    column = next(c for c in module.columns if c.index == opening.column)
    parting = plan.t if column.build.between_fills != "none" else 0.0
    first, last = opening.row == 1, opening.row == len(column.openings)
    return Laps(
        left=left,
        right=right,
        below=plan.t_floor if first else (parting - gap) / 2.0,
        above=plan.t_top - gap if last else (parting - gap) / 2.0,
    )


def _opening(ask: FillQuestion, fill: FillPieces, stowing: Stowing) -> OpeningDesign:
    plan, frame = ask.opening, ask.frame
    held = stowing.by_opening.get(ask.name)
    across, depth, up = fill.inside
    clear_depth = Span(low=0.0, high=plan.depth)
    return OpeningDesign(
        name=ask.name,
        fill=plan.fill.fill,
        block=ask.block,
        module=ask.module,
        column=plan.column,
        row=plan.row,
        at=frame.point(across=plan.across.low, depth=0.0, up=plan.up.low),
        width=tidy(plan.across.size),
        height=tidy(plan.up.size),
        depth=plan.depth,
        clear=frame.box(across=plan.across, depth=clear_depth, up=plan.up),
        bounds=(ask.bounds.left, ask.bounds.right, ask.bounds.below, ask.bounds.above),
        box=fill.box,
        front=fill.front,
        front_thickness=fill.front_thickness,
        runner=fill.runner,
        usable=frame.box(across=across, depth=depth, up=up),
        gross_kg=0.0,
        contents_kg=held.mass_kg if held else 0.0,
        carried=held.items if held else (),
        build=ask.build,
    )


def _module(standing: StandingBlock, module: ModulePlan, names: tuple[str, ...]) -> ModuleDesign:
    plan = standing.plan
    box = standing.frame.box(
        across=module.across,
        depth=Span(low=0.0, high=plan.depth),
        up=Span(low=0.0, high=plan.height),
    )
    return ModuleDesign(
        name=module.name,
        block=standing.block.name,
        width=tidy(module.across.size),
        height=plan.height,
        depth=plan.depth,
        box=box,
        openings=names,
        mass_kg=0.0,
        doorway=None,
    )


def _module_gaps(standing: StandingBlock, pieces: list[Piece]) -> tuple[Gap, ...]:
    by_id: Mapping[str, Piece] = {piece.id: piece for piece in pieces}
    prefix = f"{standing.block.name}/"
    axis: Literal["x", "y"] = "y" if standing.block.face == "tail" else "x"
    found = []
    for one, two in pairwise(standing.plan.modules):
        a = by_id[f"{prefix}{one.name}/side-right"].box
        b = by_id[f"{prefix}{two.name}/side-left"].box
        spans = (a.y, b.y) if axis == "y" else (a.x, b.x)
        apart = -spans[0].overlap(spans[1])
        found.append(
            Gap(
                name=f"{standing.block.name}: between modules {one.name} and {two.name}",
                between=(f"{prefix}{one.name}/side-right", f"{prefix}{two.name}/side-left"),
                axis=axis,
                sum=tidy(apart) + 0.0,
                least=0.0,
            )
        )
    return tuple(found)


def _module_joints(standing: StandingBlock) -> tuple[JointDraft, ...]:
    prefix = f"{standing.block.name}/"
    return tuple(
        JointDraft(
            receiver=f"{prefix}{one.name}/side-right",
            entering=f"{prefix}{two.name}/side-left",
            kind="bolted",
            glued=False,
            step="modules",
            purpose=f"module {one.name} to module {two.name}",
            removable=True,
        )
        for one, two in pairwise(standing.plan.modules)
    )
