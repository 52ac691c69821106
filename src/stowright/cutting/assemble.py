"""Answers turned into layouts with marks, numbered cuts and named offcuts."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal, TypedDict

from stowright.cutting import grid
from stowright.cutting.blocks import lay_on_plate
from stowright.cutting.plates import regions
from stowright.cutting.sequence import Saw, sequence
from stowright.cutting.slots import LEAF, UPWARD, put_last
from stowright.model.layout import Cut, CutLeaf, CutNode, EdgeTrim, Layout, Offcut, Piece, Unplaced

if TYPE_CHECKING:
    from stowright.cutting.blocks import Block
    from stowright.cutting.intake import Material
    from stowright.cutting.plates import Rect
    from stowright.cutting.problem import Solution
    from stowright.cutting.sequence import Step
    from stowright.cutting.slots import Slot
    from stowright.model.layout import CutPart, SawSettings

__all__ = [
    "cut_layouts",
    "left_over",
    "lengths_of",
    "named",
    "piece_of",
    "queues_of",
    "sheets_of",
    "taken",
    "together",
]

_BOARD_DENSITY_KG_M3 = 700.0  # when a sheet's mass is not given: birch plywood, common practice
_BOARD_THICKNESS_MM = 18.0  # when the parts' thickness is not given either


@dataclass(frozen=True, slots=True)
class Marked:
    """Which part a laid block is."""

    part: CutPart
    turned: bool


def cut_layouts(
    material: Material, solution: Solution, saw: SawSettings, first_number: int
) -> tuple[list[Layout], list[Unplaced]]:
    """Return the layouts of a material's answer, alike sheets taken together, and parts left over.

    Args:
        material: The material's parts and stock.
        solution: The answer.
        saw: The saw.
        first_number: Number of the first layout.
    """
    queues = queues_of(material)
    late = frozenset(i for i, kind in enumerate(material.problem.kinds) if kind.waits)
    layouts: list[Layout] = []
    for sheet, roots in sheets_of(material, solution):
        plate = material.plates[sheet]
        rips_first = saw.method == "panel"
        ordered = [root and put_last(root, late) for root in roots]
        block = lay_on_plate(plate, ordered, grid.up(saw.kerf), rips_first=rips_first)
        layouts.append(_layout(material, sheet, block, queues, saw))
    numbered = [
        named(layout, number) for number, layout in enumerate(together(layouts), start=first_number)
    ]
    return numbered, left_over(queues)


def together(layouts: list[Layout]) -> list[Layout]:
    """Return layouts with neighbours that are alike taken together."""
    found: list[Layout] = []
    for layout in layouts:
        alike = found[-1] if found else None
        if alike is not None and replace(layout, copies=alike.copies) == alike:
            found[-1] = replace(alike, copies=alike.copies + 1)
        else:
            found.append(layout)
    return found


def left_over(queues: dict[int, list[tuple[CutPart, int]]]) -> list[Unplaced]:
    """Return the parts that no layout has taken."""
    return [
        Unplaced(mark=part.mark, job=part.job, quantity=quantity)
        for queue in queues.values()
        for part, quantity in queue
    ]


def sheets_of(material: Material, solution: Solution) -> list[tuple[int, tuple[Slot | None, ...]]]:
    """Return each sheet that is used, with one layout for each sound region."""
    by_region: dict[int, dict[int, list[Slot]]] = defaultdict(lambda: defaultdict(list))
    for pattern in solution.patterns:
        bin_ = material.problem.bins[pattern.bin]
        by_region[bin_.sheet][bin_.region].append(pattern.root)
    found: list[tuple[int, tuple[Slot | None, ...]]] = []
    for sheet in sorted(by_region):
        used = by_region[sheet]
        many = max(len(roots) for roots in used.values())
        count = len(list(regions(material.plates[sheet])))
        for copy in range(many):
            roots = tuple(
                used[region][copy] if copy < len(used[region]) else None for region in range(count)
            )
            found.append((sheet, roots))
    return sorted(found, key=lambda entry: (entry[0], _look(entry[1])))


def _look(roots: tuple[Slot | None, ...]) -> tuple[object, ...]:
    """Return a key that brings fuller and alike sheets together."""
    area = sum(leaf.w * leaf.h for root in roots if root is not None for leaf in root.leaves())
    shape = tuple(
        (leaf.kind, leaf.turned) for root in roots if root is not None for leaf in root.leaves()
    )
    return -area, shape


def queues_of(material: Material) -> dict[int, list[tuple[CutPart, int]]]:
    """Return for each kind its parts in the order they are handed out: release A first, by job."""
    queues: dict[int, list[tuple[CutPart, int]]] = defaultdict(list)
    for part, kind in zip(material.parts, material.kind_of, strict=True):
        queues[kind].append((part, part.quantity))
    for queue in queues.values():
        queue.sort(key=lambda entry: entry[0].release)
    return queues


def _layout(
    material: Material,
    sheet: int,
    block: Block,
    queues: dict[int, list[tuple[CutPart, int]]],
    saw: SawSettings,
) -> Layout:
    """Return one sheet's layout; the parts are taken from the queues."""
    stock = material.sheets[sheet]
    marked = {leaf.rect: taken(queues, leaf) for leaf in block.leaves() if leaf.kind >= 0}
    offcuts = _offcuts(block, marked, saw, stock.defects)
    order = Saw(
        kerf=grid.up(saw.kerf),
        carry_area=_carry_area(material, sheet, saw),
        hold=grid.up(saw.hold),
        late=frozenset(i for i, kind in enumerate(material.problem.kinds) if kind.waits),
        trim=grid.up(saw.trim),
    )
    steps = sequence(block, order)
    kept = {offcut[0] for offcut in offcuts if offcut[1]}
    return Layout(
        number=0,
        sheet=stock.id,
        material=material.name,
        copies=1,
        kerf=grid.millimetres(grid.up(saw.kerf)),
        trim=grid.millimetres(grid.up(saw.trim)),
        pieces=tuple(
            piece_of(leaf.rect, marked[leaf.rect]) for leaf in block.leaves() if leaf.kind >= 0
        ),
        cuts=tuple(_cut(n, step, marked, kept) for n, step in enumerate(steps, start=1)),
        offcuts=tuple(_offcut(rect, keep=keep) for rect, keep in offcuts),
        trims=tuple(_trims(steps, block.rect)) if saw.trim > 0.0 else (),
        tree=_node(block, marked),
        fits_by=_fits_by(block, marked),
    )


def _carry_area(material: Material, sheet: int, saw: SawSettings) -> float:
    """Return the area of this sheet that one person can carry. [1/160 mm squared]."""
    stock = material.sheets[sheet]
    mass = stock.mass
    if mass is None:
        thickness = max(part.thickness for part in material.parts) or _BOARD_THICKNESS_MM
        mass = stock.length * stock.width * thickness * 1e-9 * _BOARD_DENSITY_KG_M3
    whole = grid.whole_down(stock.length) * grid.whole_down(stock.width)
    return whole * saw.carry / mass if mass > 0.0 else float(whole)


def taken(queues: dict[int, list[tuple[CutPart, int]]], leaf: Block) -> Marked:
    """Take the next part of a leaf's kind from its queue."""
    queue = queues[leaf.kind]
    part, left = queue[0]
    queue[:1] = [(part, left - 1)] if left > 1 else []
    size = grid.up(part.length), grid.up(part.width)
    return Marked(part, turned=leaf.rect[2:] != size)


class Lengths(TypedDict):
    """The four lengths of a rectangle, as model values carry them."""

    x: float
    y: float
    along: float
    across: float


def lengths_of(rect: Rect) -> Lengths:
    """Return a rectangle in millimetres, as model values carry it."""
    x, y, along, across = (grid.millimetres(value) for value in rect)
    return {"x": x, "y": y, "along": along, "across": across}


def piece_of(rect: Rect, marked: Marked) -> Piece:
    """Return a laid part."""
    return Piece(
        mark=marked.part.mark, job=marked.part.job, turned=marked.turned, **lengths_of(rect)
    )


def _node(block: Block, marked: dict[Rect, Marked]) -> CutNode:
    """Return the tree of cuts."""
    if block.axis == LEAF:
        own = marked.get(block.rect)
        if own is None:
            return CutNode(**lengths_of(block.rect))
        return CutNode(
            mark=own.part.mark, job=own.part.job, turned=own.turned, **lengths_of(block.rect)
        )
    children = tuple(_node(kid, marked) for kid in block.kids)
    return CutNode(
        axis="y" if block.axis == UPWARD else "x", children=children, **lengths_of(block.rect)
    )


def _offcuts(
    block: Block,
    marked: dict[Rect, Marked],
    saw: SawSettings,
    defects: tuple[tuple[float, float, float, float], ...],
) -> list[tuple[Rect, bool]]:
    """Return what is left, largest first, and whether it is worth keeping."""
    rests = [leaf.rect for leaf in block.leaves() if leaf.rect not in marked]
    least = sorted((grid.up(saw.keep_width), grid.up(saw.keep_length)))

    def keep(rect: Rect) -> bool:
        sides = sorted(rect[2:])
        sound = not any(_touches(rect, defect) for defect in defects)
        return sound and sides[0] >= least[0] and sides[1] >= least[1]

    return sorted(
        ((rect, keep(rect)) for rect in rests),
        key=lambda found: (-found[0][2] * found[0][3], found),
    )


def _touches(rect: Rect, defect: tuple[float, float, float, float]) -> bool:
    x, y, along, across = defect
    low_x, low_y = grid.whole_down(x), grid.whole_down(y)
    high_x, high_y = grid.up(x + along), grid.up(y + across)
    apart_x = low_x >= rect[0] + rect[2] or high_x <= rect[0]
    return not (apart_x or low_y >= rect[1] + rect[3] or high_y <= rect[1])


def _offcut(rect: Rect, *, keep: bool) -> Offcut:
    return Offcut(name="", keep=keep, **lengths_of(rect))


def _leaf(rect: Rect, own: Block | None, marked: dict[Rect, Marked], kept: set[Rect]) -> CutLeaf:
    """Return what one side of a cut is."""
    what: Literal["piece", "rest", "offcut", "scrap"]
    if rect in marked and (own is None or own.axis == LEAF):
        return CutLeaf(what="piece", name=marked[rect].part.mark, **lengths_of(rect))
    is_cut_again = own is None or own.axis != LEAF
    what = "rest" if is_cut_again else "offcut" if rect in kept else "scrap"
    return CutLeaf(what=what, name="", **lengths_of(rect))


def _cut(number: int, step: Step, marked: dict[Rect, Marked], kept: set[Rect]) -> Cut:
    """Return one numbered cut."""
    leaves = [_leaf(*step.low, marked, kept)]
    if step.high is not None:
        leaves.append(_leaf(*step.high, marked, kept))
    across = 1 - step.axis
    start, extent = step.held[across], step.held[2 + across]
    trims = step.high is None or leaves[1].what == "scrap"
    kind: Literal["break", "rip", "crosscut", "trim"] = "rip" if step.axis == UPWARD else "crosscut"
    if step.breaks:
        kind = "break"
    elif trims:
        kind = "trim"
    return Cut(
        order=number,
        axis="y" if step.axis == UPWARD else "x",
        at=grid.millimetres(step.at),
        start=grid.millimetres(start),
        end=grid.millimetres(start + extent),
        leaves=tuple(leaves),
        setting=grid.millimetres(step.setting),
        kind=kind,
        level=step.level,
        narrow=step.narrow,
        release="B" if step.late else "A",
    )


def _trims(steps: list[Step], sheet: Rect) -> list[EdgeTrim]:
    """Return the factory edges to take off, on each piece that the heavy sheet is broken into.

    They come off before the first cut of the piece that is not a breaking cut, so that every
    fence setting is measured from a sawn edge.
    """
    pieces = [sheet]
    for step in steps:
        if step.breaks:
            pieces.remove(step.held)
            pieces.append(step.low[0])
            if step.high is not None:
                pieces.append(step.high[0])
    trims: list[EdgeTrim] = []
    for rect in sorted(pieces):
        before = next(
            (
                n
                for n, step in enumerate(steps, start=1)
                if not step.breaks and _lies_in(step.held, rect)
            ),
            0,
        )
        trims.extend(_edges(rect, sheet, before))
    return trims


def _lies_in(rect: Rect, outer: Rect) -> bool:
    return all(
        outer[axis] <= rect[axis] and rect[axis] + rect[2 + axis] <= outer[axis] + outer[2 + axis]
        for axis in (0, 1)
    )


def _edges(rect: Rect, sheet: Rect, before: int) -> list[EdgeTrim]:
    """Return the factory edges that a piece of the sheet has."""
    left, low, right, high = rect[0], rect[1], rect[0] + rect[2], rect[1] + rect[3]
    sides: list[tuple[Literal["left", "right", "bottom", "top"], bool, int, int, int]] = [
        ("bottom", low == sheet[1], low, left, right),
        ("left", left == sheet[0], left, low, high),
        ("top", high == sheet[1] + sheet[3], high, left, right),
        ("right", right == sheet[0] + sheet[2], right, low, high),
    ]
    return [
        EdgeTrim(
            edge=edge,
            at=grid.millimetres(at),
            start=grid.millimetres(start),
            end=grid.millimetres(end),
            before=before,
        )
        for edge, is_factory_edge, at, start, end in sides
        if is_factory_edge
    ]


def _fits_by(block: Block, marked: dict[Rect, Marked]) -> float:
    """Return the least that is left over where a row is cut to fill its strip. [mm]."""
    least: list[int] = []

    def look(at: Block) -> None:
        if at.axis == LEAF:
            return
        last = at.kids[-1]
        end = at.rect[at.axis] + at.rect[2 + at.axis]
        waste = last.axis == LEAF and last.rect not in marked
        used = at.kids[-2] if waste and len(at.kids) > 1 else last
        if not waste or len(at.kids) > 1:
            least.append(end - used.rect[at.axis] - used.rect[2 + at.axis])
        for kid in at.kids:
            look(kid)

    look(block)
    return grid.millimetres(min(least, default=0))


def named(layout: Layout, number: int) -> Layout:
    """Return a layout with its number; kept offcuts bear names, in the list and at their cuts."""
    names: dict[tuple[float, float], str] = {}
    offcuts: list[Offcut] = []
    for offcut in layout.offcuts:
        name = f"K{number}{chr(ord('a') + len(names) % 26)}" if offcut.keep else ""
        if offcut.keep:
            names[offcut.x, offcut.y] = name
        offcuts.append(replace(offcut, name=name))
    cuts = tuple(
        replace(
            cut,
            leaves=tuple(
                replace(leaf, name=names[leaf.x, leaf.y]) if leaf.what == "offcut" else leaf
                for leaf in cut.leaves
            ),
        )
        for cut in layout.cuts
    )
    return replace(layout, number=number, offcuts=tuple(offcuts), cuts=cuts)
