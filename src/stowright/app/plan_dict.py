"""The plan as the data of ``plan.json``."""

from __future__ import annotations

from importlib.metadata import version
from typing import TYPE_CHECKING, Any

from stowright.app.changes import refit_data
from stowright.app.plain import plain, rounded
from stowright.app.plan_mass import mass_data, vehicle_data

if TYPE_CHECKING:
    from stowright.model.bay import Bay
    from stowright.model.design import (
        BlockDesign,
        BoxSize,
        Design,
        ModuleDesign,
        OpeningDesign,
        RunnerFit,
        UsableBox,
    )
    from stowright.model.geometry import Box
    from stowright.model.given import AnchorDemand
    from stowright.model.job import Job
    from stowright.model.making import Making
    from stowright.model.plan import Plan

__all__ = ["PLAN_FORMAT", "plan_to_dict"]

#: Raised when a key is dropped or changes its meaning.
PLAN_FORMAT = 1


def plan_to_dict(plan: Plan) -> dict[str, Any]:
    """Return a plan with the contract's keys: millimetres, kilograms, newtons, lists and objects.

    The same plan gives the same data, in the same order. A key's value is null where the input it
    needs was not given.
    """
    from stowright.cutting import cutting_to_dict

    design = plan.design
    return {
        "format": PLAN_FORMAT,
        "program": {"name": "stowright", "version": version("stowright")},
        "job": _job(plan.job),
        "assumed": plain((*plan.job.assumed, *design.assumed)),
        "warnings": list(dict.fromkeys((*plan.job.warnings, *design.warnings))),
        "bay": _bay(plan.job.bay, design),
        "usable": [_usable(block.usable) for block in design.blocks],
        "blocks": [_block(block, design) for block in design.blocks],
        "wings": plain(design.wings),
        "thicknesses": plain(design.thicknesses),
        "parts": plain(design.parts),
        "placed": plain(design.placed),
        "fixings": plain(design.fixings),
        "joints": plain(design.joints),
        "anchors": _anchors(plan),
        "gaps": plain(design.gaps),
        "motions": plain(design.motions),
        "loose": plain(design.loose),
        "deck_cargo": plain(design.deck_cargo),
        "packed": None if design.packed is None else plain(design.packed),
        "refit": None
        if design.refit is None
        else refit_data(plan.changes, design.refit, plan.so_far),
        "sums": plain(design.sums),
        "proofs": [plain(found) | {"shown": found.shown} for found in plan.findings],
        "cutting": plain(cutting_to_dict(plan.cutting)),
        **_making(plan.making),
        "mass": mass_data(design),
        "vehicle": vehicle_data(plan.job, design),
    }


def _job(job: Job) -> dict[str, Any]:
    """Return what the job asked for; the bay and what was assumed stand in keys of their own."""
    data: dict[str, Any] = plain(job)
    return {key: data[key] for key in data if key not in {"bay", "assumed", "warnings"}}


def _bay(bay: Bay, design: Design) -> dict[str, Any]:
    widths = [station.width for station in bay.widths] + [row.width for row in bay.between]
    return {
        "skew": plain(design.skew),
        "least_width": rounded(min([bay.width, *widths])),
        "least_length": rounded(min([bay.length, *(row.length for row in bay.lengths)])),
        **plain(bay),
    }


def _usable(usable: UsableBox) -> dict[str, Any]:
    return {
        "block": usable.block,
        **_box(usable.box),
        "what_it_costs": [
            f"{limit.side}: {limit.governed_by}{_allowed(limit.allowances)}"
            + (f"; {limit.next}" if limit.next else "")
            for limit in usable.limits
        ],
        "limits": plain(usable.limits),
        "hugs": usable.hugs,
        "warnings": list(usable.warnings),
    }


def _allowed(lines: tuple[Any, ...]) -> str:
    terms = ", ".join(f"{line.what} {abs(line.value):g}" for line in lines)
    return f" ({terms})" if terms else ""


def _box(box: Box) -> dict[str, Any]:
    return {axis: plain((span.low, span.high)) for axis, span in _spans(box)}


def _spans(box: Box) -> tuple[tuple[str, Any], ...]:
    return (("x", box.x), ("y", box.y), ("z", box.z))


def _block(block: BlockDesign, design: Design) -> dict[str, Any]:
    return {
        "name": block.name,
        "face": block.face,
        "face_at": rounded(block.face_at),
        "axes": plain(block.axes),
        "packer_height": rounded(block.packer_height),
        **_box(block.box),
        "modules": [_module(module, block, design) for module in block.modules],
    }


def _module(module: ModuleDesign, block: BlockDesign, design: Design) -> dict[str, Any]:
    own = [opening for opening in block.openings if opening.module == module.name]
    return {
        "name": module.name,
        "width": rounded(module.width),
        "height": rounded(module.height),
        "depth": rounded(module.depth),
        **_box(module.box),
        "mass_kg": rounded(module.mass_kg),
        "doorway": plain(module.doorway),
        "openings": [_opening(opening, design) for opening in own],
    }


def _opening(opening: OpeningDesign, design: Design) -> dict[str, Any]:
    travel = [motion.travel for motion in design.motions if motion.body == opening.name]
    front = opening.front
    return {
        "name": opening.name,
        "fill": opening.fill,
        "column": opening.column,
        "row": opening.row,
        "at": plain(opening.at),
        "width": rounded(opening.width),
        "height": rounded(opening.height),
        "depth": rounded(opening.depth),
        "sides": dict(zip(("left", "right", "below", "above"), opening.bounds, strict=True)),
        "box": None if opening.box is None else _outside(opening.box),
        "front": None if front is None else _front(opening, front),
        "runner": None if opening.runner is None else _runner(opening.runner),
        "extension": rounded(travel[0]) if travel else None,
        "lock": None if opening.runner is None else opening.runner.lock or opening.runner.latch,
        "usable_litres": rounded(opening.usable.litres),
        "usable": _box(opening.usable),
        "contents_kg": rounded(opening.contents_kg),
        "gross_kg": rounded(opening.gross_kg),
        "carried": [{"what": what, "quantity": count} for what, count in opening.carried],
    }


def _outside(box: BoxSize) -> dict[str, Any]:
    return {
        "width": rounded(box.width),
        "height": rounded(box.height),
        "length": rounded(box.length),
    }


def _front(opening: OpeningDesign, front: tuple[float, float]) -> dict[str, Any]:
    width, height = front
    return {
        "width": rounded(width),
        "height": rounded(height),
        "thickness": rounded(opening.front_thickness),
    }


def _runner(fit: RunnerFit) -> dict[str, Any]:
    return {
        "name": fit.runner.name,
        "length": rounded(fit.size.length),
        "travel": rounded(fit.size.travel),
        "rating_kg": rounded(fit.size.rating_kg),
        "side_space": rounded(fit.side_space),
        "set_back": rounded(fit.set_back),
        "line": rounded(fit.line),
        "line_in_drawer": rounded(fit.line_in_drawer),
        "lock": fit.lock,
        "latch": fit.latch,
        "next_size": fit.next_size,
        "why": fit.why,
    }


def _anchors(plan: Plan) -> list[dict[str, Any]]:
    """Return the anchors, each with what it sees under the job's rule set before any factor.

    The demand is null where the bolts of a carcass cannot stop it from turning.
    """
    from stowright.proofs.restraint import anchor_demands

    demands = {row.id: row for row in anchor_demands(plan.design, plan.catalogue)}
    return [
        plain(anchor) | {"demand": _demand(demands.get(anchor.id))}
        for anchor in plan.design.anchors
    ]


def _demand(row: AnchorDemand | None) -> dict[str, Any] | None:
    if row is None:
        return None
    data: dict[str, Any] = plain(row)
    return {key: data[key] for key in data if key != "id"}


def _making(making: Making) -> dict[str, Any]:
    data: dict[str, Any] = {
        "schedule": plain(making.schedule),
        "steps": plain(making.steps),
        "tasks": plain(making.tasks),
        "removal_order": list(making.removal_order),
        "cautions": list(making.cautions),
    }
    if making.cost:
        data["cost"] = {what: rounded(value) for what, value in making.cost}
    return data
