"""The figures of other chapters that a step is done from: layouts, runner sheets, anchors."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from stowright.book.runner_sheets import runner_groups
from stowright.drawings.goods_figure import GoodsGroup, goods_groups
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
    openings = {opening.name for block in plan.design.blocks for opening in block.openings}
    groups = {f"fitted-{n}": g for n, g in enumerate(goods_groups(plan.design), start=1)}
    found = {
        step.number: [
            *_of_step(step, runners, figures),
            *(name for name, group in groups.items() if _fits(step, group, openings)),
        ]
        for step in plan.making.steps
    }
    return {number: [n for n in names if n in figures] for number, names in found.items()}


def _fits(step: Step, group: GoodsGroup, openings: Collection[str]) -> bool:
    """Return whether a step fits what a figure of places shows: its opening's, or of no one's."""
    goods = {place.what for place in group.places}
    its = step.about in group.names or step.about not in openings
    return its and any(row.type in goods for row in step.fixings)


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
