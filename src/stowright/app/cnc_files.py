"""Router files of a plan: each part by itself and, for a routed job, each nested sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stowright.drawings.cnc_dxf import part_cnc, sheet_cnc

if TYPE_CHECKING:
    from stowright.model.layout import Layout, StockUse
    from stowright.model.plan import Plan

__all__ = ["cnc_files", "cutter_of", "sheet_dxf"]


def cutter_of(plan: Plan) -> float:
    """Return the cutter's diameter: what a routed layout loses between parts. [mm]."""
    return max((layout.kerf for layout in plan.cutting.layouts), default=0.0)


def cnc_files(plan: Plan) -> dict[str, bytes]:
    """Return the router file of each part; none for a job that is sawn."""
    if plan.cutting.method != "cnc":
        return {}
    cutter = cutter_of(plan)
    return {
        f"cnc/part-{part.mark}.dxf": part_cnc(part, units=plan.job.units, cutter=cutter)
        for part in plan.design.parts
    }


def sheet_dxf(layout: Layout, plan: Plan, stock: StockUse) -> bytes:
    """Return the router file of a nested sheet, inside corners relieved for its cutter."""
    return sheet_cnc(
        layout, plan.design.parts, stock=stock, units=plan.job.units, cutter=layout.kerf
    )
