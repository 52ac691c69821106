"""How long the book and the drawings of the pickup example take, and the memory they need."""

import resource
import time
from os import getloadavg
from pathlib import Path

from stowright import plan
from stowright.app.drawing_files import drawing_files
from stowright.app.loading import load_catalogue, load_job
from stowright.app.planning import design_job
from stowright.book import make_book, make_cards, make_full_size, make_labels, make_survey
from stowright.drawings.isometric import assembled, exploded
from stowright.drawings.picture import forget_shapes
from stowright.drawings.step_figures import step_scenes

EXAMPLES = Path(__file__).parents[1] / "examples"
JOB, VAN = EXAMPLES / "pickup" / "job.toml", EXAMPLES / "van" / "job.toml"


def timed(work):
    """Return what came out, wall seconds and this process's own seconds."""
    wall, own = time.perf_counter(), time.process_time()
    made = work()
    return made, time.perf_counter() - wall, time.process_time() - own


def told(name, work, aim=""):
    made, wall, own = timed(work)
    print(f"{name:34}{wall:7.2f} s  ({own:5.2f} s of this process){aim}")
    return made


def memory_mb():
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


def main():
    made = plan(load_job(JOB))
    print(f"memory after the plan             {memory_mb():7.0f} MB")
    files = told("drawings as SVG and DXF", lambda: drawings(made), ", aim under 3")
    print(f"  {len(files)} files, {sum(map(len, files.values())) / 1e6:.1f} MB")
    book = told("book", lambda: make_book(made), ", aim under 6")
    print(f"  {len(book) / 1e6:.2f} MB")
    print(f"memory for the drawings and the book {memory_mb():4.0f} MB, aim under 500")
    told("labels", lambda: make_labels(made))
    told("survey form", lambda: make_survey(made.job.bay.kind))
    told("rods at full size", lambda: make_full_size(made))
    told("step cards", lambda: make_cards(made))
    count = sum(bool(step.figure) for step in made.making.steps)
    _, wall, own = timed(lambda: step_scenes(made.design, made.making.steps))
    told_ms("a step's figure", wall / count, own / count)
    isometrics()
    print(f"memory at the end, with the van   {memory_mb():7.0f} MB")
    print(f"load of the machine               {getloadavg()[0]:7.1f}")


def told_ms(name, wall, own):
    print(f"{name:34}{1000 * wall:7.0f} ms ({1000 * own:4.0f} of this process), aim under 250")


def isometrics():
    """The van's 79 pieces with their holes: put together in its bay, and a block moved apart."""
    shelf = load_catalogue()
    design = design_job(load_job(VAN, catalogue=shelf), catalogue=shelf)
    for name, draw in (
        ("put together", lambda: assembled(design, bay=True, open_by=0.35)),
        ("moved apart, no marks", lambda: exploded(design, balloons=False)),
    ):
        forget_shapes()
        _, wall, own = timed(draw)
        told_ms(f"{len(design.placed)} pieces {name}", wall, own)


def drawings(made):
    return drawing_files(made, paper="a4", ink="colour")


if __name__ == "__main__":
    main()
