"""What the book says, as plain data for the typesetter: no layout here, no file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from stowright.book import tables
from stowright.model.finding import Finding
from stowright.model.making import Step
from stowright.model.plan import Plan
from stowright.units import format_length

__all__ = ["book_content"]


def book_content(plan: Plan, figures: Mapping[str, str], *, ink: str) -> dict[str, Any]:
    """Return the book's content.

    Args:
        plan: The plan.
        figures: Names of the drawings there are, and their titles.
        ink: ``colour`` or ``black``.
    """
    units = plan.job.units

    def length(mm: float) -> str:
        return format_length(mm, units)

    design, making = plan.design, plan.making
    return {
        "title": plan.job.title,
        "client": plan.job.client,
        "units": units,
        "ink": ink,
        "cover": _cover(plan, length),
        "counts": tables.count_rows(plan.findings),
        "open": [_short(f) for f in plan.findings if f.status != "pass"],
        "bay": tables.bay_rows(plan, length),
        "reading_error": length(plan.job.bay.reading_error),
        "assumed": [[a.field, a.value, a.why] for a in (*plan.job.assumed, *design.assumed)],
        "warnings": list(design.warnings),
        "cautions": list(making.cautions),
        "tools": sorted({tool for step in making.steps for tool in step.tools}),
        "sheets": tables.sheet_rows(plan.cutting, length),
        "hardware": tables.hardware_rows(making),
        "cost": [[what, f"{value:.2f}"] for what, value in making.cost],
        "tasks": [
            [t.what, f"{t.hours_amateur:g}", f"{t.hours_shop:g}", t.basis] for t in making.tasks
        ],
        "list_a": tables.cutting_rows(design.parts, "A", length),
        "list_b": tables.cutting_rows(design.parts, "B", length),
        "cutting": _cutting(plan, length),
        "sums": tables.sum_rows(design, units),
        "gaps": tables.gap_rows(design, length),
        "steps": [_step(step) for step in making.steps],
        "notes": list(design.notes),
        "anchors": tables.anchor_rows(design, length),
        "removal": list(making.removal_order),
        "limits": tables.limit_rows(plan),
        "axles": tables.axle_rows(plan),
        "masses": _masses(plan),
        "proofs": [_proof(f) for f in plan.findings],
        "figures": dict(figures),
    }


def _cover(plan: Plan, length: tables.Length) -> list[list[str]]:
    design, making = plan.design, plan.making
    names = [
        f"{block.name}: {length(block.box.x.size)} long, {length(block.box.y.size)} wide, "
        f"{length(block.box.z.size)} high, opens to the {block.face}"
        for block in design.blocks
    ]
    amateur = sum(t.hours_amateur for t in making.tasks)
    shop = sum(t.hours_shop for t in making.tasks)
    heaviest = max((m for b in design.blocks for m in b.modules), key=lambda m: m.mass_kg)
    return [
        ["What it is", "; ".join(names)],
        ["Mass, empty", f"{design.empty_kg:.1f} kg"],
        ["Mass, loaded", f"{design.empty_kg + design.contents_kg:.1f} kg"],
        ["Heaviest module", f"{heaviest.block} {heaviest.name}, {heaviest.mass_kg:.1f} kg"],
        ["Sheets", f"{plan.cutting.sheets} ({_proved(plan)})"],
        ["Parts", f"{sum(p.quantity for p in design.parts)} of {len(design.parts)} kinds"],
        ["Hours (common practice)", f"{shop:.0f} in a shop, {amateur:.0f} for an amateur"],
        ["Unit of length", "inch" if plan.job.units == "in" else "millimetre"],
    ]


def _proved(plan: Plan) -> str:
    if plan.cutting.proved_least:
        return "proved least"
    return f"at least {plan.cutting.lower_bound} are needed"


def _masses(plan: Plan) -> list[list[str]]:
    design = plan.design
    x, y, z = design.centre
    return [
        ["empty", f"{design.empty_kg:.1f} kg"],
        ["contents", f"{design.contents_kg:.1f} kg"],
        ["loaded", f"{design.empty_kg + design.contents_kg:.1f} kg"],
        [
            "centre, loaded",
            (
                f"{x:.0f} mm from the tail, {abs(y):.0f} mm "
                f"{'left' if y >= 0 else 'right'}, {z:.0f} mm up"
            ),
        ],
    ]


def _cutting(plan: Plan, length: tables.Length) -> list[dict[str, Any]]:
    found = []
    for layout in plan.cutting.layouts:
        kept = [o for o in layout.offcuts if o.keep]
        found.append(
            {
                "name": f"layout-{layout.number}",
                "title": f"Sheet layout {layout.number}: {layout.material}"
                + (f", {layout.copies} sheets alike" if layout.copies > 1 else ""),
                "note": f"kerf {length(layout.kerf)}, trim {length(layout.trim)}; fits by "
                f"{length(layout.fits_by)} in its tightest strip",
                "cuts": tables.cut_rows(layout, length),
                "pieces": [
                    [p.mark, length(p.x), length(p.y), length(p.along), length(p.across)]
                    for p in layout.pieces
                ],
                "offcuts": [f"{o.name}: {length(o.along)} × {length(o.across)}" for o in kept],
            }
        )
    return found


def _step(step: Step) -> dict[str, Any]:
    hold = step.hold_point
    said = ""
    if hold is not None:
        between = ""
        if hold.least is not None and hold.most is not None:
            between = f" Must read {hold.least:g} to {hold.most:g}."
        said = f"{hold.what}.{between} {hold.otherwise}"
    return {
        "number": step.number,
        "stage": step.stage,
        "title": step.title,
        "text": list(step.text),
        "parts": [f"{p.copies} × {p.mark}" for p in step.parts if p.first],
        "again": [p.mark for p in step.parts if not p.first],
        "fixings": [f"{f.count} × {f.type}" for f in step.fixings],
        "tools": list(step.tools),
        "checks": list(step.checks),
        "hold": said,
        "cautions": list(step.cautions),
        "figure": step.figure,
    }


def _short(finding: Finding) -> list[str]:
    return [finding.shown, finding.title, "; ".join((*finding.needs, *finding.advice))]


def _proof(finding: Finding) -> dict[str, Any]:
    def number(value: float | None) -> str:
        return "" if value is None else f"{value:g} {finding.unit}".strip()

    return {
        "id": finding.id,
        "title": finding.title,
        "status": finding.status,
        "shown": finding.shown,
        "case": finding.load_case,
        "demand": number(finding.demand),
        "capacity": number(finding.capacity),
        "utilisation": "" if finding.utilisation is None else f"{finding.utilisation:.2f}",
        "basis": finding.basis,
        "factor": f"{finding.factor:g}",
        "working": list(finding.working),
        "source": finding.source,
        "advice": list(finding.advice),
        "needs": list(finding.needs),
    }
