"""Layouts for a router: parts one cutter's width apart, no saw lines, offcuts as they are left."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

from stowright.cutting import grid
from stowright.cutting.assemble import (
    left_over,
    lengths_of,
    named,
    piece_of,
    queues_of,
    sheets_of,
    taken,
    together,
)
from stowright.cutting.blocks import Block, lay_on_plate
from stowright.cutting.empty import largest_empty
from stowright.cutting.free import by_free_rectangles, cost_of_free
from stowright.cutting.plates import regions
from stowright.cutting.portfolio import is_proved, least_stock, with_less
from stowright.model.layout import Layout, Offcut

if TYPE_CHECKING:
    from stowright.cutting.bounds import Bound
    from stowright.cutting.free import FreePattern
    from stowright.cutting.intake import Material
    from stowright.cutting.plates import Rect
    from stowright.cutting.portfolio import Search
    from stowright.cutting.problem import Problem, Solution
    from stowright.model.layout import CutPart, SawSettings, Unplaced

__all__ = ["least_routed", "routed_layouts"]

_MOST_OFFCUTS = 6
_NOISE = 1e-9

type Sheets = list[tuple[int, tuple[Block, ...]]]


def least_routed(
    problem: Problem, bound: Bound, search: Search
) -> tuple[Solution, list[FreePattern] | None]:
    """Return the cheapest edge-to-edge answer, and freely laid parts where they take less stock.

    An answer that could be sawn can be routed as well. Parts are laid freely only where that
    could take less and a search is wanted, and before the long one, which is spared where they
    take the least. Where the stock is too short for edge-to-edge cuts it may still reach for
    parts laid freely.

    Args:
        problem: The problem.
        bound: What no answer can go below, edge to edge or not.
        search: How to search.
    """
    at_once = replace(search, effort=replace(search.effort, place=0, prove=0))
    answer, _ = least_stock(problem, bound, at_once)
    if not answer.missing and (not search.effort.place or is_proved(problem, answer, bound)):
        return answer, None
    free = by_free_rectangles(problem)
    if search.effort.place and (free is None or not _is_least(problem, free, bound)):
        answer = with_less(problem, answer, bound, search)
    return answer, free if free is not None and _takes_less(problem, free, answer) else None


def routed_layouts(
    material: Material,
    answer: Solution,
    free: list[FreePattern] | None,
    saw: SawSettings,
    first_number: int,
) -> tuple[list[Layout], list[Unplaced]]:
    """Return a router's layouts, and parts left over.

    Args:
        material: The material's parts and stock.
        answer: The best answer of the search, edge to edge.
        free: Freely laid parts, to be taken instead; None for the answer.
        saw: Cutter and clamps.
        first_number: Number of the first layout.
    """
    sheets = _as_sawn(material, answer, saw) if free is None else _laid_freely(material, free)
    queues = queues_of(material)
    layouts = together([_layout(material, sheet, laid, queues, saw) for sheet, laid in sheets])
    numbered = [named(layout, number) for number, layout in enumerate(layouts, start=first_number)]
    return numbered, left_over(queues)


def _is_least(problem: Problem, free: list[FreePattern], bound: Bound) -> bool:
    """Tell whether no layout takes less stock than freely laid parts do."""
    if len(problem.bins) == 1:
        return len(free) <= bound.sheets
    return cost_of_free(problem, free) <= bound.cost + _NOISE


def _takes_less(problem: Problem, free: list[FreePattern], answer: Solution) -> bool:
    """Tell whether freely laid parts take less stock than an answer, or lack none where it does."""
    if answer.missing:
        return True
    cost, known = cost_of_free(problem, free), answer.cost(problem)
    if abs(cost - known) > _NOISE:
        return cost < known
    return len(free) < len(answer.patterns)


def _as_sawn(material: Material, answer: Solution, saw: SawSettings) -> Sheets:
    """Return where the parts of an edge-to-edge answer lie."""
    kerf = grid.up(saw.kerf)
    found: Sheets = []
    for sheet, roots in sheets_of(material, answer):
        block = lay_on_plate(material.plates[sheet], list(roots), kerf)
        found.append((sheet, tuple(leaf for leaf in block.leaves() if leaf.kind >= 0)))
    return found


def _laid_freely(material: Material, free: list[FreePattern]) -> Sheets:
    """Return where freely laid parts lie on whole sheets."""
    filled: dict[tuple[int, int], list[Block]] = defaultdict(list)
    used: dict[tuple[int, int], int] = defaultdict(int)
    for pattern in free:
        bin_ = material.problem.bins[pattern.bin]
        corner = list(regions(material.plates[bin_.sheet]))[bin_.region]
        copy = used[bin_.sheet, bin_.region]
        used[bin_.sheet, bin_.region] += 1
        filled[bin_.sheet, copy] += [
            Block((corner[0] + x, corner[1] + y, along, across), kind=kind)
            for kind, (x, y, along, across) in pattern.laid
        ]
    return [
        (sheet, tuple(sorted(filled[sheet, copy], key=_place))) for sheet, copy in sorted(filled)
    ]


def _place(block: Block) -> Rect:
    return block.rect


def _layout(
    material: Material,
    sheet: int,
    laid: tuple[Block, ...],
    queues: dict[int, list[tuple[CutPart, int]]],
    saw: SawSettings,
) -> Layout:
    """Return one sheet's layout; the parts are taken from the queues."""
    stock, kerf = material.sheets[sheet], grid.up(saw.kerf)
    least = sorted((grid.up(saw.keep_width), grid.up(saw.keep_length)))
    rests = largest_empty(
        list(regions(material.plates[sheet])),
        [block.rect for block in laid],
        gap=kerf,
        least=(least[0], least[1]),
        most=_MOST_OFFCUTS,
    )
    return Layout(
        number=0,
        sheet=stock.id,
        material=material.name,
        copies=1,
        kerf=grid.millimetres(kerf),
        trim=grid.millimetres(grid.up(saw.trim)),
        pieces=tuple(piece_of(block.rect, taken(queues, block)) for block in laid),
        cuts=(),
        offcuts=tuple(Offcut(name="", keep=True, **lengths_of(rect)) for rect in rests),
    )
