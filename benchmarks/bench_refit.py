"""Refit: what it takes beyond one design, with few and many readings; three figures of 500 builds.

Run: python benchmarks/bench_refit.py [job.toml ...]

Without files it takes the examples. Times are processor times of this process, the best of a few.
"""

import sys
import time
from dataclasses import replace
from pathlib import Path

from stowright.app.loading import load_catalogue, load_job
from stowright.app.refitting import drawer_chances
from stowright.design.build import design
from stowright.explore.refit import Asked, find_refit
from stowright.model.given import Given
from stowright.model.job import DonePart, DoneStage, Reading

EXAMPLES = Path(__file__).parents[1] / "examples"
#: How many readings are taken down at once.
READINGS = (1, 5, 20)
TIMES = 5


def built(job, base, count):
    """The job with release A cut and so many readings, openings tapering one after another."""
    cut = tuple(
        DonePart(mark=part.mark, size=(part.length, part.width, part.thickness))
        for part in base.parts
        if part.release == "A"
    )
    openings = [opening for block in base.blocks for opening in block.openings]
    read = tuple(a_reading(openings[n % len(openings)], n // len(openings)) for n in range(count))
    return replace(job, done=(DoneStage(stage="cut", parts=cut),), readings=read)


def a_reading(opening, turn):
    """A reading of an opening: its width, its height, its depth, then its width again."""
    what, size = (
        ("width", opening.width),
        ("height", opening.height),
        ("depth", opening.depth),
    )[turn % 3]
    values = (size, size - 0.5, size - 1.5) if what == "width" else (size - 0.5,)
    return Reading(opening=opening.name, block="", what=what, values=values)


def timed(work):
    """What some work gives, and the least processor time that it took. [ms]."""
    best, found = float("inf"), None
    for _ in range(TIMES):
        start = time.process_time()
        found = work()
        best = min(best, 1e3 * (time.process_time() - start))
    return found, best


def main(paths):
    shelf = load_catalogue()
    for path in paths:
        name = path.parent.name if path.name == "job.toml" else path.stem
        job = load_job(path)
        base, plain = timed(lambda job=job: design(job, shelf))
        print(f"{name}: design as planned {plain:.1f} ms")
        for count in READINGS:
            taken(base, built(job, base, count), shelf)
        chances(base, shelf)


def taken(base, asked, shelf):
    """Print what finding a refit takes, and the design with it."""
    sizes = {part.mark: (part.length, part.width, part.thickness) for part in base.parts}
    known = Asked(sizes=sizes, marks={})
    refit, finding = timed(lambda: find_refit(base, asked, shelf, known))
    _, again = timed(lambda: design(asked, shelf, Given(refit=refit)))
    both = finding + again
    print(
        f"  {len(asked.readings):2d} readings: found {finding:.1f} ms, designed {again:.1f} ms, "
        f"together {both:.1f} ms (aim: under 100), finding {100.0 * finding / both:.0f} %"
    )


def chances(base, shelf):
    """Print how many of 500 builds of each drawer run, the three ways they can be made."""
    for name, many in drawer_chances(base, shelf):
        print(
            f"  {name}: of {many.builds} builds {many.first.runs:.3f} run as cut, "
            f"{many.recut.runs:.3f} recut, {many.shimmed.runs:.3f} recut and shimmed "
            f"({many.narrower:g} mm narrower; aim: 0.995)"
        )


if __name__ == "__main__":
    main([Path(each) for each in sys.argv[1:]] or sorted(EXAMPLES.glob("*/job.toml")))
