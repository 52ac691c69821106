"""Page one: what it is, masses, level of skill, hours, and what was proved on which standing."""

from __future__ import annotations

from stowright.book.tables import Length
from stowright.model.finding import Finding
from stowright.model.plan import Plan

__all__ = ["cover_rows", "level_of", "standing_counts"]

_STATUSES = ("fail", "not proved", "warn", "pass")
_STANDINGS = ("published", "common practice", "from memory", "assumed")


def cover_rows(plan: Plan, length: Length) -> list[list[str]]:
    """Return the cover's table."""
    design, making = plan.design, plan.making
    names = [
        f"{block.name}: {length(block.box.x.size)} long, {length(block.box.y.size)} wide, "
        f"{length(block.box.z.size)} high, opens to the {block.face}"
        for block in design.blocks
    ]
    amateur = sum(t.hours_amateur for t in making.tasks)
    shop = sum(t.hours_shop for t in making.tasks)
    rows = [
        ["What it is", "; ".join(names)],
        [
            "Mass",
            (
                f"{design.empty_kg:.1f} kg empty, "
                f"{design.empty_kg + design.contents_kg:.1f} kg loaded as listed"
            ),
        ],
    ]
    modules = [m for b in design.blocks for m in b.modules]
    if modules:
        heaviest = max(modules, key=lambda m: m.mass_kg)
        rows.append(
            ["Heaviest module", f"{heaviest.block} {heaviest.name}, {heaviest.mass_kg:.1f} kg"]
        )
    rows += [
        ["Sheets", f"{plan.cutting.sheets} ({_proved(plan)})"],
        ["Parts", f"{sum(p.quantity for p in design.parts)} of {len(design.parts)} kinds"],
        ["Level", level_of(plan)],
        ["Hours (common practice)", f"{shop:.0f} in a shop, {amateur:.0f} for an amateur"],
        ["Main tools", ", ".join(_main_tools(plan))],
        ["Unit of length", "inch" if plan.job.units == "in" else "millimetre"],
    ]
    return rows


def level_of(plan: Plan) -> str:
    """Return the level of skill, by what the work asks for (our own scale of three)."""
    roles = {p.role for p in plan.design.placed}
    if roles & {"wing", "wing-lid"} or any(b.face != "tail" for b in plan.design.blocks):
        return "3 of 3: pieces scribed to the vehicle, or drawers across it"
    if plan.design.motions or any(
        f.kind == "groove" for p in plan.design.parts for f in p.features
    ):
        return "2 of 3: drawers on runners, grooves, reading before cutting"
    return "1 of 3: straight cuts and screwed butt joints"


def _main_tools(plan: Plan) -> list[str]:
    """Return the tools that most steps ask for, the commonest first."""
    counts: dict[str, int] = {}
    for step in plan.making.steps:
        for tool in step.tools:
            counts[tool] = counts.get(tool, 0) + 1
    return sorted(counts, key=lambda tool: (-counts[tool], tool))[:7]


def _proved(plan: Plan) -> str:
    if plan.cutting.proved_least:
        return "proved least"
    return f"at least {plan.cutting.lower_bound} are needed"


def standing_counts(findings: tuple[Finding, ...]) -> list[list[str]]:
    """Return how many findings have each status, by the standing of their weakest input."""
    rows = [["Status", *_STANDINGS, "together"]]
    for status in _STATUSES:
        mine = [f for f in findings if f.status == status]
        cells = [sum(f.standing == standing for f in mine) for standing in _STANDINGS]
        if status == "not proved":  # what was not proved stands on nothing
            rows.append([status, *("–" for _ in _STANDINGS), str(len(mine))])
        else:
            rows.append([status, *(str(n) if n else "–" for n in cells), str(len(mine))])
    return rows
