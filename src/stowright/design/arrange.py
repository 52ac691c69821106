"""From a block's usable box to its modules, columns and openings: sizes and sums, no panels."""

from __future__ import annotations

from dataclasses import dataclass

from stowright.design.context import Context
from stowright.design.shares import Want, share_out
from stowright.design.sums import as_settled, fitted, line, stated
from stowright.errors import DesignError
from stowright.model.design import Sum, SumLine, UsableBox
from stowright.model.geometry import Span
from stowright.model.job import Block, Build, Column, Fill
from stowright.model.refit import BlockRefit
from stowright.units import snap_down, tidy

__all__ = ["Arrangement", "ColumnPlan", "ModulePlan", "OpeningPlan", "arrange"]

#: A clear opening smaller than this holds nothing and cannot be reached into. [mm]
LEAST_OPENING = 40.0


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningPlan:
    """An opening in the block's frame.

    Attributes:
        up: Clear height range; the part heights are made from ``fit_height``.
        fit_height: The height that equal shares of one stack have in common. [mm]
    """

    fill: Fill
    column: int
    row: int
    across: Span
    up: Span
    depth: float
    fit_height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnPlan:
    """A column: its clear width and its openings from the floor up."""

    index: int
    across: Span
    openings: tuple[OpeningPlan, ...]
    build: Build


@dataclass(frozen=True, slots=True, kw_only=True)
class ModulePlan:
    """A carcass: outer range across, its columns."""

    name: str
    across: Span
    columns: tuple[ColumnPlan, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrangement:
    """A block arranged: everything is measured from its lower left corner at the face.

    Attributes:
        width, height, depth: Outer size of the carcasses together.
        slack_across, slack_depth: What the cut grid left over.
        t: Upright thickness. t_floor, t_top, t_back: 0 where there is none.
    """

    width: float
    height: float
    depth: float
    slack_across: float
    slack_depth: float
    t: float
    t_floor: float
    t_top: float
    t_back: float
    modules: tuple[ModulePlan, ...]
    sums: tuple[Sum, ...]


def arrange(context: Context, block: Block, usable: UsableBox, *, height: Sum) -> Arrangement:
    """Share a usable box out among columns and stacks.

    Args:
        context: The job.
        block: The block.
        usable: Its usable box.
        height: The carcass height as a sum.

    Raises:
        DesignError: When columns or stacks do not go in.
    """
    cut = context.cut_block(block.name) or BlockRefit(block=block.name)
    of_sheet = context.t(block.build.carcass)
    t = of_sheet if cut.t is None else cut.t
    sideways = block.face != "tail"
    room_across = usable.box.y.size if not sideways else usable.box.x.size
    room_depth = usable.box.x.size if not sideways else usable.box.y.size
    depth = fitted(
        f"{block.name}: depth",
        line("usable depth", room_depth),
        *_sheet_end(context, block, room_depth),
        grid=context.grid,
    )
    if cut.depth is not None:
        depth = as_settled(depth, cut.depth, "as the sides are cut")
    _require_room(block, depth.result, height.result)
    clears, width_sums, width = _widths(context, block, room_across, t, cut)
    t_top = t if block.build.top in {"rails", "panel"} else 0.0
    t_back = t if block.build.back in {"panel", "frame"} else 0.0
    heights = _Heights(height=height.result, t_floor=t, t_top=t_top, t=t, t_back=t_back)
    modules, stack_sums = _modules(context, block, clears, heights, depth.result - t_back)
    return Arrangement(
        width=width,
        height=height.result,
        depth=depth.result,
        slack_across=room_across - width,
        slack_depth=room_depth - depth.result,
        t=t,
        t_floor=t,
        t_top=t_top,
        t_back=t_back,
        modules=modules,
        sums=(height, depth, *width_sums, *stack_sums),
    )


def _sheet_end(context: Context, block: Block, room: float) -> tuple[SumLine, ...]:
    """A block whose depth was left open ends where the longest sheet does."""
    asked = block.place.x if block.face == "tail" else block.place.y
    longest = context.largest_sheet(block.build.carcass)[0]
    if asked is not None or room <= longest:
        return ()
    return (line("beyond the longest sheet", longest - room),)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Heights:
    height: float
    t_floor: float
    t_top: float
    t: float
    t_back: float


def _require_room(block: Block, depth: float, height: float) -> None:
    for what, size in (("depth", depth), ("height", height)):
        if not size > LEAST_OPENING:
            raise DesignError(
                block.name,
                f"only {size:.1f} mm of {what} are left for it",
                "move what limits it, or give the block other ranges",
            )


def _widths(
    context: Context, block: Block, room: float, t: float, cut: BlockRefit
) -> tuple[tuple[float, ...], tuple[Sum, ...], float]:
    """Return clear widths, their sums and the width over all carcasses."""
    count = len(block.columns)
    if block.modules == "separate":
        uprights, gaps = 2 * count, (count - 1) * block.build.module_gap
    else:
        uprights, gaps = count + 1, 0.0
    clear = room - uprights * t - gaps
    wants = tuple(
        Want(name=f"column {i}", fixed=c.width, weight=c.weight, least=c.least)
        for i, c in enumerate(block.columns, start=1)
    )
    widths = share_out(clear, wants, grid=context.grid, about=f"{block.name}: columns")
    planned, widths = widths, _as_cut(widths, cut)
    for i, width in enumerate(widths, start=1):
        if not width > LEAST_OPENING:
            raise DesignError(
                f"{block.name}: column {i}",
                f"only {width:.1f} mm wide inside",
                "fewer columns, or fixed widths that leave it more",
            )
    total = sum(widths) + uprights * t + gaps
    terms = [
        line("usable width", room),
        line(f"{uprights} uprights of {t:g}", -uprights * t),
    ]
    if gaps:
        terms.append(line(f"{count - 1} gaps between modules", -gaps))
    sums = [stated(f"{block.name}: clear width of all columns", *terms)]
    sums += [
        as_settled(
            _share_sum(f"{block.name}: opening width, column {i}", clear, width, wants[i - 1]),
            widths[i - 1],
            "as what lies between the uprights is cut",
        )
        for i, width in enumerate(planned, start=1)
    ]
    return widths, tuple(sums), total


def _as_cut(widths: tuple[float, ...], cut: BlockRefit) -> tuple[float, ...]:
    """Return clear widths, each that is settled by cut panels in its place."""
    if not cut.clears:
        return widths
    pairs = zip(widths, cut.clears, strict=True)
    return tuple(width if settled is None else settled for width, settled in pairs)


def _share_sum(size_of: str, total: float, got: float, want: Want) -> Sum:
    if want.fixed is not None:
        return stated(size_of, line("as the job says", got))
    others = line("what the others take, and the cut grid", got - total)
    return stated(size_of, line("clear together", total), others)


def _modules(
    context: Context,
    block: Block,
    clears: tuple[float, ...],
    heights: _Heights,
    depth: float,
) -> tuple[tuple[ModulePlan, ...], tuple[Sum, ...]]:
    t = heights.t
    modules: list[ModulePlan] = []
    sums: list[Sum] = []
    columns: list[ColumnPlan] = []
    left = 0.0
    for i, (column, clear) in enumerate(zip(block.columns, clears, strict=True), start=1):
        across = Span(low=tidy(left + t), high=tidy(left + t + clear))
        plan, column_sums = _column(context, block, column, i, across, heights, depth)
        sums.extend(column_sums)
        if block.modules == "separate":
            outer = Span(low=tidy(left), high=tidy(across.high + t))
            modules.append(ModulePlan(name=str(i), across=outer, columns=(plan,)))
            left = outer.high + block.build.module_gap
        else:
            columns.append(plan)
            left = across.high
    if columns:
        outer = Span(low=0.0, high=tidy(columns[-1].across.high + t))
        modules.append(ModulePlan(name="1", across=outer, columns=tuple(columns)))
    return tuple(modules), tuple(sums)


def _column(
    context: Context,
    block: Block,
    column: Column,
    index: int,
    across: Span,
    heights: _Heights,
    depth: float,
) -> tuple[ColumnPlan, tuple[Sum, ...]]:
    about = f"{block.name}: stack of column {index}"
    clear_height = tidy(heights.height - heights.t_floor - heights.t_top)
    parting = heights.t if column.build.between_fills != "none" else 0.0
    between = parting * (len(column.stack) - 1)
    wants = tuple(
        Want(name=f.name, fixed=f.height, weight=f.weight, least=f.least) for f in column.stack
    )
    sizes = share_out(clear_height - between, wants, grid=context.grid, about=about)
    for fill, size in zip(column.stack, sizes, strict=True):
        if not size > LEAST_OPENING:
            raise DesignError(fill.name, f"only {size:.1f} mm high inside", "fewer fills in it")
    openings: list[OpeningPlan] = []
    sums: list[Sum] = []
    up = heights.t_floor
    for row, (fill, size) in enumerate(zip(column.stack, sizes, strict=True), start=1):
        last = row == len(sizes)
        top = heights.t_floor + clear_height if last else up + size
        span = Span(low=tidy(up), high=tidy(top))
        whole = depth + heights.t_back if fill.fill == "through" else depth
        openings.append(
            OpeningPlan(
                fill=fill,
                column=index,
                row=row,
                across=across,
                up=span,
                depth=tidy(whole),
                fit_height=snap_down(size, context.grid) if fill.height is None else size,
            )
        )
        sums.append(_height_sum(fill, heights, sizes, span, parting))
        up = top + parting
    return (
        ColumnPlan(index=index, across=across, openings=tuple(openings), build=column.build),
        tuple(sums),
    )


def _height_sum(
    fill: Fill, heights: _Heights, sizes: tuple[float, ...], span: Span, parting: float
) -> Sum:
    terms = [line("carcass height", heights.height), line("carcass floor", -heights.t_floor)]
    if heights.t_top:
        terms.append(line("top rails or panel", -heights.t_top))
    others = heights.height - heights.t_floor - heights.t_top - span.size
    parted = parting * (len(sizes) - 1)
    if parted:
        terms.append(line(f"{len(sizes) - 1} partings of {parting:g}", -parted))
    if abs(others - parted) > 1.0e-9:
        terms.append(line("the other openings of the stack", parted - others))
    return stated(f"{fill.name}: opening height", *terms)
