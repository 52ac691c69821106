"""The wall sums of a carcass's panels: what is between what, and what is let into what."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import floor

from stowright.design.arrange import Arrangement, ColumnPlan, ModulePlan
from stowright.design.context import Context
from stowright.design.sums import fitted, line
from stowright.model.design import Sum, SumLine
from stowright.model.job import Block

__all__ = ["SumsAsk", "carcass_sums", "inner_let"]


#: A partition is housed from both faces: no deeper than this share of it from each. [-]
_EACH_FACE = 1.0 / 3.0


def inner_let(let: float, t: float) -> float:
    """Return how far a panel goes into a partition, which may be cut from both faces. [mm]."""
    return min(let, floor(t * _EACH_FACE * 2.0) / 2.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class SumsAsk:
    """A carcass whose panels are summed up.

    Attributes:
        let: How far panels go into uprights; let_up: how far partitions go into floor and top.
        whole_back: One back spans the carcass, and shelves end before it.
    """

    context: Context
    block: Block
    plan: Arrangement
    module: ModulePlan
    let: float
    let_up: float
    whole_back: bool

    @property
    def about(self) -> str:
        """The module by its block and number."""
        return f"{self.block.name} {self.module.name}"


def carcass_sums(ask: SumsAsk) -> tuple[Sum, ...]:
    """Return the sums of floor, top, back, partitions and shelves of one carcass."""
    return (*_across(ask), *_back(ask), *_partitions(ask), *_shelves(ask))


def _sum(ask: SumsAsk, what: str, *terms: SumLine) -> Sum:
    return fitted(f"{ask.about}: {what}", *terms, grid=ask.context.grid)


def _let_in(ask: SumsAsk, *, left: float, right: float) -> tuple[SumLine, ...]:
    if not ask.let:
        return ()
    return (line("let in, left", left), line("let in, right", right))


def _inside(ask: SumsAsk) -> tuple[SumLine, ...]:
    t = ask.plan.t
    return (
        line("carcass width", ask.module.across.size),
        line("side, left", -t),
        line("side, right", -t),
        *_let_in(ask, left=ask.let, right=ask.let),
    )


def _across(ask: SumsAsk) -> Iterator[Sum]:
    build = ask.block.build
    low = "floor rails" if build.carcass_kind == "frame" else "floor"
    yield _sum(ask, f"{low} across", *_inside(ask))
    if build.top != "deck":
        top = "top rails" if build.top == "rails" else "top"
        yield _sum(ask, f"{top} across", *_inside(ask))


def _up(ask: SumsAsk) -> tuple[SumLine, ...]:
    plan = ask.plan
    top = (line("top", -plan.t_top),) if plan.t_top else ()
    return (line("carcass height", plan.height), line("floor", -plan.t_floor), *top)


def _back(ask: SumsAsk) -> Iterator[Sum]:
    build = ask.block.build
    if build.back == "none" or not ask.whole_back:
        return
    yield _sum(ask, "back across", *_inside(ask))
    if build.back == "panel":
        yield _sum(ask, "back height", *_up(ask))


def _depth(ask: SumsAsk) -> tuple[SumLine, ...]:
    plan = ask.plan
    back = (line("back", -plan.t_back),) if ask.whole_back and plan.t_back else ()
    return (line("carcass depth", plan.depth), *back)


def _partitions(ask: SumsAsk) -> Iterator[Sum]:
    if len(ask.module.columns) < 2:
        return
    let = []
    if ask.let_up:
        let.append(line("let into the floor", ask.let_up))
        if ask.plan.t_top:
            let.append(line("let into the top", ask.let_up))
    yield _sum(ask, "partition height", *_up(ask), *let)
    yield _sum(ask, "partition depth", *_depth(ask))


def _shelves(ask: SumsAsk) -> Iterator[Sum]:
    for column in ask.module.columns:
        kind = column.build.between_fills
        if kind != "none" and len(column.openings) > 1:
            what = f"{kind}, column {column.index}"
            yield _sum(ask, f"{what}, across", *_between(ask, column))
            if kind == "shelf":
                yield _sum(ask, f"{what}, depth", *_depth(ask))


def _between(ask: SumsAsk, column: ColumnPlan) -> tuple[SumLine, ...]:
    columns, inner = ask.module.columns, inner_let(ask.let, ask.plan.t)
    left = ask.let if column is columns[0] else inner
    right = ask.let if column is columns[-1] else inner
    return (
        line("between the uprights", column.across.size),
        *_let_in(ask, left=left, right=right),
    )
