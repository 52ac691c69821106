"""Packing between modules that stand apart, so that the bolts between them pull on wood, not air.

A gap of a card's or a felt's thickness needs none. A wider one, left because something stands proud
on a mating face or because the job asks for it, gets strips of the thickest sheet that goes in;
what is left over is a line of the sum.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Literal

from stowright.design.arrange import ModulePlan
from stowright.design.block import StandingBlock
from stowright.design.context import Context
from stowright.design.gaps import gap_between
from stowright.design.panel import Lie, Place3, panel
from stowright.design.pieces import Piece
from stowright.design.sums import line, stated
from stowright.design.thickness import thickness_in_use
from stowright.model.design import Gap, Sum
from stowright.model.geometry import Point3, Span
from stowright.model.part import Feature, Joint, PlacedFixing
from stowright.units import snap_down

__all__ = ["SidePacking", "side_packing_of"]

#: A gap up to this is closed by the bolts, by felt or by card (common practice). [mm]
CLOSED_BY_BOLTS = 3.0
#: A strip's width (common practice). [mm]
STRIP = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SidePacking:
    """The strips of a job, what they are held by, and what no sheet is thin enough for.

    Attributes:
        fixings: All fixings, those that pass a strip with its id among what they join.
    """

    pieces: tuple[Piece, ...]
    joints: tuple[Joint, ...]
    fixings: tuple[PlacedFixing, ...]
    sums: tuple[Sum, ...]
    gaps: tuple[Gap, ...]
    warnings: tuple[str, ...]


@dataclass(slots=True)
class _Basket:
    pieces: list[Piece] = field(default_factory=list)
    joints: list[Joint] = field(default_factory=list)
    sums: list[Sum] = field(default_factory=list)
    gaps: list[Gap] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)


def side_packing_of(
    context: Context,
    standing: tuple[StandingBlock, ...],
    carcasses: tuple[Piece, ...],
    fixings: tuple[PlacedFixing, ...],
) -> SidePacking:
    """Return the packing between the modules of every block.

    Args:
        context: The job.
        standing: The blocks.
        carcasses: Their pieces.
        fixings: Every fixing: a strip stands where bolts or screws join two modules.
    """
    by_id = {piece.id: piece for piece in carcasses}
    basket = _Basket()
    for block in standing:
        gap = block.block.build.module_gap
        if gap <= CLOSED_BY_BOLTS or len(block.plan.modules) < 2:
            continue
        sheet = _sheet(context, block, gap)
        if sheet is None:
            basket.warnings.append(
                f"{block.block.name}: no sheet is thin enough to pack the {context.shown(gap)} "
                "between its modules; put washers or card on each bolt between them"
            )
            continue
        for one, two in pairwise(block.plan.modules):
            fixings = _between(context, block, (one, two), sheet, by_id, fixings, basket)
    return SidePacking(
        pieces=tuple(basket.pieces),
        joints=tuple(basket.joints),
        fixings=fixings,
        sums=tuple(basket.sums),
        gaps=tuple(basket.gaps),
        warnings=tuple(basket.warnings),
    )


def _between(
    context: Context,
    block: StandingBlock,
    pair: tuple[ModulePlan, ModulePlan],
    sheet: str,
    by_id: Mapping[str, Piece],
    fixings: tuple[PlacedFixing, ...],
    basket: _Basket,
) -> tuple[PlacedFixing, ...]:
    """Pack one pair of modules; return the fixings with the strips they pass."""
    name, (one, two) = block.block.name, pair
    side, other = by_id[f"{name}/{one.name}/side-right"], by_id[f"{name}/{two.name}/side-left"]
    joining = [f for f in fixings if f.direction and {side.id, other.id} <= set(f.joins)]
    strips = _strips(context, block, one, sheet, [_depth_of(side, f.at) for f in joining])
    passed: dict[str, str] = {}
    for strip in strips:
        own = [f for f in joining if f.id not in passed and _passes(strip, f)]
        passed |= {f.id: strip.id for f in own}
        basket.pieces.append(_with_holes(strip, own))
        basket.joints.append(_joint(side, strip))
    about = f"{name}: packing between modules {one.name} and {two.name}"
    basket.sums.append(
        stated(
            f"{about}, play left",
            line("gap between modules", block.block.build.module_gap),
            line(f"packing strip of {sheet}", -context.t(sheet)),
        )
    )
    axis: Literal["x", "y"] = "y" if block.block.face == "tail" else "x"
    basket.gaps += [
        gap_between(f"{about}: play", strip, other, axis, least=0.0) for strip in strips
    ]
    return tuple(_through(f, side.id, passed[f.id]) if f.id in passed else f for f in fixings)


def _depth_of(side: Piece, at: Point3) -> float:
    """Return how far behind the face a place on a side lies: its length runs into the block."""
    return side.to_local(at)[0]


def _passes(strip: Piece, fixing: PlacedFixing) -> bool:
    u, v, _ = strip.to_local(fixing.at)
    return 0.0 < u < strip.length and 0.0 < v < strip.width


def _through(fixing: PlacedFixing, side: str, strip: str) -> PlacedFixing:
    """Return a fixing with the strip between the two sides that it joins."""
    joins = list(fixing.joins)
    joins.insert(1 if joins[0] == side else joins.index(side), strip)
    return replace(fixing, joins=tuple(joins))


def _with_holes(strip: Piece, fixings: Iterable[PlacedFixing]) -> Piece:
    """Return a strip with a clearance hole for each fixing that passes it."""
    holes = []
    for fixing in fixings:
        if fixing.kind not in {"bolt", "screw"}:
            continue
        u, v, _ = strip.to_local(fixing.at)
        wide = max(fixing.pilot, 5.0)
        holes.append(
            Feature(
                kind="hole",
                face="good",
                at=(round(u, 3), round(v, 3)),
                size=(wide,),
                depth=strip.thickness,
                through=True,
                purpose="for what joins the modules",
                fixing=fixing.id,
            )
        )
    return replace(strip, features=(*strip.features, *holes))


def _sheet(context: Context, block: StandingBlock, gap: float) -> str | None:
    """Return the thickest sheet that goes into a gap, one that the block uses before another."""
    build = block.block.build
    own = (build.packers.sheet, build.carcass, build.drawer_bottom, build.drawer, build.front_sheet)
    family = context.catalogue.material(build.carcass).family
    kin = (m.name for m in context.catalogue.materials if m.family == family)
    names = dict.fromkeys((*own, *kin))
    fitting = [
        (t, -n, name)
        for n, name in enumerate(names)
        if (t := thickness_in_use(context.job, context.catalogue, name).t) <= gap + 1.0e-9
    ]
    return max(fitting)[2] if fitting else None


def _strips(
    context: Context, standing: StandingBlock, module: ModulePlan, sheet: str, at: list[float]
) -> list[Piece]:
    """Return upright strips against a module's right side, at what joins it to the next."""
    plan, t = standing.plan, context.t(sheet)
    width = snap_down(min(STRIP, plan.depth / 4.0), context.grid)
    across = Span(low=module.across.high, high=round(module.across.high + t, 6))
    name = standing.block.name
    return [
        panel(
            standing.frame,
            Place3(across=across, depth=depth, up=Span(low=0.0, high=plan.height)),
            Lie("+h", "+d", "-a"),
            piece_id=f"{name}/{module.name}/packing-{number}",
            name="packing strip between modules",
            role="side-packing",
            block=name,
            module=module.name,
            body="fixed",
            material=sheet,
            grain="free",
            origin_note="lower corner at the face, good face to the module it is glued to",
        )
        for number, depth in enumerate(_depths(at, plan.depth, width), start=1)
    ]


def _depths(at: list[float], depth: float, width: float) -> list[Span]:
    """Return a strip's place over each joining fixing, one for those that stand close."""
    wanted = sorted({round(place, 3) for place in at}) or [width / 2.0, depth - width / 2.0]
    spans: list[Span] = []
    for place in wanted:
        low = round(min(max(place - width / 2.0, 0.0), depth - width), 6)
        if spans and low < spans[-1].high:
            if place < spans[-1].high - 10.0:
                continue
            low = spans[-1].high
        if low + width <= depth + 1.0e-6:
            spans.append(Span(low=low, high=round(low + width, 6)))
    return spans


def _joint(side: Piece, strip: Piece) -> Joint:
    return Joint(
        id=f"{strip.id}-glue",
        kind="planted",
        parts=(side.id, strip.id),
        glued=True,
        fixing="",
        count=0,
        note="glued to the side; what joins the modules goes through it",
    )
