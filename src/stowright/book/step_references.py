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


def _of_step(step: Step, runners: Mapping[str, str], figures: Mapping[str, str]) -> list[str]:
    opening, _, action = step.title.partition(": ")
    if step.stage in {"runners", "drawer"} and " members " in f"{action} ":
        return [runners.get(opening, "")]
    if step.title == "Read the bay again":
        return ["survey"]
    if step.title == "Cut release A":
        return [name for name in figures if name.startswith("layout-")]
    if step.title in {"Anchor the unit", "Lay the packers and stand the modules on them"}:
        return [*_titled("view-", "Plan", figures), *_titled("detail-", "Anchor", figures)]
    return []


def _titled(start: str, words: str, figures: Mapping[str, str]) -> list[str]:
    return [n for n, title in figures.items() if n.startswith(start) and title.startswith(words)]
