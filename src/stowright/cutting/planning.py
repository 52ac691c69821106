"""The door of the room: parts and stock in, a checked cutting plan out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stowright.cutting.assemble import cut_layouts
from stowright.cutting.bounds import lower_bounds
from stowright.cutting.intake import Material, by_material, require_sound_input
from stowright.cutting.portfolio import best_answer
from stowright.cutting.rectangles import check_by_rectangles, check_counts
from stowright.cutting.replay import check_by_replay
from stowright.cutting.summary import summed_up
from stowright.errors import CuttingError
from stowright.model.layout import CuttingPlan, MaterialResult, SawSettings

if TYPE_CHECKING:
    from collections.abc import Iterable

    from stowright.cutting.problem import Solution
    from stowright.model.layout import CutPart, Layout, StockSheet

__all__ = ["check_plan", "lay_out"]


def lay_out(
    parts: Iterable[CutPart],
    stock: Iterable[StockSheet],
    saw: SawSettings | None = None,
    *,
    only_in_hand: bool = False,
) -> CuttingPlan:
    """Return the cutting plan of all parts, material by material.

    Args:
        parts: What to cut; sizes are taken as they are.
        stock: What there is and what can be bought.
        saw: The saw; None for a track saw with 3 mm kerf and 10 mm trim.
        only_in_hand: True when nothing may be bought.

    Raises:
        CuttingError: When a part fits on no sheet, the stock is short, or the input is wrong; one
            line for each mistake with what would help.
    """
    saw = saw or SawSettings()
    wanted = tuple(parts)
    there = tuple(sheet for sheet in stock if sheet.in_hand or not only_in_hand)
    require_sound_input(wanted, there, saw)
    layouts: list[Layout] = []
    results: list[MaterialResult] = []
    for material in by_material(wanted, there, saw):
        answer = _answer(material)
        layouts += cut_layouts(material, answer, saw, len(layouts) + 1)
        results.append(_result(material, answer, layouts))
    plan = summed_up(tuple(layouts), there, tuple(results), (), saw)
    check_plan(plan, wanted, there)
    return plan


def check_plan(
    plan: CuttingPlan, parts: tuple[CutPart, ...], stock: tuple[StockSheet, ...]
) -> None:
    """Refuse a plan in which any layout fails either checker or the counts are wrong.

    Raises:
        CuttingError: Naming the layout and what is wrong.
    """
    sheets = {(sheet.material, sheet.id): sheet for sheet in stock}
    for layout in plan.layouts:
        sheet = sheets.get((layout.material, layout.sheet))
        if sheet is None:
            raise CuttingError(f"layout {layout.number}: no sheet {layout.sheet} in the stock")
        if plan.method != "cnc":
            check_by_replay(layout, parts, sheet)
        check_by_rectangles(layout, parts, sheet)
    check_counts(plan, parts, stock)


def _answer(material: Material) -> Solution:
    answer = best_answer(material.problem)
    if answer is None:
        raise CuttingError(_short(material))
    return answer


def _short(material: Material) -> str:
    """Say that the stock does not reach."""
    area = material.problem.part_area / (160**2 * 1e6)
    there = sum(sheet.length * sheet.width * (sheet.copies or 0) / 1e6 for sheet in material.sheets)
    return (
        f"{material.name}: the stock does not reach for {material.problem.parts} parts of "
        f"{area:.2f} m2; it is {there:.2f} m2 before trim and kerf; add sheets or allow buying"
    )


def _result(material: Material, answer: Solution, layouts: list[Layout]) -> MaterialResult:
    """Return the figures and the proof for one material."""
    bound = lower_bounds(material.problem.kinds, material.sizes, material.problem.rules)
    own = [layout for layout in layouts if layout.material == material.name]
    sheets = sum(layout.copies for layout in own)
    costs = {s.id: c for s, c in zip(material.sheets, material.costs, strict=True)}
    cost = sum(costs[layout.sheet] * layout.copies for layout in own)
    lower = max(bound.sheets, answer.bound)
    several = len(material.sizes) > 1
    least_cost = max(bound.cost, answer.cost_bound) if several else lower * material.costs[0]
    proved = cost <= least_cost + 1e-6 if several else sheets == lower
    return MaterialResult(
        material=material.name,
        sheets=sheets,
        lower_bound=min(lower, sheets),
        cost=cost,
        cost_bound=min(least_cost, cost),
        proved_least=proved,
        reason=_reason(material.name, sheets, lower, bound.because, proved=proved),
        found_by=answer.found_by,
    )


def _reason(name: str, sheets: int, lower: int, because: str, *, proved: bool) -> str:
    many = "1 sheet is" if lower == 1 else f"{lower} sheets are"
    if proved and sheets == lower:
        return f"{name}: {many} needed because {because}"
    if proved:
        return f"{name}: no other choice of sheets costs less ({because})"
    more = sheets - lower
    if more <= 0:
        return f"{name}: {many} needed at least; a cheaper choice of sheets is not ruled out"
    return f"{name}: {sheets} sheets, at most {more} above the bound of {lower} ({because})"
