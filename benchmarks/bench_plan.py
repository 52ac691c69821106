"""Where the time goes from a job to its plan and files, on the pickup example."""

import cProfile
import pstats
import statistics
import time
from pathlib import Path

from stowright import OutputOptions, load_catalogue, load_job
from stowright.app.outputs import rendered
from stowright.app.planning import cut_design, design_job, plan, prove_design

JOB = Path(__file__).parents[1] / "examples" / "pickup" / "job.toml"
ROUNDS = 15


def timed(work):
    start = time.perf_counter()
    made = work()
    return made, time.perf_counter() - start


def main():
    shelf = load_catalogue()
    text = JOB.read_text(encoding="utf-8")
    design_job(load_job(text, catalogue=shelf), catalogue=shelf)  # imports are not timed

    def model():
        """Go from a job model to its design and findings; nothing is remembered between rounds."""
        design = design_job(load_job(text, catalogue=shelf), catalogue=shelf)
        return design, prove_design(design, catalogue=shelf)

    model()
    reading = [timed(lambda: load_job(text, catalogue=shelf))[1] for _ in range(ROUNDS)]
    whole = [timed(model)[1] for _ in range(ROUNDS)]
    read = statistics.median(reading)
    print(f"read the job            {read * 1e3:8.1f} ms, median of {ROUNDS}")
    print(
        f"design and proofs       {(statistics.median(whole) - read) * 1e3:8.1f} ms, aim under 30"
    )
    design, _ = model()
    print(f"sheet layouts           {timed(lambda: cut_design(design, catalogue=shelf))[1]:8.2f} s")
    made, seconds = timed(lambda: plan(design.job, catalogue=shelf))
    print(f"whole plan              {seconds:8.2f} s")
    files, seconds = timed(lambda: rendered(made, OutputOptions()))
    print(f"{len(files)} files with the book {seconds:8.2f} s, aim under 10 with the plan")
    profile = cProfile.Profile()
    profile.runcall(model)
    pstats.Stats(profile).sort_stats("tottime").print_stats(12)


if __name__ == "__main__":
    main()
