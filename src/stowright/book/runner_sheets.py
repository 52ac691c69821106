"""The runner sheet of each drawer and tray as rows: lines, set-backs, holes, order, packers."""

from __future__ import annotations

from collections import Counter
from typing import Any

from stowright.drawings.part_notes import hole_size
from stowright.drawings.runner_places import MemberPlaces, drawn_members, members_of
from stowright.model.design import OpeningDesign
from stowright.model.plan import Plan
from stowright.units import Unit, format_length

__all__ = ["runner_groups", "runner_sheets"]

_ORDER = (
    "Fix both cabinet members by their slots (1) at mid height, from the same spacer block.",
    "Fix the drawer members by their slots, hang the drawer, run it empty and then loaded.",
    (
        "Back-off test: loosen the cabinet slots half a turn, run the drawer ten times, shut it "
        "and tighten from the face. Where it goes stiff as a screw is tightened, that screw pulls "
        "the runners apart: pack behind them there."
    ),
    "Only then put in the round-hole screws (2), the cabinet's first.",
)


def runner_groups(plan: Plan) -> list[tuple[OpeningDesign, list[str]]]:
    """Return the openings that need a runner sheet of their own, with the names it serves."""
    found: dict[tuple[object, ...], tuple[OpeningDesign, list[str]]] = {}
    for block in plan.design.blocks:
        for opening in block.openings:
            members = members_of(plan.design, opening)
            if opening.runner is None or not members:
                continue
            key = (opening.runner, *(_alike(m) for m in members))
            found.setdefault(key, (opening, []))[1].append(opening.name)
    return list(found.values())


def _alike(member: MemberPlaces) -> tuple[object, ...]:
    return (member.member, member.side, member.start, member.line, member.screws)


def runner_sheets(plan: Plan) -> list[dict[str, Any]]:
    """Return the sheets: what is on each besides its drawing."""
    return [
        _sheet(plan, opening, names, number)
        for number, (opening, names) in enumerate(runner_groups(plan), start=1)
    ]


def _sheet(plan: Plan, opening: OpeningDesign, names: list[str], number: int) -> dict[str, Any]:
    units = plan.job.units
    fit = opening.runner

    def said(value: float) -> str:
        return format_length(value, units)

    if fit is None:
        return {}
    window = fit.runner.side_space
    members = drawn_members(plan.design, opening)
    slots = {
        round(r.along, 1)
        for m in members
        if m.member == "cabinet"
        for r in m.screws
        if r.kind == "slot"
    }
    return {
        "names": names,
        "figure": f"runner-{number}",
        "rows": [
            ["Runner", f"{fit.runner.name}, {said(fit.size.length)} long, one pair a drawer"],
            ["Set-back from the face edge", said(fit.set_back)],
            ["Centre line above the carcass floor or shelf", said(fit.line)],
            ["Centre line above the drawer side's lower edge", said(fit.line_in_drawer)],
            [
                "Space each side",
                (
                    f"{said(fit.side_space)} as drawn; it runs from {said(window.least)} to "
                    f"{said(window.most)}, aim for {said(window.aim)}"
                ),
            ],
            ["Travel", said(fit.size.travel)],
            *[
                [f"Screws, {m.member} member{m.hand or ', each side'}", _screws(m, units)]
                for m in members
            ],
            ["Held shut by", fit.latch or f"the runner's lock ({fit.lock})"],
        ],
        "order": list(_ORDER),
        "packers": [said(along) for along in sorted(slots)],
        "aim": said(window.aim),
        "next": fit.next_size,
    }


def _screws(member: MemberPlaces, units: Unit) -> str:
    counts = Counter((r.type, r.kind, r.pilot) for r in member.screws)
    if not counts:
        return "no screw in the catalogue holds here without coming through: pack or bolt it"
    return "; ".join(
        f"{n} × {name} in {'slots' if kind == 'slot' else 'round holes'}, "
        f"pilot {hole_size(pilot, units)}"
        for (name, kind, pilot), n in counts.items()
    )
