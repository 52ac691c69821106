"""Mistakes in ``[build]``, and in what a block, a column or a fill writes over it."""

from __future__ import annotations

from stowright.jobfile.flaws import Flaws
from stowright.jobfile.keys import walk
from stowright.jobfile.shape_build import BuildKeys
from stowright.jobfile.shape_job import JobFile

__all__ = ["check_build"]


def check_build(job: JobFile, flaws: Flaws) -> None:
    """Note joints that the job's way of cutting cannot make: no saw ends in a corner."""
    usual = (job.build.method if job.build else None) or "hand"
    for path, table in walk(job):
        if isinstance(table, BuildKeys) and table.joint == "tab-and-slot":
            sawn = next((m for m in (table.method or usual, usual) if m != "cnc"), None)
            if sawn is not None:
                found = f"tab-and-slot with method = {sawn}"
                allowed = 'butt, rebate or housing; or method = "cnc" in [build]'
                flaws.add((*path, "joint"), found, allowed)
