"""The figures of a cutting plan: lines, settings, metres and where the area went."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, Literal

from stowright.model.layout import CuttingPlan, SettingGroup, StockUse

if TYPE_CHECKING:
    from stowright.model.layout import (
        Layout,
        MaterialResult,
        SawSettings,
        StockSheet,
        Unplaced,
    )

__all__ = ["summed_up"]


def summed_up(
    layouts: tuple[Layout, ...],
    stock: tuple[StockSheet, ...],
    results: tuple[MaterialResult, ...],
    unplaced: tuple[Unplaced, ...],
    saw: SawSettings,
) -> CuttingPlan:
    """Return the plan with all its figures."""
    groups = _setting_groups(layouts)
    areas = _areas(layouts, stock)
    used = _stock_used(layouts, stock)
    return CuttingPlan(
        stock=used,
        layouts=layouts,
        sheets=sum(layout.copies for layout in layouts),
        lower_bound=sum(result.lower_bound for result in results),
        proved_least=all(result.proved_least for result in results),
        bound_reason="\n".join(result.reason for result in results),
        saw_lines=sum(layout.copies * len(layout.cuts) for layout in layouts),
        settings=len(groups),
        cut_metres=_metres(
            layouts,
            [
                [(c.start, c.end) for c in la.cuts] if la.tree is not None else _routed(la)
                for la in layouts
            ],
        ),
        trim_metres=_metres(layouts, [[(t.start, t.end) for t in la.trims] for la in layouts]),
        part_area=areas["part"],
        kerf_area=areas["kerf"],
        trim_area=areas["trim"],
        offcut_area=areas["offcut"],
        scrap_area=areas["scrap"],
        materials=results,
        setting_groups=groups,
        unplaced=unplaced,
        method=saw.method,
        good_face_down=saw.good_face_down,
    )


def _metres(layouts: tuple[Layout, ...], spans: list[list[tuple[float, float]]]) -> float:
    total = sum(
        layout.copies * sum(end - start for start, end in own)
        for layout, own in zip(layouts, spans, strict=True)
    )
    return round(total / 1000.0, 6)


def _setting_groups(layouts: tuple[Layout, ...]) -> tuple[SettingGroup, ...]:
    """Return the cuts that share a setting, per material, widest setting first."""
    groups: dict[tuple[str, float], list[tuple[int, int]]] = defaultdict(list)
    for layout in layouts:
        for cut in layout.cuts:
            groups[layout.material, cut.setting].append((layout.number, cut.order))
    order = sorted(groups, key=lambda key: (key[0], -key[1]))
    return tuple(
        SettingGroup(material=material, setting=setting, cuts=tuple(groups[material, setting]))
        for material, setting in order
    )


def _areas(layouts: tuple[Layout, ...], stock: tuple[StockSheet, ...]) -> dict[str, float]:
    """Return where the area of the sheets went. [m2]."""
    sheets = {(sheet.material, sheet.id): sheet for sheet in stock}
    areas = dict.fromkeys(("part", "kerf", "trim", "offcut", "scrap"), 0.0)
    for layout in layouts:
        sheet = sheets[layout.material, layout.sheet]
        trimmed = (sheet.length - 2 * layout.trim) * (sheet.width - 2 * layout.trim)
        own = {
            "part": sum(piece.along * piece.across for piece in layout.pieces),
            "trim": sheet.length * sheet.width - trimmed,
            "offcut": sum(o.along * o.across for o in layout.offcuts if o.keep),
            "scrap": sum(o.along * o.across for o in layout.offcuts if not o.keep),
        }
        rest = trimmed - own["part"] - own["offcut"] - own["scrap"]
        own["kerf"] = rest if layout.tree is not None else min(rest, _swept(layout))
        own["scrap"] += rest - own["kerf"]
        for name, area in own.items():
            areas[name] += layout.copies * area
    return {name: round(area / 1e6, 6) for name, area in areas.items()}


def _swept(layout: Layout) -> float:
    """Return the area that a cutter takes around the pieces, half its path for each. [mm2]."""
    cutter = layout.kerf
    return sum(cutter * (p.along + p.across + cutter) for p in layout.pieces)


def _routed(layout: Layout) -> list[tuple[float, float]]:
    """Return the edges of the pieces that a router goes along, each as a stretch from 0."""
    return [(0.0, 2.0 * (piece.along + piece.across)) for piece in layout.pieces]


def _stock_used(layouts: tuple[Layout, ...], stock: tuple[StockSheet, ...]) -> tuple[StockUse, ...]:
    """Return the stock that is used, in the order given."""
    used: dict[tuple[str, str], int] = defaultdict(int)
    for layout in layouts:
        used[layout.material, layout.sheet] += layout.copies
    return tuple(
        StockUse(
            sheet=sheet.id,
            material=sheet.material,
            length=sheet.length,
            width=sheet.width,
            origin=_origin(sheet),
            used=used[sheet.material, sheet.id],
            available=sheet.copies,
            price=sheet.price,
            name=sheet.name,
            defects=sheet.defects,
        )
        for sheet in stock
        if used[sheet.material, sheet.id]
    )


def _origin(sheet: StockSheet) -> Literal["in hand", "offcut in hand", "buy"]:
    if not sheet.in_hand:
        return "buy"
    return "offcut in hand" if sheet.offcut else "in hand"
