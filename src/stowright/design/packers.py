"""Packers between the load floor and the carcasses: strips across the ribs, or in the valleys."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from stowright.design.block import StandingBlock
from stowright.design.context import Context
from stowright.design.frame import BAY_FRAME
from stowright.design.panel import Lie, Place3, on_grid, panel
from stowright.design.pieces import JointDraft, Piece
from stowright.model.geometry import Box, Span
from stowright.units import tidy

__all__ = ["PackerPieces", "packers_of"]

#: A packer strip: wide enough for a large washer under an upright (common practice). [mm]
STRIP = 90.0
#: Packers stand no further apart than this (common practice). [mm]
APART = 500.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PackerPieces:
    """The packers and what they are fixed to."""

    pieces: tuple[Piece, ...]
    drafts: tuple[JointDraft, ...]


def packers_of(
    context: Context, standing: tuple[StandingBlock, ...], carcasses: tuple[Piece, ...]
) -> PackerPieces:
    """Return the packers under every block that stands on the floor.

    Args:
        context: The job.
        standing: The blocks.
        carcasses: Their pieces: floors are screwed down to the packers from inside.
    """
    pieces: list[Piece] = []
    drafts: list[JointDraft] = []
    for block in standing:
        strips = _strips(context, block)
        pieces += strips
        floors = [
            p
            for p in carcasses
            if p.block == block.block.name and p.role in {"carcass-floor", "floor-rail"}
        ]
        drafts += [
            _joint(strip, floor)
            for strip in strips
            for floor in floors
            if strip.box.x.overlap(floor.box.x) > 1.0 and strip.box.y.overlap(floor.box.y) > 1.0
        ]
    return PackerPieces(pieces=tuple(pieces), drafts=tuple(drafts))


def _joint(strip: Piece, floor: Piece) -> JointDraft:
    return JointDraft(
        receiver=floor.id,
        entering=strip.id,
        kind="planted",
        glued=False,
        step="packers",
        purpose="floor down to its packer",
        removable=True,
    )


def _strips(context: Context, standing: StandingBlock) -> list[Piece]:
    block = standing.block
    how = block.build.packers.how
    if how == "none" or standing.packers <= 0.0:
        return []
    box = standing.box
    # as thick as its sheet also where others, that are cut, hold the carcass higher
    t = min(standing.packers, context.t(block.build.packers.sheet))
    low = tidy(box.z.low - standing.packers)
    up = Span(low=low, high=tidy(low + t))
    floor = context.job.bay.floor
    lengthwise_strips = floor is not None and floor.ribs_run == "crosswise"
    run, step = (box.x, box.y) if lengthwise_strips else (box.y, box.x)
    uprights_run_x = block.face == "tail"
    if uprights_run_x == lengthwise_strips:
        places = _under_uprights(standing, step)
    else:
        places = _spaced(step)
    return [
        _strip(
            standing,
            n,
            run=run,
            step=place,
            up=up,
            lengthwise=lengthwise_strips,
            grid=context.grid,
        )
        for n, place in enumerate(places, start=1)
    ]


def _spaced(step: Span) -> list[Span]:
    """Return strips at both ends and between, none further apart than allowed."""
    width = min(STRIP, step.size / 2.0)
    count = max(2, ceil((step.size - width) / APART) + 1)
    pitch = (step.size - width) / (count - 1)
    return [
        Span(low=tidy(step.low + i * pitch), high=tidy(step.low + i * pitch + width))
        for i in range(count)
    ]


def _under_uprights(standing: StandingBlock, step: Span) -> list[Span]:
    """Return a strip under every upright, joined where two come close."""
    t, frame = standing.plan.t, standing.frame
    middles: list[float] = []
    for module in standing.plan.modules:
        edges = [module.across.low + t / 2.0, module.across.high - t / 2.0]
        edges += [c.across.high + t / 2.0 for c in module.columns[:-1]]
        for edge in edges:
            point = frame.point(across=edge, depth=0.0, up=0.0)
            middles.append(point[1] if standing.block.face == "tail" else point[0])
    half = STRIP / 2.0
    spans: list[Span] = []
    for middle in sorted(middles):
        low = tidy(max(step.low, min(middle - half, step.high - STRIP)))
        high = tidy(min(step.high, low + STRIP))
        if spans and low < spans[-1].high:
            spans[-1] = Span(low=spans[-1].low, high=high)
        else:
            spans.append(Span(low=low, high=high))
    return spans


def _strip(
    standing: StandingBlock,
    n: int,
    *,
    run: Span,
    step: Span,
    up: Span,
    lengthwise: bool,
    grid: float,
) -> Piece:
    box = Box(x=run, y=step, z=up) if lengthwise else Box(x=step, y=run, z=up)
    lie = Lie("+a", "+d", "+h") if lengthwise else Lie("+d", "-a", "+h")
    name = standing.block.name
    place = Place3(across=box.x, depth=box.y, up=box.z)
    return panel(
        BAY_FRAME,
        on_grid(place, lie, grid=grid),
        lie,
        piece_id=f"{name}/packer-{n}",
        name="packer strip",
        role="packer",
        block=name,
        body="fixed",
        material=standing.block.build.packers.sheet,
        grain="free",
        edges=("u0", "u1", "v0", "v1"),
        origin_note="any corner, good face up",
    )
