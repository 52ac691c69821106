"""The figures of other chapters that a step is done from: layouts, runner sheets, anchors."""

from __future__ import annotations

from collections.abc import Mapping

from stowright.book.runner_sheets import runner_groups
from stowright.model.making import Step
from stowright.model.plan import Plan

__all__ = ["step_references"]


def step_references(plan: Plan, figures: Mapping[str, str]) -> dict[int, list[str]]:
    """Return the names of the figures each step is done from besides its own, by its number.

    Args:
        plan: The plan.
        figures: Names of the drawings there are, and their titles.
    """
    runners = {
        name: f"runner-{number}"
        for number, (_, names) in enumerate(runner_groups(plan), start=1)
        for name in names
    }
    found = {step.number: _of_step(step, runners, figures) for step in plan.making.steps}
    return {number: [n for n in names if n in figures] for number, names in found.items()}


#: What a step of a kind is done from: starts of figures' names and of their titles.
_FROM: dict[str, tuple[tuple[str, str], ...]] = {
    "carcass": (("detail-", "Joint of"),),
    "runners": (("detail-", "Runner of"),),
    "front": (("detail-", "Front of"), ("detail-", "Lock lever")),
    "packers": (("placing-floor", ""),),
    "modules": (("detail-", "Bolt between"),),
    "install": (("placing-floor", ""), ("detail-", "Anchor")),
    "bearers": (("placing-deck", ""),),
    "deck": (("placing-deck", ""), ("detail-", "Deck on")),
    "wings": (("placing-deck", ""), ("detail-", "Wing on")),
}


def _of_step(step: Step, runners: Mapping[str, str], figures: Mapping[str, str]) -> list[str]:
    found = [name for rule in _FROM.get(step.kind, ()) for name in _titled(*rule, figures)]
    if step.kind == "front" and step.about not in runners:
        found = []  # a door or a panel has no drawer's front behind it
    for row in step.fixings:
        found += _titled("detail-", f"Where the {row.type} ", figures)
    if step.kind in {"runners", "members"}:
        return [runners.get(step.about, ""), *found]
    if (step.kind, step.about) == ("cut", "measure"):
        return ["survey"]
    if step.kind == "cut" and not step.figure:
        return [name for name in figures if name.startswith("layout-")]
    return found


def _titled(start: str, words: str, figures: Mapping[str, str]) -> list[str]:
    return [n for n, title in figures.items() if n.startswith(start) and title.startswith(words)]
