"""Bearers that carry a body off the load floor, over the arches or over a lower body.

Each is a panel on edge that runs across the block, under its uprights, from the load floor to the
carcass; between the arches where one stands, across all of the body elsewhere. Nothing rests on an
arch, and what stands under the body stays free.
"""

from __future__ import annotations

from math import ceil

from stowright.design.bay_view import ARCH_SHEET_CLEAR, Ask
from stowright.design.block import StandingBlock
from stowright.design.context import Context
from stowright.design.frame import BAY_FRAME
from stowright.design.panel import Lie, Place3, panel
from stowright.design.pieces import LOOSE, JointDraft, Piece
from stowright.design.usable_box import free_box
from stowright.model.design import Skew
from stowright.model.geometry import Box, Span
from stowright.model.job import Place
from stowright.units import snap_down, tidy

__all__ = ["Bearers", "bearers_of", "free_runs"]

#: A body that starts less than this above the floor is not carried: nothing so low can be cut. [mm]
LEAST_RISE = 5.0
#: Bearers stand no further apart than this, and this far in from face and back (common practice).
#: [mm]
APART, FROM_END = 450.0, 20.0
#: A bearer shorter than this carries nothing worth the work. [mm]
LEAST_LENGTH = 80.0
#: Stretches across one body that are looked for: between the arches, beside a lower body.
MOST_RUNS = 4


class Bearers:
    """The bearers under raised bodies, their joints, and what could not be carried."""

    def __init__(self) -> None:
        """Start empty."""
        self.pieces: list[Piece] = []
        self.drafts: list[JointDraft] = []
        self.warnings: list[str] = []


def bearers_of(
    context: Context,
    skew: Skew,
    standing: tuple[StandingBlock, ...],
    carcasses: tuple[Piece, ...],
) -> Bearers:
    """Return the bearers under every body that starts above the load floor.

    Args:
        context: The job.
        skew: How far the bay is out of square.
        standing: The blocks.
        carcasses: Their pieces: floors and sides are screwed down to the bearers.
    """
    found = Bearers()
    for block in standing:
        if block.packers > 0.0 or block.box.z.low < LEAST_RISE:
            continue
        others = tuple(s.box for s in standing if s is not block)
        floors = [
            p
            for p in carcasses
            if p.block == block.block.name and p.role in {"carcass-floor", "floor-rail"}
        ]
        made = _under(context, skew, block, others, _rails(block, floors))
        found.pieces += made
        found.drafts += [
            _joint(floor, bearer) for bearer in made for floor in floors if _meet(floor, bearer)
        ]
        found.drafts += [
            _onto(floor, under) for floor in floors for under in carcasses if _lies_on(floor, under)
        ]
        if not made and not _stands_on(block.box, others):
            found.warnings.append(
                f"{block.block.name}: starts {block.box.z.low:.1f} mm above the floor and no "
                "bearer goes under it; say how it is carried"
            )
    return found


def _stands_on(box: Box, others: tuple[Box, ...]) -> bool:
    return any(
        abs(other.z.high - box.z.low) < 1.0
        and other.x.overlap(box.x) > LEAST_LENGTH
        and other.y.overlap(box.y) > LEAST_LENGTH
        for other in others
    )


def _meet(floor: Piece, bearer: Piece) -> bool:
    a, b = floor.box, bearer.box
    return abs(b.z.high - a.z.low) < 1.0e-6 and a.x.overlap(b.x) > 10.0 and a.y.overlap(b.y) > 10.0


def _lies_on(floor: Piece, under: Piece) -> bool:
    """Tell whether a body's floor lies on the top of another body."""
    a, b = floor.box, under.box
    return (
        under.block != floor.block
        and under.role in {"carcass-rail", "carcass-top"}
        and 0.0 <= a.z.low - b.z.high < LOOSE
        and a.x.overlap(b.x) > 30.0
        and a.y.overlap(b.y) > 30.0
    )


def _onto(floor: Piece, under: Piece) -> JointDraft:
    return JointDraft(
        receiver=floor.id,
        entering=under.id,
        kind="planted",
        glued=False,
        step="modules",
        purpose=f"{floor.block} down to {under.block}",
        removable=True,
    )


def _joint(floor: Piece, bearer: Piece) -> JointDraft:
    return JointDraft(
        receiver=floor.id,
        entering=bearer.id,
        kind="butt",
        glued=False,
        step="packers",
        purpose="floor down to its bearer",
        removable=True,
    )


def _rails(standing: StandingBlock, floors: list[Piece]) -> tuple[Span, ...]:
    """Return where a frame's floor rails lie along its depth: its bearers go under those."""
    along_x = standing.block.face == "tail"
    spans = {
        (box.x.low, box.x.high) if along_x else (box.y.low, box.y.high)
        for box in (p.box for p in floors if p.role == "floor-rail")
    }
    return tuple(Span(low=low, high=high) for low, high in sorted(spans))


def _under(
    context: Context,
    skew: Skew,
    standing: StandingBlock,
    others: tuple[Box, ...],
    rails: tuple[Span, ...],
) -> list[Piece]:
    """Return the bearers of one body, from its face to its back."""
    box, t = standing.box, standing.plan.t
    height = snap_down(box.z.low, context.grid)
    up = Span(low=tidy(box.z.low - height), high=box.z.low)
    across_is_y = standing.block.face == "tail"
    depth, run = (box.x, box.y) if across_is_y else (box.y, box.x)
    made: list[Piece] = []
    for step in [_middle(rail, t) for rail in rails] or _steps(depth, t):
        free = free_runs(context, skew, standing, (step, run), up, others, across_is_y=across_is_y)
        for span in free:
            length = snap_down(span.size, context.grid)
            low = tidy(span.low + (span.size - length) / 2.0)
            along = Span(low=low, high=tidy(low + length))
            x, y = (step, along) if across_is_y else (along, step)
            made.append(_piece(standing, len(made) + 1, Box(x=x, y=y, z=up)))
    return made


def _middle(rail: Span, t: float) -> Span:
    low = tidy(rail.middle - t / 2.0)
    return Span(low=low, high=tidy(low + t))


def _steps(depth: Span, t: float) -> tuple[Span, ...]:
    """Return the bearers' places along a body's depth."""
    first, last = depth.low + FROM_END, depth.high - FROM_END - t
    if last - first < t:
        return (Span(low=tidy(depth.middle - t / 2.0), high=tidy(depth.middle + t / 2.0)),)
    count = max(2, ceil((last - first) / APART) + 1)
    pitch = (last - first) / (count - 1)
    return tuple(
        Span(low=tidy(first + i * pitch), high=tidy(first + i * pitch + t)) for i in range(count)
    )


def free_runs(
    context: Context,
    skew: Skew,
    standing: StandingBlock,
    place: tuple[Span, Span],
    up: Span,
    others: tuple[Box, ...],
    *,
    across_is_y: bool,
) -> list[Span]:
    """Return every stretch across the bay that is free at a bearer's place, to the floor.

    Args:
        context: The job.
        skew: How far the bay is out of square.
        standing: The block that it serves.
        place: Its thickness range, and the range that it may run over.
        up: Its heights.
        others: Carcasses to keep clear of.
        across_is_y: It runs along y, else along x.
    """
    step, run = place
    if not up.size > 0.0:
        return []
    x, y = (step, run) if across_is_y else (run, step)
    where = Place(word="fill", beside="", x=(x.low, x.high), y=(y.low, y.high), z=None)
    found: list[Span] = []
    taken = list(others)
    for _ in range(MOST_RUNS):
        free = free_box(context.job.bay, skew, _leg(standing, up, taken), where)
        if free is None:
            break
        along, thick = (free.y, free.x) if across_is_y else (free.x, free.y)
        taken.append(free)
        if along.size < LEAST_LENGTH:
            break
        if thick.size > step.size - 1.0e-6:
            found.append(along)
            if _left_of(run, found) < LEAST_LENGTH:
                break
    return found


def _leg(standing: StandingBlock, up: Span, taken: list[Box]) -> Ask:
    """Return what a bearer asks of the bay: clear of arches and of what stands already."""
    return Ask(
        block=standing.block.name,
        face="tail",
        z=up,
        side_clear=ARCH_SHEET_CLEAR,
        end_clear=0.0,
        clear_at_face=0.0,
        lining=standing.block.build.lining.bay,
        over_arches=False,
        obstacles=tuple(taken),
    )


def _left_of(run: Span, taken: list[Span]) -> float:
    """Return the longest stretch of a run that the stretches taken from it leave. [mm]."""
    ordered = sorted(taken, key=lambda span: span.low)
    starts = (run.low, *(span.high for span in ordered))
    ends = (*(span.low for span in ordered), run.high)
    return max(end - start for start, end in zip(starts, ends, strict=True))


def _piece(standing: StandingBlock, number: int, box: Box) -> Piece:
    name = standing.block.name
    across_is_y = standing.block.face == "tail"
    return panel(
        BAY_FRAME,
        Place3(across=box.x, depth=box.y, up=box.z),
        Lie("+d", "+h", "+a") if across_is_y else Lie("+a", "+h", "-d"),
        piece_id=f"{name}/bearer-{number}",
        name="bearer under the body",
        role="floor-bearer",
        block=name,
        body="fixed",
        material=standing.block.build.carcass,
        edges=("v0", "v1"),
        origin_note="right-hand lower corner, good face to the cab"
        if across_is_y
        else "tail-side lower corner",
    )
