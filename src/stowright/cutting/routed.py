"""Layouts for a router: parts one cutter's width apart, no saw lines, offcuts as they are left."""

from __future__ import annotations

from collections import defaultdict
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
from stowright.cutting.free import by_free_rectangles
from stowright.cutting.plates import regions
from stowright.model.layout import Layout, Offcut

if TYPE_CHECKING:
    from stowright.cutting.bounds import Bound
    from stowright.cutting.free import FreePattern
    from stowright.cutting.intake import Material
    from stowright.cutting.plates import Rect
    from stowright.cutting.problem import Problem, Solution
    from stowright.model.layout import CutPart, SawSettings, Unplaced

__all__ = ["routed_layouts"]

_MOST_OFFCUTS = 6
_NOISE = 1e-9

type Sheets = list[tuple[int, tuple[Block, ...]]]


def routed_layouts(
    material: Material, answer: Solution, bound: Bound, saw: SawSettings, first_number: int
) -> tuple[list[Layout], list[Unplaced]]:
    """Return a router's layouts, and parts left over.

    An answer that could be sawn can be routed as well; parts are laid freely only where that
    takes less stock, and not tried where nothing can.

    Args:
        material: The material's parts and stock.
        answer: The best answer of the search, edge to edge.
        bound: What no answer can go below, edge to edge or not.
        saw: Cutter and clamps.
        first_number: Number of the first layout.
    """
    settled = bool(answer.missing) or _is_least(material.problem, answer, bound)
    free = None if settled else by_free_rectangles(material.problem)
    if free is not None and _takes_less(material.problem, free, answer):
        sheets = _laid_freely(material, free)
    else:
        sheets = _as_sawn(material, answer, saw)
    queues = queues_of(material)
    layouts = together([_layout(material, sheet, laid, queues, saw) for sheet, laid in sheets])
    numbered = [named(layout, number) for number, layout in enumerate(layouts, start=first_number)]
    return numbered, left_over(queues)


def _is_least(problem: Problem, answer: Solution, bound: Bound) -> bool:
    """Tell whether no layout takes less stock than an answer does."""
    few = len(answer.patterns) <= bound.sheets
    return few and (len(problem.bins) == 1 or answer.cost(problem) <= bound.cost + _NOISE)


def _takes_less(problem: Problem, free: list[FreePattern], answer: Solution) -> bool:
    """Tell whether freely laid parts take less stock than an answer does."""
    cost, known = sum(problem.bins[p.bin].cost for p in free), answer.cost(problem)
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
