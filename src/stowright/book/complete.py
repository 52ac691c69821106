"""Whether the book is complete: sizes, two datums, every part and fixing in exactly one step."""

from __future__ import annotations

from collections import Counter

from stowright.model.finding import Finding
from stowright.model.part import Part
from stowright.model.plan import Plan
from stowright.proofs.judge import About, complete

__all__ = ["book_findings"]


def book_findings(plan: Plan) -> tuple[Finding, ...]:
    """Return the findings about the book's completeness (family 16)."""
    return (
        _finding("BOOK-SIZES", "Every part has all its sizes", _sizes(plan)),
        _finding("BOOK-DATUMS", "Every feature is placed from two datums", _datums(plan)),
        _finding("BOOK-PARTS", "Every part is introduced in exactly one step", _parts(plan)),
        _finding("BOOK-FIXINGS", "Every fixing is used in exactly one step", _fixings(plan)),
        _finding("BOOK-SCHEDULE", "The schedule counts what is placed", _schedule(plan)),
    )


def _finding(code: str, title: str, missing: tuple[str, ...]) -> Finding:
    about = About(
        id=code,
        title=title,
        about="book",
        family=16,
        source="this program's own completeness test",
        standing="published",
        load_case="the printed book",
    )
    return complete(
        about,
        missing=missing,
        advice=("this is a fault of the program: report it with the job file",),
    )


def _sizes(plan: Plan) -> tuple[str, ...]:
    return tuple(
        f"{part.mark} has a size that is not above zero"
        for part in plan.design.parts
        if not min(part.length, part.width, part.thickness) > 0.0 or part.quantity < 1
    )


def _datums(plan: Plan) -> tuple[str, ...]:
    return tuple(
        f"{part.mark}: {feature.purpose or feature.kind} lies off the part"
        for part in plan.design.parts
        for feature in part.features
        if not _on_part(part, feature.face, feature.at)
    )


def _on_part(part: Part, face: str, at: tuple[float, float]) -> bool:
    along = part.width if face in {"u0", "u1"} else part.length
    up = part.width if face in {"good", "back"} else part.thickness
    slack = 1.0e-6
    return -slack <= at[0] <= along + slack and -slack <= at[1] <= up + slack


def _parts(plan: Plan) -> tuple[str, ...]:
    counts = Counter(
        piece
        for step in plan.making.steps
        for part in step.parts
        if part.first
        for piece in part.placed
    )
    wrong = [p for p in plan.design.placed if counts[p.id] != 1]
    return tuple(f"{p.mark} ({p.id}) is introduced {counts[p.id]} times" for p in wrong)


def _fixings(plan: Plan) -> tuple[str, ...]:
    counts = Counter(
        fixing for step in plan.making.steps for row in step.fixings for fixing in row.ids
    )
    wrong = [f for f in plan.design.fixings if counts[f.id] != 1]
    return tuple(f"{f.type} ({f.id}) is used {counts[f.id]} times" for f in wrong)


def _schedule(plan: Plan) -> tuple[str, ...]:
    placed = Counter(f.type for f in plan.design.fixings)
    listed = {row.name: row.quantity for row in plan.making.schedule if row.name in placed}
    return tuple(
        f"{name}: {count} placed, {listed.get(name, 0.0):g} in the schedule"
        for name, count in sorted(placed.items())
        if listed.get(name) != float(count)
    )
