"""Each anchor of plan.json says what it sees, and the text fits the published schema."""

from pathlib import Path

from stowright.app.loading import load_catalogue, load_job
from stowright.app.plan_dict import _anchors
from stowright.app.plan_schema import plan_schema
from stowright.app.planning import design_job
from stowright.cutting import lay_out
from stowright.model.making import Making
from stowright.model.plan import Plan

EXAMPLE = Path(__file__).parents[2] / "examples" / "pickup"


def test_each_anchor_has_its_demand():
    shelf = load_catalogue()
    job = load_job(next(EXAMPLE.glob("*.toml")))
    design = design_job(job, catalogue=shelf)
    bare = Making(schedule=(), steps=(), tasks=(), removal_order=(), cautions=(), cost=())
    plan = Plan(
        job=job,
        catalogue=shelf,
        design=design,
        findings=(),
        cutting=lay_out((), (), None),
        making=bare,
    )
    rows = _anchors(plan)
    assert len(rows) == len(design.anchors)
    assert all(row["demand"]["shear_n"] > 0.0 for row in rows)
    assert {row["demand"]["rules"] for row in rows} == {job.rules}
    schema = plan_schema()["properties"]["anchors"]["items"]["properties"]["demand"]
    assert set(schema["anyOf"][0]["required"]) == set(rows[0]["demand"])
