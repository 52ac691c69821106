"""The door of the room: parts and stock in, a checked cutting plan out."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stowright.cutting import grid
from stowright.cutting.assemble import cut_layouts
from stowright.cutting.bounds import Bound, lower_bounds, stock_sizes
from stowright.cutting.effort import EFFORTS, Effort, Progress, Watch
from stowright.cutting.exact import SingleSheet
from stowright.cutting.intake import PANEL_STAGES, Material, by_material, require_sound_input
from stowright.cutting.panel import crosscuts_first, lowered
from stowright.cutting.portfolio import Search, least_stock, made_handy
from stowright.cutting.problem import Bin, Kind, Problem, Rules
from stowright.cutting.rectangles import check_by_rectangles, check_counts
from stowright.cutting.recut import fewest_lines
from stowright.cutting.releases import by_release, joined
from stowright.cutting.replay import check_by_replay, check_stages
from stowright.cutting.routed import least_routed, routed_layouts
from stowright.cutting.routed_check import check_by_sweep
from stowright.cutting.scarce import ScarceSheet
from stowright.cutting.searching import Handy, on_one_less
from stowright.cutting.strips import by_strips
from stowright.cutting.summary import summed_up
from stowright.errors import CuttingError
from stowright.model.layout import (
    CutPart,
    CuttingPlan,
    MaterialResult,
    SawSettings,
    StockSheet,
    Unplaced,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from stowright.cutting.problem import Solution
    from stowright.model.layout import Layout

__all__ = ["check_plan", "compile_ahead", "lay_out"]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """What one call was asked for."""

    saw: SawSettings
    effort: Effort
    watch: Watch
    seed: int
    allow_unplaced: bool


def lay_out(
    parts: Iterable[CutPart],
    stock: Iterable[StockSheet],
    saw: SawSettings | None = None,
    *,
    seed: int = 0,
    effort: str | Effort = "quick",
    time_limit_s: float | None = None,
    only_in_hand: bool = False,
    allow_unplaced: bool = False,
    progress: Callable[[Progress], None] | None = None,
    should_stop: Callable[[], bool] | None = None,
) -> CuttingPlan:
    """Return the cutting plan of all parts, material by material.

    The same parts, stock, saw, seed and effort give the same plan on every machine; a time limit
    or ``should_stop`` only ends the search early, and the plan says so.

    Args:
        parts: What to cut; sizes are taken as they are.
        stock: What there is and what can be bought.
        saw: The saw; None for a track saw with 3 mm kerf and 10 mm trim.
        seed: Start of the random numbers, 0 or above.
        effort: ``first``, ``quick``, ``normal`` or ``long``, or a budget of one's own.
        time_limit_s: Ends the search early. [s]
        only_in_hand: True when nothing may be bought.
        allow_unplaced: True to get a plan with parts left over when the stock is short.
        progress: Told how it goes.
        should_stop: Asked between rounds; True ends the search.

    Raises:
        CuttingError: When a part fits on no sheet, the stock is short, or the input is wrong; one
            line for each mistake with what would help.
    """
    wanted = tuple(parts)
    there = tuple(sheet for sheet in stock if sheet.in_hand or not only_in_hand)
    run = _Run(
        saw=saw or SawSettings(),
        effort=EFFORTS[effort] if isinstance(effort, str) else effort,
        watch=Watch(time_limit_s=time_limit_s, should_stop=should_stop, report=progress),
        seed=seed,
        allow_unplaced=allow_unplaced,
    )
    require_sound_input(wanted, there, run.saw)
    layouts: list[Layout] = []
    results: list[MaterialResult] = []
    unplaced: list[Unplaced] = []
    for material in by_material(wanted, there, run.saw):
        found, result, left = _laid_out(material, run, len(layouts) + 1)
        layouts += found
        results.append(result)
        unplaced += left
    plan = summed_up(tuple(layouts), there, tuple(results), tuple(unplaced), run.saw)
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
        check = check_by_sweep if plan.method == "cnc" else check_by_replay
        check(layout, parts, sheet)
        if plan.method == "panel" and not sheet.defects:
            check_stages(layout, PANEL_STAGES)
        check_by_rectangles(layout, parts, sheet)
    check_counts(plan, parts, stock)


_NOISE = 1e-6
_SHARE_OF_ROUTER = 8  # of the finishing steps a saw's layout gets
_OFFCUT_ALONE = 1000.0  # more than all lines together count for
_LAID_TOGETHER = "release B shares its sheets: laid freely, all parts together take less stock"
_B_WHOLE = "release B comes from sheets of its own, whole until it is cut; that costs nothing"


def compile_ahead() -> None:
    """Compile the search's inner loops now, so that no later run waits for it."""
    part = CutPart(mark="A", length=500.0, width=300.0, material="any", quantity=3)
    sheet = StockSheet(id="S", material="any", length=1000.0, width=1000.0)
    lay_out((part,), (sheet,), effort=Effort(place=1, finish=1))
    kind = Kind(length=2, width=1, copies=9, turnable=True)
    whole = SingleSheet.of((kind,), 4, 4, 0)
    for single in (whole, ScarceSheet(whole, ((0, 1),))):
        single.best([1])
    bin_ = Bin(w=4, h=4, copies=None, cost=1.0, sheet=0)
    few = Problem(kinds=(kind,), bins=(bin_,), rules=Rules(kerf=0))
    fewest_lines(few, Counter({0: 1}), (4, 4))
    answer = by_strips(few, Watch())
    if answer is not None:
        on_one_less(few, answer, work=1, watch=Watch())


def _laid_out(
    material: Material, run: _Run, first_number: int
) -> tuple[list[Layout], MaterialResult, list[Unplaced]]:
    """Return one material's layouts, figures and left-over parts."""
    bound = lower_bounds(material.problem.kinds, material.sizes, material.problem.rules)
    search = Search(
        material=material.name,
        effort=run.effort.for_parts(material.problem.parts),
        handy=_handy(run.saw),
        watch=run.watch,
        seed=run.seed,
    )
    if run.saw.method == "cnc":
        answer, layouts, left, release_b = _routed(material, bound, (run, search), first_number)
    else:
        answer, bound, release_b = _sawn(material, bound, run, search)
        layouts, left = cut_layouts(material, answer, run.saw, first_number)
    result = _result(material, answer, bound, layouts)
    return layouts, replace(result, stopped=run.watch.stopped, release_b=release_b), left


def _sawn(
    material: Material, bound: Bound, run: _Run, search: Search
) -> tuple[Solution, Bound, str]:
    """Return a saw's answer, the best bound, and what is said of release B.

    Where a panel saw would crosscut a sheet before it rips it, sheets one unit lower are tried.
    """
    answer, better, release_b = _searched(material, bound, run, search)
    lower = lowered(material.problem)
    if crosscuts_first(material.problem, answer) and lower != material.problem:
        lowest = replace(material, problem=lower)
        again, _, release_b = _searched(lowest, bound, run, search)
        answer = replace(again, bound=answer.bound, cost_bound=answer.cost_bound)
    return answer, better, release_b


def _searched(
    material: Material, bound: Bound, run: _Run, search: Search
) -> tuple[Solution, Bound, str]:
    """Return the handiest of the cheapest answers, the best bound, and what is said of B."""
    answer, better = least_stock(material.problem, bound, search)
    _require_enough(material, answer, run)
    answer, release_b = _finished(material, answer, search)
    return answer, better, release_b


def _routed(
    material: Material, bound: Bound, run_of: tuple[_Run, Search], first_number: int
) -> tuple[Solution, list[Layout], list[Unplaced], str]:
    """Return a router's answer, its layouts, parts left over, and what is said of release B."""
    run, search = run_of
    # no saw lines: what is left to gain is the offcut, and that takes far fewer steps
    effort = replace(search.effort, prove=0, finish=search.effort.finish // _SHARE_OF_ROUTER)
    handy = replace(search.handy, setting=0.0, metres=0.0, offcut=_OFFCUT_ALONE)
    search = replace(search, effort=effort, handy=handy, sawn=False)
    answer, free = least_routed(material.problem, bound, search)
    if free is None:
        _require_enough(material, answer, run)
        answer, release_b = _finished(material, answer, search)
    else:
        answer = replace(answer, missing=(), found_by="packingsolver")
        release_b = _LAID_TOGETHER if _has_two_releases(material.problem) else ""
    answer = replace(answer, bound=0, cost_bound=0.0)  # the solver's is one for edge-to-edge cuts
    layouts, left = routed_layouts(material, answer, free, run.saw, first_number)
    return answer, layouts, left, release_b


def _require_enough(material: Material, answer: Solution, run: _Run) -> None:
    """Refuse an answer with parts missing, unless that is allowed."""
    if answer.missing and not run.allow_unplaced:
        raise CuttingError(_short(material, answer))


def _finished(material: Material, answer: Solution, search: Search) -> tuple[Solution, str]:
    """Return an answer made handy, and what keeping the B release's material whole costs.

    Where that costs nothing the two releases come from sheets of their own.
    """
    problem = material.problem
    quiet = replace(
        search,
        effort=replace(search.effort, prove=0),
        watch=replace(search.watch, report=None),
    )

    def solve(part: Problem) -> Solution:
        bound = lower_bounds(part.kinds, stock_sizes(part), part.rules)
        return least_stock(part, bound, quiet)[0]

    shares = None if answer.missing else by_release(problem, solve)
    if shares is None:
        return made_handy(problem, answer, search), _one_release(problem)
    apart = joined(shares, answer)
    more = len(apart.patterns) - len(answer.patterns), apart.cost(problem) - answer.cost(problem)
    if more[0] > 0 or more[1] > _NOISE:
        return made_handy(problem, answer, search), _price_of_b(material, *more)
    handy = [replace(s, answer=made_handy(s.problem, s.answer, search)) for s in shares]
    return joined((handy[0], handy[1]), answer), f"{material.name}: {_B_WHOLE}"


def _one_release(problem: Problem) -> str:
    """Say that the stock does not allow it, where there are two releases."""
    if not _has_two_releases(problem):
        return ""
    return "release B cannot have sheets of its own: the stock does not reach for that"


def _has_two_releases(problem: Problem) -> bool:
    return len({kind.waits for kind in problem.kinds}) > 1


def _price_of_b(material: Material, sheets: int, cost: float) -> str:
    """Say what sheets of its own for the B release would cost."""
    priced = all(sheet.price is not None for sheet in material.sheets)
    money = f" ({cost:g} more at the prices given)" if priced and cost > _NOISE else ""
    many = f"{sheets} sheet{'' if sheets == 1 else 's'} more" if sheets > 0 else "a dearer choice"
    return f"{material.name}: release B on sheets of its own would take {many}{money}"


def _handy(saw: SawSettings) -> Handy:
    sides = sorted((grid.up(saw.keep_width), grid.up(saw.keep_length)))
    return Handy(keep_short=sides[0], keep_long=sides[1])


def _short(material: Material, answer: Solution) -> str:
    """Say which parts the stock does not reach for."""
    missing = dict(answer.missing)
    names = [
        part.mark
        for part, kind in zip(material.parts, material.kind_of, strict=True)
        if kind in missing
    ]
    area = sum(
        count * material.problem.kinds[kind].length * material.problem.kinds[kind].width
        for kind, count in answer.missing
    )
    return (
        f"{material.name}: the stock does not reach for {sum(missing.values())} of "
        f"{material.problem.parts} parts (of the sizes of {', '.join(names)}); they are "
        f"{grid.square_metres(area):.3f} m2; add a sheet or allow buying"
    )


def _result(
    material: Material, answer: Solution, bound: Bound, layouts: list[Layout]
) -> MaterialResult:
    """Return the figures and the proof for one material."""
    sheets = sum(layout.copies for layout in layouts)
    costs = {s.id: c for s, c in zip(material.sheets, material.costs, strict=True)}
    cost = sum(costs[layout.sheet] * layout.copies for layout in layouts)
    lower = max(bound.sheets, answer.bound)
    single = len(material.sizes) == 1
    least_cost = lower * material.costs[0] if single else max(bound.cost, answer.cost_bound)
    proved = sheets <= lower if single else cost <= least_cost + _NOISE
    result = MaterialResult(
        material=material.name,
        sheets=sheets,
        lower_bound=lower,
        cost=cost,
        cost_bound=least_cost,
        proved_least=proved and not answer.missing,
        reason="",
        found_by=answer.found_by,
    )
    return replace(result, reason=_reason(result, material, bound.because))


def _reason(result: MaterialResult, material: Material, because: str) -> str:
    """Say the proof in words, or how far it falls short."""
    name, sheets, lower = result.material, result.sheets, result.lower_bound
    many = "1 sheet is" if lower == 1 else f"{lower} sheets are"
    if result.proved_least and sheets <= lower:
        return f"{name}: {many} needed because {because}"
    if len(material.sizes) > 1:
        bought = [sheet for sheet in material.sheets if not sheet.in_hand]
        priced = all(sheet.price is not None for sheet in bought)
        given = any(sheet.cost is not None for sheet in material.sheets)
        unit = "" if priced or given else " m2 of sheet"
        if result.proved_least:
            return f"{name}: no choice of sheets comes to less than {result.cost:.6g}{unit}"
        least = f"no choice of sheets can come to less than {result.cost_bound:.6g}"
        come = "1 sheet comes" if sheets == 1 else f"{sheets} sheets come"
        return f"{name}: {come} to {result.cost:.6g}{unit}; {least} ({because})"
    return (
        f"{name}: {sheets} sheets, at most {sheets - lower} above the bound of {lower} ({because})"
    )
