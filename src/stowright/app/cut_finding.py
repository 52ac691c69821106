"""The finding about the cut: every layout sawn again and measured by independent checkers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stowright.app.stock import parts_to_cut, stock_for
from stowright.errors import CuttingError
from stowright.model.finding import Finding

if TYPE_CHECKING:
    from stowright.model.catalogue import Catalogue
    from stowright.model.design import Design
    from stowright.model.layout import CutPart, CuttingPlan, StockSheet

__all__ = ["cut_finding"]


def cut_finding(
    design: Design,
    catalogue: Catalogue,
    cutting: CuttingPlan,
    left: tuple[tuple[CutPart, ...], tuple[StockSheet, ...]] | None = None,
) -> Finding:
    """Return whether the layouts, cut by cut, give exactly the parts of the design.

    Of a job that is begun: exactly the parts that are left to cut, from the sheets that are left.
    """
    from stowright.cutting import check_plan

    if left is None:
        parts = parts_to_cut(design)
        materials = tuple(dict.fromkeys(part.material for part in parts))
        left = (parts, stock_for(design.job, catalogue, materials))
    parts, stock = left
    wrong: tuple[str, ...] = ()
    try:
        check_plan(cutting, parts, stock)
    except CuttingError as error:
        wrong = tuple(str(error).splitlines())
    pieces = sum(part.quantity for part in parts)
    return Finding(
        id="CUT-REPLAY:layouts",
        title="Each layout, sawn again cut by cut, gives exactly its parts",
        about="cutting",
        family=16,
        kind="complete",
        status="fail" if wrong else "pass",
        demand=float(pieces),
        capacity=None if wrong else float(pieces),
        unit="pieces",
        utilisation=None,
        basis="",
        factor=1.0,
        load_case="all layouts",
        source="this program's own replay of the cuts",
        standing="published",
        working=wrong
        or (f"{pieces} pieces on {cutting.sheets} sheets, {cutting.saw_lines} lines",),
        advice=("this is a fault of the program: report it with the job file",) if wrong else (),
    )
