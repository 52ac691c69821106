"""From a measured load area to a plan book for plywood drawers, deck and wings.

::

    from stowright import load_job, plan, write_outputs

    made = plan(load_job("job.toml"))
    write_outputs(made, "out")

What is listed in ``__all__`` stays from release to release; anything else may change. Names load
when they are first used, so that importing the package costs next to nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from stowright.app.loading import load_catalogue, load_job
    from stowright.app.outputs import OutputOptions, write_outputs
    from stowright.app.plan_dict import plan_to_dict
    from stowright.app.plan_schema import plan_schema
    from stowright.app.planning import plan
    from stowright.errors import (
        BookError,
        CatalogueError,
        CuttingError,
        DesignError,
        FileConflictError,
        JobError,
        Mistake,
        OutOfRangeError,
        StoppedError,
        StowrightError,
        UnknownNameError,
    )
    from stowright.model.catalogue import Catalogue
    from stowright.model.design import Design
    from stowright.model.finding import Finding
    from stowright.model.job import Job
    from stowright.model.layout import CuttingPlan
    from stowright.model.making import Making
    from stowright.model.part import Part
    from stowright.model.plan import Plan

__all__ = [
    "BookError",
    "Catalogue",
    "CatalogueError",
    "CuttingError",
    "CuttingPlan",
    "Design",
    "DesignError",
    "FileConflictError",
    "Finding",
    "Job",
    "JobError",
    "Making",
    "Mistake",
    "OutOfRangeError",
    "OutputOptions",
    "Part",
    "Plan",
    "StoppedError",
    "StowrightError",
    "UnknownNameError",
    "load_catalogue",
    "load_job",
    "plan",
    "plan_schema",
    "plan_to_dict",
    "write_outputs",
]

_HOMES = {
    "Catalogue": "model.catalogue",
    "CuttingPlan": "model.layout",
    "Design": "model.design",
    "Finding": "model.finding",
    "Job": "model.job",
    "Making": "model.making",
    "OutputOptions": "app.outputs",
    "Part": "model.part",
    "Plan": "model.plan",
    "load_catalogue": "app.loading",
    "load_job": "app.loading",
    "plan": "app.planning",
    "plan_schema": "app.plan_schema",
    "plan_to_dict": "app.plan_dict",
    "write_outputs": "app.outputs",
}


def __getattr__(name: str) -> object:
    """Load a public name when it is first asked for."""
    if name not in __all__:
        raise AttributeError(f"module 'stowright' has no attribute {name!r}")
    value: object = getattr(import_module(f"stowright.{_HOMES.get(name, 'errors')}"), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    """List the public names, loaded or not."""
    return sorted({*globals(), *__all__})
