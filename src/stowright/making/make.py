"""How a design is made: schedule, steps, hours, cautions, and cost where prices are known."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.making.drafts import finish_steps
from stowright.making.finish_and_install import INSTALL_CAUTIONS, removal_order
from stowright.making.hours import tasks_of
from stowright.making.say import DUST, ROUTER, SAW
from stowright.making.schedule import hardware_schedule
from stowright.making.steps import step_drafts
from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.layout import CuttingPlan
from stowright.model.making import Making, ScheduleRow
from stowright.proofs.tolerance import narrower_by_opening

__all__ = ["hazard_caution", "make"]

CAUTIONS = (
    SAW,
    DUST,
    *INSTALL_CAUTIONS,
    (
        "Weigh the vehicle with the unit in it: axle limits and the total must hold; changing seats or "
        "mass can need approval. Follow local codes and licensed practice."
    ),
    (
        "This plan makes no claim of crash safety. Where people share the space with the load, fit a "
        "rated barrier."
    ),
)


def make(design: Design, catalogue: Catalogue, cutting: CuttingPlan) -> Making:
    """Return how a design is made.

    Args:
        design: The design.
        catalogue: The shelf, for packs, masses and prices.
        cutting: The layouts: how many sheets, and what they cost.
    """
    schedule = hardware_schedule(design, catalogue)
    return Making(
        schedule=schedule,
        steps=finish_steps(design, step_drafts(design, narrower_by_opening(design, catalogue))),
        tasks=tasks_of(design, sheets=cutting.sheets),
        removal_order=removal_order(design),
        cautions=tuple(_cautions(design)),
        cost=_cost(schedule, _sheet_cost(cutting)),
    )


def _cautions(design: Design) -> Iterator[str]:
    yield from _people_cautions(design)
    if design.job.build.method == "cnc":
        yield ROUTER
    yield from CAUTIONS
    yield from _hazard_cautions(design)


def _sheet_cost(cutting: CuttingPlan) -> float | None:
    """Return what the bought sheets cost; None when a price is missing."""
    bought = [use for use in cutting.stock if use.origin == "buy" and use.used]
    prices = [use.price for use in bought if use.price is not None]
    if not bought or len(prices) < len(bought):
        return None
    return sum(price * use.used for price, use in zip(prices, bought, strict=True))


_HAZARDS = {
    "gas": "A gas bottle wants a sealed locker vented to the outside at its lowest point",
    "fuel": "Fuel wants an approved can, away from living space and sparks, vented outside",
    "battery": "A battery wants ventilation, a fuse at its terminal and a fixed hold",
    "aerosol": "Aerosols want to stay below 50 °C (from memory): away from the sun",
}


def _people_cautions(design: Design) -> tuple[str, ...]:
    """People who share the space with the load want something between."""
    space = design.job.bay.people_space
    if space is None or space.barrier != "none":
        return ()
    return (
        "People share the space with the load: a rated barrier or bulkhead between them is recommended before anybody rides with it; nothing here shows what happens in a crash.",
    )


def hazard_caution(hazard: str) -> str:
    """Return what gas, fuel, batteries and aerosols ask for besides a box; empty for no hazard."""
    said = _HAZARDS.get(hazard)
    return f"{said}; follow the local code." if said else ""


def _hazard_cautions(design: Design) -> tuple[str, ...]:
    found = sorted({item.hazard for item in design.job.carry if item.hazard})
    return tuple(hazard_caution(hazard) for hazard in found)


def _cost(
    schedule: tuple[ScheduleRow, ...], sheet_cost: float | None
) -> tuple[tuple[str, float], ...]:
    rows: list[tuple[str, float]] = []
    if sheet_cost is not None:
        rows.append(("sheets", round(sheet_cost, 2)))
    priced = [row.price for row in schedule if row.price is not None]
    if priced:
        rows.append(("hardware with a price", round(sum(priced), 2)))
    if rows:
        rows.append(("together", round(sum(value for _, value in rows), 2)))
    return tuple(rows)
