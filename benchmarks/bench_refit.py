"""Refit of the pickup example: what it takes beyond one design; three figures of 500 builds.

Run: python benchmarks/bench_refit.py [runs]
"""

import sys
import time
from dataclasses import replace
from pathlib import Path
from statistics import median

from stowright.app.loading import load_catalogue, load_job
from stowright.design.build import design
from stowright.explore.refit import Asked, find_refit
from stowright.explore.refit_chances import refit_chances
from stowright.model.given import Given
from stowright.model.job import DonePart, DoneStage, Reading
from stowright.proofs.tolerance_terms import fit_of

JOB = Path(__file__).parents[1] / "examples" / "pickup" / "job.toml"


def built(job, base):
    """The job with release A cut and both openings read tapering."""
    cut = tuple(
        DonePart(mark=part.mark, size=(part.length, part.width, part.thickness))
        for part in base.parts
        if part.release == "A"
    )
    openings = [opening for block in base.blocks for opening in block.openings]
    read = tuple(
        Reading(
            opening=o.name, block="", what="width", values=(o.width, o.width - 0.5, o.width - 1.5)
        )
        for o in openings
    )
    return replace(job, done=(DoneStage(stage="cut", parts=cut),), readings=read)


def timed(work):
    start = time.perf_counter()
    found = work()
    return found, 1e3 * (time.perf_counter() - start)


def main(runs):
    shelf = load_catalogue()
    job = load_job(JOB, catalogue=shelf)
    base = design(job, shelf)
    asked = built(job, base)
    sizes = {part.mark: (part.length, part.width, part.thickness) for part in base.parts}
    known = Asked(sizes=sizes, marks={})
    found = [timed(lambda: find_refit(base, asked, shelf, known)) for _ in range(runs)]
    refit = found[0][0]
    plain = [timed(lambda: design(job, shelf))[1] for _ in range(runs)]
    again = [timed(lambda: design(asked, shelf, Given(refit=refit)))[1] for _ in range(runs)]
    finding = [ms for _, ms in found]
    print(f"design as planned        {median(plain):7.1f} ms")
    print(f"finding the refit        {median(finding):7.1f} ms (first {finding[0]:.1f})")
    print(f"design with the refit    {median(again):7.1f} ms")
    share = median(finding) / (median(finding) + median(again))
    print(
        f"refit beyond that design {median(finding):7.1f} ms, {100 * share:.0f} % (aim: under 100)"
    )
    for block in base.blocks:
        for opening in block.openings:
            if opening.runner is not None:
                fit = fit_of(base, shelf, block, opening)
                many = refit_chances(fit, grid=job.cut_grid, builds=500)
                print(
                    f"{opening.name}: of {many.builds} builds {many.first.runs:.3f} run as cut, "
                    f"{many.recut.runs:.3f} recut, {many.shimmed.runs:.3f} recut and shimmed "
                    f"({many.narrower:g} mm narrower)"
                )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 7)
