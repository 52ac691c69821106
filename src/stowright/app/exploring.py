"""Use case: many designs for a bay, a vehicle and a carry list, a few of them kept."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from stowright.app.stock import parts_to_cut, saw_settings, stock_for
from stowright.explore.budget import KEEP

if TYPE_CHECKING:
    from collections.abc import Callable

    from stowright.explore.budget import Budget
    from stowright.explore.design_search import Told
    from stowright.explore.exploring import Exploration
    from stowright.explore.workers import Client
    from stowright.model.catalogue import Catalogue
    from stowright.model.design import Design
    from stowright.model.job import Job
    from stowright.model.layout import CuttingPlan

__all__ = ["explore_job", "first_cut"]


def explore_job(
    job: Job,
    *,
    catalogue: Catalogue | None = None,
    seed: int = 0,
    budget: Budget | None = None,
    keep: int = KEEP,
    time_limit_s: float | None = None,
    workers: int | None = None,
    client: Client | None = None,
    progress: Callable[[Told], None] | None = None,
    should_stop: Callable[[], bool] | None = None,
) -> Exploration:
    """Return a few designs for a job's bay, vehicle and carry list that no other beats.

    The same job, shelf, seed and budget give the same designs on any number of processes or
    machines. A time limit or ``should_stop`` ends the search early with the best so far.

    Args:
        job: Its bay, vehicle, carry list and build count; its blocks and decks are only compared.
        catalogue: The shelf; None for the shipped one.
        seed: Start of the random numbers, 0 or above.
        budget: How many designs are judged; None for the usual number.
        keep: How many designs to keep at most.
        time_limit_s: When to stop at the latest. [s]
        workers: Local processes; None for one a core, 1 for this process alone.
        client: A cluster's client (``dask.distributed.Client``), instead of local processes.
        progress: Told after each round how many were judged, and the best so far.
        should_stop: Asked now and then; True ends it.
    """
    from stowright.app.loading import load_catalogue
    from stowright.explore.exploring import explore

    return explore(
        job,
        catalogue or load_catalogue(),
        first_cut,
        seed=seed,
        budget=budget,
        keep=keep,
        workers=workers,
        client=client,
        progress=progress,
        should_stop=_until(time_limit_s, should_stop),
    )


def first_cut(design: Design, catalogue: Catalogue) -> CuttingPlan:
    """Return a first layout of a design's parts: enough to compare designs by.

    Raises:
        CuttingError: If a part fits on no sheet or the stock is short.
    """
    from stowright.cutting import lay_out

    parts = parts_to_cut(design)
    materials = tuple(dict.fromkeys(part.material for part in parts))
    stock = stock_for(design.job, catalogue, materials)
    return lay_out(parts, stock, saw_settings(design.job, catalogue), effort="first")


def _until(
    time_limit_s: float | None, should_stop: Callable[[], bool] | None
) -> Callable[[], bool]:
    end = None if time_limit_s is None else time.monotonic() + time_limit_s

    def stop() -> bool:
        late = end is not None and time.monotonic() >= end
        return late or (should_stop is not None and should_stop())

    return stop
