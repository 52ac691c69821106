"""The example jobs as designs, each made once for all tests of the two-dimensional drawings."""

from functools import cache
from pathlib import Path

from stowright.app.loading import load_catalogue, load_job
from stowright.app.planning import cut_design, design_job

EXAMPLES = {
    path.parent.name: path for path in Path(__file__).parents[2].glob("examples/*/job.toml")
}


@cache
def design_of(name):
    shelf = load_catalogue()
    return design_job(load_job(EXAMPLES[name], catalogue=shelf), catalogue=shelf)


@cache
def cutting_of(name):
    return cut_design(design_of(name), catalogue=load_catalogue())
