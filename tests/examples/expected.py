"""What is kept of an example's plan: parts, sheets, counts."""

from pathlib import Path

from stowright import load_job, plan

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = sorted(path.parent.name for path in EXAMPLES.glob("*/job.toml"))


def planned(name):
    return plan(load_job(EXAMPLES / name / "job.toml"))


def summary(made):
    design = made.design
    return {
        "parts": [
            {
                "mark": part.mark,
                "name": part.name,
                "material": part.material,
                "length": round(part.length, 3),
                "width": round(part.width, 3),
                "thickness": round(part.thickness, 3),
                "quantity": part.quantity,
            }
            for part in design.parts
        ],
        "sheets": [
            {"sheet": use.sheet, "material": use.material, "used": use.used, "origin": use.origin}
            for use in made.cutting.stock
        ],
        "counts": {
            "openings": sum(len(block.openings) for block in design.blocks),
            "pieces": len(design.placed),
            "fixings": len(design.fixings),
            "anchors": len(design.anchors),
            "sheets": made.cutting.sheets,
            "failing": sum(found.status == "fail" for found in made.findings),
        },
    }
