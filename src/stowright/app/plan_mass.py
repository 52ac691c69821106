"""The masses of a plan, and what they do to the vehicle's axles."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stowright.app.plain import plain, rounded
from stowright.formulas.axles import AxleMasses, axle_masses_kg

if TYPE_CHECKING:
    from stowright.model.bay import Vehicle, VehicleLimits
    from stowright.model.design import Design
    from stowright.model.geometry import Point3
    from stowright.model.job import Job

__all__ = ["mass_data", "vehicle_data"]


def mass_data(design: Design) -> dict[str, Any]:
    """Return the unit's masses and their centre in the bay. [kg, mm]."""
    modules = [module for block in design.blocks for module in block.modules]
    heaviest = max(modules, key=lambda module: module.mass_kg, default=None)
    return {
        "empty_kg": rounded(design.empty_kg),
        "contents_kg": rounded(design.contents_kg),
        "gross_kg": rounded(design.empty_kg + design.contents_kg),
        "centre": _xyz(design.centre),
        "centre_empty": _xyz(design.centre_empty),
        "heaviest_module": None
        if heaviest is None
        else {
            "block": heaviest.block,
            "module": heaviest.name,
            "mass_kg": rounded(heaviest.mass_kg),
        },
    }


def vehicle_data(job: Job, design: Design) -> dict[str, Any] | None:
    """Return the axle masses with unit and contents, or None where the job lacks what they need.

    ``before`` is the vehicle as weighed with its people; ``after`` has the unit, its contents and
    what else the job adds or removes, the tow ball included. Margins are to the stated limits,
    negative when over them, null without a limit.
    """
    vehicle = job.vehicle
    if vehicle is None or vehicle.weighed is None:
        return None
    if vehicle.wheelbase is None or vehicle.rear_axle_x is None:
        return None
    front_x = vehicle.rear_axle_x + vehicle.wheelbase
    start = AxleMasses(front_kg=vehicle.weighed.front_axle, rear_kg=vehicle.weighed.rear_axle)
    people = [] if vehicle.people_in_weighed else [(p.mass, front_x - p.x) for p in vehicle.people]
    before = axle_masses_kg(start=start, items=people, wheelbase_mm=vehicle.wheelbase)
    added = _added(vehicle, design, front_x)
    after = axle_masses_kg(start=before, items=added, wheelbase_mm=vehicle.wheelbase)
    return {
        **_axles(after),
        "margins": _margins(vehicle.limits, after),
        "limits": plain(vehicle.limits),
        "before": _axles(before),
        "after": _axles(after),
        "weighed_after": plain(vehicle.weighed_after),
    }


def _added(vehicle: Vehicle, design: Design, front_x: float) -> list[tuple[float, float]]:
    """Return what is added behind the front axle. [kg, mm]."""
    gross_kg = design.empty_kg + design.contents_kg
    added = [(gross_kg, front_x - design.centre[0])]
    added += [(thing.mass, front_x - thing.x) for thing in vehicle.also]
    if vehicle.tow_ball is not None:
        added.append((vehicle.tow_ball.mass, front_x - vehicle.tow_ball.x))
    return added


def _axles(masses: AxleMasses) -> dict[str, Any]:
    return {
        "front_axle": rounded(masses.front_kg),
        "rear_axle": rounded(masses.rear_kg),
        "total": rounded(masses.total_kg),
    }


def _margins(limits: VehicleLimits, masses: AxleMasses) -> dict[str, Any]:
    pairs = (
        ("front_axle", limits.front_axle, masses.front_kg),
        ("rear_axle", limits.rear_axle, masses.rear_kg),
        ("total", limits.total, masses.total_kg),
    )
    return {name: None if limit is None else rounded(limit - mass) for name, limit, mass in pairs}


def _xyz(point: Point3) -> dict[str, Any]:
    return dict(zip("xyz", (rounded(value) for value in point), strict=True))
