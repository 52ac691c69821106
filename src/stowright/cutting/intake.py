"""Parts and stock as given, checked all at once, and turned into one problem per material."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stowright.cutting import grid
from stowright.cutting.bounds import StockSize
from stowright.cutting.plates import Plate, Rect, regions, split_around
from stowright.cutting.problem import Bin, Kind, Problem, Rules
from stowright.cutting.slots import UPWARD
from stowright.errors import CuttingError

if TYPE_CHECKING:
    from stowright.model.layout import CutPart, SawSettings, StockSheet

__all__ = ["PANEL_STAGES", "Material", "by_material", "require_sound_input", "why_not"]

PANEL_STAGES = 3
_MOST_JOINED = 4  # pieces that a part is proposed to be split into


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """One material's parts and stock, ready to be laid out.

    Attributes:
        name: The material.
        parts: Its parts, in the order given.
        kind_of: For each part the index of its kind.
        sheets: Its stock, in the order given.
        plates: For each stock sheet how it is cut apart around its defects.
        costs: For each stock sheet what using one counts for.
        problem: The same in whole numbers.
        sizes: The stock sizes for the lower bound.
    """

    name: str
    parts: tuple[CutPart, ...]
    kind_of: tuple[int, ...]
    sheets: tuple[StockSheet, ...]
    plates: tuple[Plate, ...]
    costs: tuple[float, ...]
    problem: Problem
    sizes: tuple[StockSize, ...]


def require_sound_input(
    parts: tuple[CutPart, ...], stock: tuple[StockSheet, ...], saw: SawSettings
) -> None:
    """Refuse parts, stock or a saw that no layout can be made for; every mistake is told.

    Raises:
        CuttingError: One line for each mistake, with what would help.
    """
    wrong = [*_wrong_saw(saw), *_wrong_sheets(stock), *_wrong_parts(parts)]
    if not wrong:
        wrong = _too_large(parts, stock, saw)
    if wrong:
        raise CuttingError("\n".join(wrong))


def _is_size(value: float) -> bool:
    return 0.0 < value <= 1e5


def _wrong_saw(saw: SawSettings) -> list[str]:
    lengths = {"kerf": saw.kerf, "trim": saw.trim, "hold": saw.hold}
    wrong = [
        f"saw: {name} must be between 0 and 100 mm (got {value:g})"
        for name, value in lengths.items()
        if not 0.0 <= value <= 100.0
    ]
    if not saw.carry > 0.0:
        wrong.append(f"saw: the weight to carry must be above 0 kg (got {saw.carry:g})")
    return wrong


def _wrong_sheets(stock: tuple[StockSheet, ...]) -> list[str]:
    wrong: list[str] = []
    seen: set[tuple[str, str]] = set()
    for sheet in stock:
        if (sheet.material, sheet.id) in seen:
            wrong.append(f"sheet {sheet.id}: two sheets of {sheet.material} have this id")
        seen.add((sheet.material, sheet.id))
        if not (_is_size(sheet.length) and _is_size(sheet.width)):
            size = f"{sheet.length:g} × {sheet.width:g}"
            wrong.append(f"sheet {sheet.id}: {size} mm is no size; both must be above 0")
        if sheet.copies is not None and sheet.copies < 1:
            wrong.append(f"sheet {sheet.id}: {sheet.copies} copies; say 1 or more, or leave it out")
        money = [v for v in (sheet.cost, sheet.price) if v is not None]
        if not all(0.0 <= value < math.inf for value in money):
            wrong.append(f"sheet {sheet.id}: a price must be 0 or more")
        if any(not (along > 0.0 and across > 0.0) for _, _, along, across in sheet.defects):
            wrong.append(f"sheet {sheet.id}: a defect needs a size above 0 each way")
    return wrong


def _wrong_parts(parts: tuple[CutPart, ...]) -> list[str]:
    wrong: list[str] = []
    seen: set[tuple[str, str]] = set()
    for part in parts:
        named = f"{part.mark} of {part.job}" if part.job else part.mark
        if (part.job, part.mark) in seen:
            wrong.append(f"{named}: two parts have this mark")
        seen.add((part.job, part.mark))
        if part.quantity < 1:
            wrong.append(f"{named}: quantity {part.quantity}; say 1 or more, or leave the part out")
        if not (_is_size(part.length) and _is_size(part.width)):
            size = f"{part.length:g} × {part.width:g}"
            wrong.append(f"{named}: {size} mm is no size; both must be above 0")
    return wrong


def why_not(part: CutPart, stock: tuple[StockSheet, ...], saw: SawSettings) -> tuple[str, ...]:
    """Return what is wrong with one part, each with what would help; nothing when it can be cut."""
    wrong = _wrong_parts((part,))
    if not wrong and not _wrong_saw(saw) and not _wrong_sheets(stock):
        wrong = _too_large((part,), stock, saw)
    return tuple(wrong)


def _too_large(
    parts: tuple[CutPart, ...], stock: tuple[StockSheet, ...], saw: SawSettings
) -> list[str]:
    """Return a line for each part that no sheet can hold."""
    wrong: list[str] = []
    for part in parts:
        sheets = [sheet for sheet in stock if sheet.material == part.material]
        if not sheets:
            known = ", ".join(sorted({sheet.material for sheet in stock})) or "none"
            wrong.append(f"{part.mark}: no sheet of {part.material} in the stock (there: {known})")
        elif not any(_holds(sheet, part, saw) for sheet in sheets):
            wrong.append(_why_too_large(part, sheets, saw))
    return wrong


def _sound_rects(sheet: StockSheet, saw: SawSettings) -> list[Rect]:
    return list(regions(_plate(sheet, saw)))


def _plate(sheet: StockSheet, saw: SawSettings) -> Plate:
    trim = grid.up(saw.trim)
    along = grid.whole_down(sheet.length) - 2 * trim
    across = grid.whole_down(sheet.width) - 2 * trim
    if along <= 0 or across <= 0:
        return Plate((trim, trim, max(along, 0), max(across, 0)))
    defects = tuple(
        (
            grid.whole_down(x),
            grid.whole_down(y),
            grid.up(x + a) - grid.whole_down(x),
            grid.up(y + b) - grid.whole_down(y),
        )
        for x, y, a, b in sheet.defects
    )
    return split_around((trim, trim, along, across), defects, grid.up(saw.kerf))


def _holds(sheet: StockSheet, part: CutPart, saw: SawSettings) -> bool:
    length, width = grid.up(part.length), grid.up(part.width)
    ways = {(length, width)} if part.grain else {(length, width), (width, length)}
    return any(
        rect[2] >= along and rect[3] >= across
        for rect in _sound_rects(sheet, saw)
        for along, across in ways
    )


def _why_too_large(part: CutPart, sheets: list[StockSheet], saw: SawSettings) -> str:
    """Say by how much a part is too large and what would serve."""
    nearest, over_along, over_across, turned = min(
        (
            _excess(part, sheet, saw, turned=turned)
            for sheet in sheets
            for turned in (False, True)
            if not (turned and part.grain)
        ),
        key=lambda found: (max(found[1], 0.0) + max(found[2], 0.0), found[0].id),
    )
    along, across = (part.width, part.length) if turned else (part.length, part.width)
    usable = f"{nearest.length - 2 * saw.trim:g} × {nearest.width - 2 * saw.trim:g} mm"
    size = f"{part.mark} ({part.length:g} × {part.width:g} mm"
    size += ", grain along its length)" if part.grain else ")"
    over = [f"{v:g} mm too {w}" for v, w in ((over_along, "long"), (over_across, "wide")) if v > 0]
    if not over:
        free = f"{size}: fits on no sound place of sheet {nearest.id} beside its defects"
        return f"{free}; a sheet of that size without them would serve"
    flat = _excess(part, nearest, saw, turned=True)
    if part.grain and flat[1] <= 0 and flat[2] <= 0:
        help_ = "it fits only across the grain: left free it would fit (grain = no in a parts list"
        help_ += ', grain = "long" in the [build] of a job)'
    else:
        need = f"{along + 2 * saw.trim:g} × {across + 2 * saw.trim:g}"
        help_ = f"a sheet of at least {need} mm would serve{_split(along, across, nearest, saw)}"
    most = f"the most that {part.material} has is {usable} after trimming (sheet {nearest.id})"
    return f"{size}: {' and '.join(over)}; {most}; {help_}"


def _excess(
    part: CutPart, sheet: StockSheet, saw: SawSettings, *, turned: bool
) -> tuple[StockSheet, float, float, bool]:
    """Return by how much a part is longer and wider than a trimmed sheet; negative when less."""
    along, across = (part.width, part.length) if turned else (part.length, part.width)
    usable = sheet.length - 2 * saw.trim, sheet.width - 2 * saw.trim
    return sheet, round(along - usable[0], 4), round(across - usable[1], 4), turned


def _split(along: float, across: float, sheet: StockSheet, saw: SawSettings) -> str:
    """Say into how many pieces the part would have to be split to come from a sheet."""
    usable = sheet.length - 2 * saw.trim, sheet.width - 2 * saw.trim
    if min(usable) <= 0.0:
        return ""
    rows, columns = math.ceil(across / usable[1]), math.ceil(along / usable[0])
    if rows * columns > _MOST_JOINED:
        return ""
    piece = f"{along / columns:.5g} × {across / rows:.5g} mm"
    return f", or {rows * columns} pieces of {piece} joined over a support"


def by_material(
    parts: tuple[CutPart, ...], stock: tuple[StockSheet, ...], saw: SawSettings
) -> list[Material]:
    """Return the problem of each material, in the order in which the parts name them."""
    names = dict.fromkeys(part.material for part in parts)
    return [
        _material(
            name,
            tuple(part for part in parts if part.material == name),
            tuple(sheet for sheet in stock if sheet.material == name),
            saw,
        )
        for name in names
    ]


def _material(
    name: str, parts: tuple[CutPart, ...], sheets: tuple[StockSheet, ...], saw: SawSettings
) -> Material:
    kinds, kind_of = _kinds(parts)
    costs = _costs(sheets)
    plates = tuple(_plate(sheet, saw) for sheet in sheets)
    kerf = grid.up(saw.kerf)
    panel = saw.method == "panel"
    rules = Rules(
        kerf=kerf,
        stages=PANEL_STAGES if panel else None,
        first_axis=UPWARD if panel else None,
    )
    bins = tuple(
        Bin(
            w=rect[2],
            h=rect[3],
            copies=sheet.copies,
            sheet=index,
            region=region,
            cost=costs[index] * share,
        )
        for index, sheet in enumerate(sheets)
        for region, (rect, share) in enumerate(_shares(plates[index]))
    )
    sizes = tuple(
        StockSize(w=plate.rect[2] + kerf, h=plate.rect[3] + kerf, copies=sheet.copies, cost=cost)
        for plate, sheet, cost in zip(plates, sheets, costs, strict=True)
    )
    problem = Problem(kinds=kinds, bins=bins, rules=rules)
    return Material(
        name=name,
        parts=parts,
        kind_of=kind_of,
        sheets=sheets,
        plates=plates,
        costs=costs,
        problem=problem,
        sizes=sizes,
    )


def _shares(plate: Plate) -> list[tuple[Rect, float]]:
    """Return the sound regions of a sheet, each with its share of their area.

    What uses a sheet in part is charged for its regions: nothing is had for nothing.
    """
    rects = list(regions(plate))
    whole = sum(rect[2] * rect[3] for rect in rects)
    return [(rect, rect[2] * rect[3] / whole) for rect in rects]


def _kinds(parts: tuple[CutPart, ...]) -> tuple[tuple[Kind, ...], tuple[int, ...]]:
    """Return the kinds of parts, those of one size and release together, and each part's kind."""
    found: dict[tuple[int, int, bool, bool], int] = {}
    copies: list[int] = []
    kind_of: list[int] = []
    for part in parts:
        length, width = grid.up(part.length), grid.up(part.width)
        turnable = not part.grain
        if turnable and length < width:
            length, width = width, length
        index = found.setdefault((length, width, turnable, part.release == "B"), len(copies))
        if index == len(copies):
            copies.append(0)
        copies[index] += part.quantity
        kind_of.append(index)
    kinds = tuple(
        Kind(length=length, width=width, copies=copies[index], turnable=turnable, waits=waits)
        for (length, width, turnable, waits), index in found.items()
    )
    return kinds, tuple(kind_of)


def _costs(sheets: tuple[StockSheet, ...]) -> tuple[float, ...]:
    """Return what using one of each sheet counts for.

    Stock in hand counts for nothing, bought sheets for their price when every one has a price,
    else for their area; a cost that was given stands.
    """
    bought = [sheet for sheet in sheets if not sheet.in_hand]
    priced = bool(bought) and all(sheet.price is not None for sheet in bought)
    costs: list[float] = []
    for sheet in sheets:
        if sheet.cost is not None:
            costs.append(sheet.cost)
        elif sheet.in_hand:
            costs.append(0.0)
        elif priced and sheet.price is not None:
            costs.append(sheet.price)
        else:
            costs.append(sheet.length * sheet.width / 1e6)
    return tuple(costs)
