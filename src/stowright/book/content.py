"""What the book says, as plain data for the typesetter: no layout here, no file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from stowright.book import install_rows, tables, words
from stowright.book.bay_table import bay_rows
from stowright.book.cover import cover_rows, standing_counts
from stowright.book.goods_words import bit_rows
from stowright.book.opening_table import opening_tables
from stowright.book.part_pages import drawn_with
from stowright.book.runner_sheets import runner_sheets
from stowright.book.stamp import Stamp
from stowright.book.step_details import step_details
from stowright.book.step_references import step_references
from stowright.book.step_rows import step_row
from stowright.book.survey import PHOTOGRAPHS, survey_rows
from stowright.drawings.survey_fields import KINDS
from stowright.model.finding import Finding
from stowright.model.plan import Plan
from stowright.units import format_length, in_job_unit

__all__ = ["book_content"]


def book_content(
    plan: Plan, figures: Mapping[str, str], *, ink: str, stamp: Stamp, projection: str
) -> dict[str, Any]:
    """Return the book's content.

    Args:
        plan: The plan.
        figures: Names of the drawings there are, and their titles.
        ink: ``colour`` or ``black``.
        stamp: Fingerprint of the job, revision and date.
        projection: ``first`` or ``third``.
    """
    units = plan.job.units

    def length(mm: float) -> str:
        return format_length(mm, units)

    return {
        "title": plan.job.title,
        "client": plan.job.client,
        "units": units,
        "ink": ink,
        "stamp": stamp.text,
        "projection": projection,
        "figures": dict(figures),
        "words": {
            "adjust": [in_job_unit(line, units) for line in words.ADJUST],
            "troubles": list(words.TROUBLES),
            "finish": list(words.FINISH),
            "install": list(words.INSTALL),
            "tests": install_rows.final_tests(plan),
            "handover": [*words.HANDOVER, *install_rows.rail_limits(plan)],
        },
        **_first_pages(plan, length),
        **_lists(plan, length, figures),
        **_drawn(plan, length, figures),
        **_last_pages(plan, length),
    }


def _first_pages(plan: Plan, length: tables.Length) -> dict[str, Any]:
    design, making = plan.design, plan.making
    kind = plan.job.bay.kind
    return {
        "cover": cover_rows(plan, length),
        "counts": standing_counts(plan.findings),
        "open": [_short(f, plan) for f in plan.findings if f.status != "pass"],
        "bay": bay_rows(plan.job.bay, length),
        "reading_error": length(plan.job.bay.reading_error),
        "assumed": [[a.field, a.value, a.why] for a in (*plan.job.assumed, *design.assumed)],
        "warnings": list(design.warnings),
        "cautions": list(making.cautions),
        "bits": bit_rows(design, plan.job.units),
        "tools": sorted({tool for step in making.steps for tool in step.tools}),
        "survey": {
            "kind": kind,
            "kinds": list(KINDS),
            "rows": survey_rows(kind),
            "photographs": list(PHOTOGRAPHS),
        },
    }


def _lists(plan: Plan, length: tables.Length, figures: Mapping[str, str]) -> dict[str, Any]:
    design, making = plan.design, plan.making
    return {
        "sheets": tables.sheet_rows(plan, length),
        "hardware": tables.hardware_rows(plan),
        "cost": [[what, f"{value:.2f}"] for what, value in making.cost],
        "tasks": [
            [t.what, f"{t.hours_amateur:g}", f"{t.hours_shop:g}", t.basis] for t in making.tasks
        ],
        "list_a": tables.cutting_rows(design.parts, "A", length),
        "list_b": tables.cutting_rows(design.parts, "B", length),
        "cutting": _cutting(plan, length, figures),
        "openings": opening_tables(plan),
    }


def _drawn(plan: Plan, length: tables.Length, figures: Mapping[str, str]) -> dict[str, Any]:
    def named(start: str) -> list[str]:
        return [name for name in figures if name.startswith(start)]

    see = step_references(plan, figures)
    return {
        "cover_figure": "cover",
        "survey_figure": "survey",
        "sheets_drawn": named("ga-"),
        "views": named("view-"),
        "placing": named("placing-"),
        "exploded": named("exploded-"),
        "details": named("detail-"),
        "fitted": named("fitted-"),
        "rods": named("rod-"),
        "parts_drawn": [{"names": [name], "turned": False} for name in named("part-")],
        "drawn_with": drawn_with(plan.design.parts),
        "templates": named("template-"),
        "runners": runner_sheets(plan),
        "sums": tables.sum_rows(plan.design, plan.job.units),
        "gaps": tables.gap_rows(plan.design, length),
        "steps": [
            {
                **step_row(step, plan.job.units, see[step.number]),
                **step_details(plan.design, step),
            }
            for step in plan.making.steps
        ],
        "notes": [in_job_unit(note, plan.job.units) for note in plan.design.notes],
    }


def _last_pages(plan: Plan, length: tables.Length) -> dict[str, Any]:
    design, making = plan.design, plan.making
    return {
        "anchors": tables.anchor_rows(design, length),
        "anchor_notes": tables.anchor_notes(design),
        "beneath": install_rows.beneath_rows(plan, length),
        "drilling_known": bool(plan.job.bay.no_drill),
        "retorque": install_rows.retorque_rows(plan),
        "weighing": install_rows.weighing_rows(plan),
        "finish_rows": [row for row in tables.hardware_rows(plan) if row[0] == "finish"],
        "removal": list(making.removal_order),
        "limits": tables.limit_rows(plan),
        "cargo": install_rows.cargo_rows(plan, length),
        "axles": tables.axle_rows(plan),
        "masses": _masses(plan),
        "proofs": [_proof(f, plan) for f in plan.findings],
        "sources": _sources(plan),
    }


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
                f"{format_length(round(x), plan.job.units)} from the tail, "
                f"{format_length(round(abs(y)), plan.job.units)} "
                f"{'left' if y >= 0 else 'right'}, {format_length(round(z), plan.job.units)} up"
            ),
        ],
    ]


def _cutting(plan: Plan, length: tables.Length, figures: Mapping[str, str]) -> list[dict[str, Any]]:
    found = []
    for layout in plan.cutting.layouts:
        kept = [o for o in layout.offcuts if o.keep]
        found.append(
            {
                "name": f"layout-{layout.number}",
                "sawn": bool(layout.cuts),
                "cuts": [n for n in figures if n.startswith(f"layout-{layout.number}-cuts-")],
                "offcuts": [f"{o.name}: {length(o.along)} × {length(o.across)}" for o in kept],
            }
        )
    return found


def _sources(plan: Plan) -> list[str]:
    """Return the sources that proofs name, each once, in the order of the proofs."""
    return list(dict.fromkeys(finding.source for finding in plan.findings))


def _short(finding: Finding, plan: Plan) -> list[str]:
    words = "; ".join((*finding.needs, *finding.advice))
    return [finding.shown, finding.title, in_job_unit(words, plan.job.units)]


def _proof(finding: Finding, plan: Plan) -> dict[str, Any]:
    """Return a proof's rows; its working stays in the units that its formulas count in."""

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
        "advice": [in_job_unit(line, plan.job.units) for line in finding.advice],
        "needs": [in_job_unit(line, plan.job.units) for line in finding.needs],
    }
