"""The book's tables as plain rows of text, in the job's own unit."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.model.layout import CuttingPlan, Layout
from stowright.model.making import Making
from stowright.model.part import Part
from stowright.model.plan import Plan
from stowright.units import format_length

__all__ = [
    "Length",
    "anchor_rows",
    "axle_rows",
    "bay_rows",
    "count_rows",
    "cut_rows",
    "cutting_rows",
    "gap_rows",
    "hardware_rows",
    "limit_rows",
    "sheet_rows",
    "sum_rows",
]

type Length = Callable[[float], str]
type Rows = list[list[str]]


def bay_rows(plan: Plan, length: Length) -> Rows:
    """Return every reading of the bay: field, what it is, what was read."""
    bay = plan.job.bay
    rows: Rows = [
        ["bay.length", "length on the floor", length(bay.length)],
        ["bay.width", "width on the floor", length(bay.width)],
    ]
    for name, what, value in (
        ("bay.rail", "floor to the top of the side rail", bay.rail),
        ("bay.clear_height", "floor to roof or canopy", bay.clear_height),
    ):
        if value is not None:
            rows.append([name, what, length(value)])
    for i, w in enumerate(bay.widths, start=1):
        where = f"width {length(w.at)} from the tail, {length(w.height)} up"
        read = length(w.width) if w.centred else f"left {length(w.left)}, right {length(w.right)}"
        rows.append([f"bay.widths[{i}]", where, read])
    for i, b in enumerate(bay.between, start=1):
        rows.append(
            [
                f"bay.between[{i}]",
                f"between the arches, {length(b.at)} from the tail",
                length(b.width),
            ]
        )
    for i, s in enumerate(bay.lengths, start=1):
        where = f"length {length(s.height)} up, {_side(s.y, length)}"
        rows.append([f"bay.lengths[{i}]", where, length(s.length)])
    for i, lean in enumerate(bay.tail_lean, start=1):
        rows.append(
            [
                f"bay.tail_lean[{i}]",
                f"shut tail stands in, {length(lean.height)} up",
                length(lean.x),
            ]
        )
    for i, a in enumerate(bay.arches, start=1):
        rows.append(
            [
                f"bay.arches[{i}]",
                f"{a.side} arch: start, end, height, reach",
                f"{length(a.start)}, {length(a.end)}, {length(a.height)}, {length(a.reach)}",
            ]
        )
    if bay.diagonals is not None:
        one, two = bay.diagonals
        rows.append(["bay.diagonals", "corner to corner", f"{length(one)}, {length(two)}"])
    for o in bay.openings:
        high = f" × {length(o.height)}" if o.height is not None else ", open above"
        rows.append(["bay.opening", f"doorway at the {o.face}", length(o.width) + high])
    return rows


def _side(y: float, length: Length) -> str:
    if abs(y) < 0.05:
        return "on the centre line"
    return f"{length(abs(y))} to the {'left' if y > 0.0 else 'right'}"


def cutting_rows(parts: Iterable[Part], release: str, length: Length) -> Rows:
    """Return the cutting list of a release."""
    return [
        [
            p.mark,
            p.name,
            str(p.quantity),
            f"{length(p.length)} × {length(p.width)}",
            length(p.thickness),
            p.material,
            "long" if p.grain == "long" else "free",
            f"{p.mass_kg * p.quantity:.1f}",
            p.waits_for,
        ]
        for p in parts
        if p.release == release
    ]


def sheet_rows(cutting: CuttingPlan, length: Length) -> Rows:
    """Return the sheets to have: material, size, number, where from, price."""
    return [
        [
            use.material,
            f"{length(use.length)} × {length(use.width)}",
            str(use.used),
            use.origin,
            "" if use.price is None else f"{use.price * use.used:.2f}",
        ]
        for use in cutting.stock
        if use.used
    ]


def hardware_rows(making: Making) -> Rows:
    """Return the hardware schedule."""
    return [
        [
            row.kind,
            row.name,
            f"{row.quantity:g} {row.unit}",
            f"{row.spare:g}" if row.spare else "",
            f"{row.packs[0]} × {row.packs[1]}" if row.packs[0] else "",
            "; ".join(row.used_for),
            "" if row.price is None else f"{row.price:.2f}",
        ]
        for row in making.schedule
    ]


def cut_rows(layout: Layout, length: Length) -> Rows:
    """Return the numbered cuts of a layout."""
    return [
        [
            str(cut.order),
            cut.kind,
            length(cut.setting),
            ", ".join(leaf.name for leaf in cut.leaves if leaf.name) or "rest",
        ]
        for cut in layout.cuts
    ]


def anchor_rows(design: Design, length: Length) -> Rows:
    """Return the anchor plan."""
    return [
        [
            a.id,
            a.block,
            length(a.x),
            length(a.y),
            a.thread,
            a.existing or "new hole: look beneath first",
            " + ".join(w for w in (a.bolt, a.washer, a.plate, a.nut) if w),
            a.note,
        ]
        for a in design.anchors
    ]


def limit_rows(plan: Plan) -> Rows:
    """Return limits per drawer for the handover sheet, from the runner findings."""
    found = {f.about: f for f in plan.findings if f.id.startswith("RUNNER:")}
    rows: Rows = []
    for block in plan.design.blocks:
        for o in block.openings:
            if o.runner is None:
                continue
            finding = found.get(o.name)
            allowed = "not known"
            if finding is not None and finding.capacity is not None:
                allowed = f"{finding.capacity:.0f} kg"
            elif finding is not None and finding.advice:
                allowed = finding.advice[0]
            rows.append(
                [
                    o.name,
                    f"{o.runner.runner.name} {o.runner.size.length:g}",
                    f"{o.gross_kg:.1f} kg",
                    allowed,
                    o.runner.latch or f"runner lock {o.runner.lock}",
                ]
            )
    return rows


def axle_rows(plan: Plan) -> Rows:
    """Return the vehicle's limits and worst masses from the findings."""
    return [
        [
            f.title,
            "not proved" if f.demand is None else f"{f.demand:.0f} kg",
            "" if f.capacity is None else f"{f.capacity:.0f} kg",
            f.load_case or "; ".join(f.needs),
        ]
        for f in plan.findings
        if f.id in {"VEHICLE-FRONT", "VEHICLE-REAR", "VEHICLE-TOTAL"}
    ]


def count_rows(findings: tuple[Finding, ...]) -> Rows:
    """Return how many findings have each status as shown."""
    counts: dict[str, int] = {}
    for finding in findings:
        counts[finding.shown] = counts.get(finding.shown, 0) + 1
    return [[name, str(counts[name])] for name in sorted(counts)]


def gap_rows(design: Design, length: Length) -> Rows:
    """Return the named gaps."""
    return [[g.name, length(g.sum), length(g.least)] for g in design.gaps]


def sum_rows(design: Design, units: str) -> list[dict[str, object]]:
    """Return the wall sums: name, terms, result."""
    unit = "in" if units == "in" else "mm"

    def said(value: float) -> str:
        return format_length(value, "in" if unit == "in" else "mm")

    return [
        {
            "name": s.size_of,
            "terms": [[t.what, said(t.value)] for t in s.lines],
            "result": said(s.result),
        }
        for s in design.sums
    ]
