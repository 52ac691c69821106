"""The masses of a plan, and what they do to the vehicle's axles."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stowright.app.plain import plain, rounded
from stowright.formulas.axles import front_share
from stowright.proofs.axle_cases import axle_cases, scales_of
from stowright.proofs.vehicle import centre_heights

if TYPE_CHECKING:
    from stowright.formulas.axles import AxleMasses
    from stowright.model.bay import VehicleLimits
    from stowright.model.design import Design
    from stowright.model.geometry import Point3
    from stowright.model.job import Job
    from stowright.proofs.axle_cases import AxleCase

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
    negative when over them, null without a limit; ``case_margins`` are the least over all cases.
    ``unit_change`` is what the empty unit alone puts on each axle.
    """
    scales = scales_of(design)
    if scales is None or job.vehicle is None:
        return None
    cases = axle_cases(design)
    full = cases[-1]
    people = tuple(item for item in full.items if item.kind == "person")
    before = scales.case("before", people)
    unit = next(item for item in full.items if item.kind == "unit")
    return {
        **_axles(full.masses),
        "margins": _margins(job.vehicle.limits, full),
        "case_margins": _least_margins(job.vehicle.limits, cases),
        "limits": plain(job.vehicle.limits),
        "before": _axles(before.masses),
        "after": _axles(full.masses),
        "unit_change": _axles(scales.change(unit)),
        "steering_share": rounded(min(front_share(masses=case.masses) for case in cases)),
        "centre_height": dict(
            zip(
                ("unit", "before", "after"),
                (None if z is None else rounded(z) for z in centre_heights(design)),
                strict=True,
            )
        ),
        "cases": [_case(case) for case in cases],
        "weighed_after": plain(job.vehicle.weighed_after),
    }


def _case(case: AxleCase) -> dict[str, Any]:
    items = [
        {"what": item.what, "mass_kg": rounded(item.mass), "x": rounded(item.x)}
        for item in case.items
    ]
    return {"name": case.name, **_axles(case.masses), "items": items}


def _axles(masses: AxleMasses) -> dict[str, Any]:
    return {
        "front_axle": rounded(masses.front_kg),
        "rear_axle": rounded(masses.rear_kg),
        "total": rounded(masses.total_kg),
    }


def _margins(limits: VehicleLimits, case: AxleCase) -> dict[str, Any]:
    pairs = (
        ("front_axle", limits.front_axle, case.front),
        ("rear_axle", limits.rear_axle, case.rear),
        ("total", limits.total, case.total),
    )
    return {name: None if limit is None else rounded(limit - mass) for name, limit, mass in pairs}


def _least_margins(limits: VehicleLimits, cases: tuple[AxleCase, ...]) -> dict[str, Any]:
    rows = [_margins(limits, case) for case in cases]
    return {
        name: None if rows[0][name] is None else min(row[name] for row in rows) for name in rows[0]
    }


def _xyz(point: Point3) -> dict[str, Any]:
    return dict(zip("xyz", (rounded(value) for value in point), strict=True))
