"""The book's tables as plain rows of text, in the job's own unit."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from string import ascii_uppercase

from stowright.book.goods_words import goods_words, sheet_words
from stowright.book.step_details import long_name
from stowright.making.say import many
from stowright.model.design import AnchorPoint, Design
from stowright.model.part import Part
from stowright.model.plan import Plan
from stowright.units import Unit, format_length, in_job_unit

__all__ = [
    "Length",
    "Rows",
    "anchor_notes",
    "anchor_rows",
    "axle_rows",
    "cutting_rows",
    "gap_rows",
    "hardware_rows",
    "letter",
    "limit_rows",
    "sheet_rows",
    "sum_rows",
]

type Length = Callable[[float], str]
type Rows = list[list[str]]


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


def sheet_rows(plan: Plan, length: Length) -> Rows:
    """Return the sheets to have: material, in words, size, number, where from, price."""
    return [
        [
            use.material,
            sheet_words(use.material, plan.catalogue, plan.job.units),
            f"{length(use.length)} × {length(use.width)}",
            str(use.used),
            use.origin,
            "" if use.price is None else f"{use.price * use.used:.2f}",
        ]
        for use in plan.cutting.stock
        if use.used
    ]


def hardware_rows(plan: Plan) -> Rows:
    """Return the hardware schedule, each name also in words."""
    units = plan.job.units
    return [
        [
            row.kind,
            long_name(row.name, units),
            many(row.quantity, row.unit),
            f"{row.spare:g}" if row.spare else "",
            f"{row.packs[0]} × {row.packs[1]}" if row.packs[0] else "",
            in_job_unit("; ".join(_gathered(row.used_for)), units),
            "" if row.price is None else f"{row.price:.2f}",
            goods_words(row.name, plan.catalogue, units),
        ]
        for row in plan.making.schedule
    ]


def _gathered(used_for: Iterable[str]) -> list[str]:
    """Return where goods are used, what is the same for several things told once."""
    found: dict[str, list[str]] = {}
    for line in used_for:
        about, _, how = line.partition("; ")[0].partition(": ")  # how it is done tells its step
        found.setdefault(how if not how.isdigit() else f"{about}: {how}", []).append(about)
    return [
        f"{', '.join(abouts)}: {how}" if how and ": " not in how else how or ", ".join(abouts)
        for how, abouts in found.items()
    ]


def anchor_rows(design: Design, length: Length) -> Rows:
    """Return the anchor plan; what is to be heeded at each by the letters of ``anchor_notes``."""
    letters = {text: letter for letter, text in anchor_notes(design)}
    return [
        [
            a.id,
            a.block,
            length(a.x),
            length(a.y),
            a.thread,
            a.existing or "new hole: look beneath first",
            " + ".join(w for w in (a.bolt, a.washer, a.plate, a.nut) if w),
            ", ".join(letters[text] for text in _heeded(a, design.job.units)),
        ]
        for a in design.anchors
    ]


def anchor_notes(design: Design) -> Rows:
    """Return what is to be heeded at anchors, each told once, with its letter."""
    units = design.job.units
    texts = dict.fromkeys(text for a in design.anchors for text in _heeded(a, units))
    return [[letter(n), text] for n, text in enumerate(texts)]


def _heeded(anchor: AnchorPoint, units: Unit) -> list[str]:
    return [in_job_unit(text, units) for text in anchor.note.split("; ") if text]


def letter(number: int) -> str:
    """Return A to Z for 0 to 25, then AA, AB and so on."""
    before, own = divmod(number, len(ascii_uppercase))
    return (letter(before - 1) if before else "") + ascii_uppercase[own]


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


def gap_rows(design: Design, length: Length) -> Rows:
    """Return the named gaps; those of several openings that are alike in one row."""
    found: dict[tuple[str, str, str], list[str]] = {}
    for gap in design.gaps:
        about, _, what = gap.name.rpartition(": ")
        found.setdefault((what, length(gap.sum), length(gap.least)), []).append(about)
    return [[_named(abouts, what), *told] for (what, *told), abouts in found.items()]


def _named(abouts: list[str], what: str) -> str:
    """Return what several things share, with their names before it."""
    names = ", ".join(about for about in abouts if about)
    return f"{names}: {what}" if names else what


#: A term that tells the size of each: ``4 uprights of 14.8``.
_EACH = re.compile(r"(?<= of )\d+(?:\.\d+)?$")


def _each_told(what: str, said: Length) -> str:
    """Return a term's words with the size of each in the job's own unit."""
    return _EACH.sub(lambda found: said(float(found[0])), what)


def sum_rows(design: Design, units: str) -> list[dict[str, object]]:
    """Return the wall sums: name, terms, result; alike ones once, with all their names."""
    unit: Unit = "in" if units == "in" else "mm"

    def said(value: float) -> str:
        return format_length(value, unit)

    found: dict[tuple[str, tuple[tuple[str, str], ...], str], list[str]] = {}
    for s in design.sums:
        about, _, what = s.size_of.rpartition(": ")
        terms = tuple((_each_told(t.what, said), said(t.value)) for t in s.lines)
        found.setdefault((what, terms, said(s.result)), []).append(about)
    return [
        {"name": _named(abouts, what), "terms": [list(term) for term in terms], "result": result}
        for (what, terms, result), abouts in found.items()
    ]
