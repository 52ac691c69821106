"""Hours of work by task: the handbook's ranges scaled by what there is to do."""

from __future__ import annotations

from stowright.model.design import Design
from stowright.model.making import Task

__all__ = ["tasks_of"]

_PRACTICE = "common practice"


def tasks_of(design: Design, *, sheets: int) -> tuple[Task, ...]:
    """Return hours for an amateur and a shop (common practice; 22 minutes a sheet was published).

    Args:
        design: The design.
        sheets: Sheets to cut.
    """
    carcasses = sum(len(block.modules) for block in design.blocks)
    drawers = sum(o.runner is not None for block in design.blocks for o in block.openings)
    tops = sum(p.role in {"deck", "wing", "wing-lid"} for p in design.placed)
    rows = (
        ("measure and brief", 3.0, 1.25, _PRACTICE),
        (
            "cut and machine the sheets",
            1.3 * sheets,
            0.37 * sheets,
            "shop: 22 min a sheet, a cabinet trade forum; amateur: common practice",
        ),
        ("carcasses", 2.5 * carcasses, 1.25 * carcasses, _PRACTICE),
        ("drawers and trays", 6.0 * drawers, 2.25 * drawers, _PRACTICE),
        ("deck and wings", 2.0 * tops, 1.1 * tops, _PRACTICE),
        ("finish, without drying", 4.0, 2.5, _PRACTICE),
        ("install, test and weigh", 5.0, 2.5, _PRACTICE),
    )
    return tuple(
        Task(what=what, hours_amateur=round(a, 1), hours_shop=round(s, 1), basis=basis)
        for what, a, s, basis in rows
        if a > 0.0
    )
