"""How fast designs are made and judged, and how good what is kept is against random search.

    python benchmarks/bench_explore.py            speed, the first set, the settled set
    python benchmarks/bench_explore.py volume     hypervolume against ten times as many at random

Times are processor times of this process where it works alone, else of the clock.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from stowright.app.exploring import explore_job, first_cut
from stowright.app.loading import load_catalogue, load_job
from stowright.design.bodies import bodies
from stowright.errors import DesignError
from stowright.explore.arranged import arranged
from stowright.explore.arrangement import by_chance, space_of
from stowright.explore.design_search import Budget, search
from stowright.explore.dice import Dice
from stowright.explore.judging import Judge, judge_many
from stowright.explore.measures import criteria_known, stepped
from stowright.explore.pareto import hypervolume, non_dominated
from stowright.explore.workers import crew
from stowright.proofs.quick import feasible

EXAMPLES = Path(__file__).parents[1] / "examples"
MANY, EVALUATIONS, TIMES, SEEDS = 400, 300, 10, 10


def main() -> None:
    """Print what was asked for."""
    if sys.argv[1:] == ["volume"]:
        volumes()
        return
    for name in ("pickup", "van", "tray", "wagon"):
        speed(name)
    settled()


def speed(name: str) -> None:
    """Print designs made and judged quickly per second, and the share of each stage."""
    shelf, dice = load_catalogue(), Dice(0)
    job = load_job(EXAMPLES / name / "job.toml")
    space = space_of(job, shelf)
    one = one_design(job, shelf)
    made, spent = 0, {"arranged": 0.0, "bodies": 0.0, "feasible": 0.0}
    start = time.process_time()
    for choice in [by_chance(space, dice) for _ in range(MANY)]:
        tick = time.process_time()
        wish = arranged(space, choice)
        spent["arranged"] += time.process_time() - tick
        tick = time.process_time()
        try:
            design = bodies(wish, shelf)
        except DesignError:
            design = None
        spent["bodies"] += time.process_time() - tick
        if design is not None:
            made += 1
            tick = time.process_time()
            feasible(design, shelf)
            spent["feasible"] += time.process_time() - tick
    took = time.process_time() - start
    shares = ", ".join(f"{key} {100.0 * t / took:.0f} %" for key, t in spent.items())
    print(f"{name}: {MANY / took:.0f} tried/s, {made / took:.0f} made/s ({shares}); ", end="")
    print(f"the job itself {one:.0f} made and judged/s")


def one_design(job, shelf) -> float:
    """Return how often the job as it stands is made and judged in a second."""
    best = float("inf")
    for _ in range(20):
        tick = time.process_time()
        feasible(bodies(job, shelf), shelf)
        best = min(best, time.process_time() - tick)
    return 1.0 / best


def settled() -> None:
    """Print when a first useful set and the settled one of the pickup are there."""
    start = time.monotonic()
    first: list[float] = []

    def told(now) -> None:
        if not first and any(row.serves for row in now.best):
            first.append(time.monotonic() - start)

    found = explore_job(load_job(EXAMPLES / "pickup" / "job.toml"), progress=told)
    took = time.monotonic() - start
    print(
        f"pickup: first set {first[0]:.1f} s, settled {took:.1f} s; {found.quick} quick, "
        f"{found.whole} whole, {found.serving} serve, {len(found.front)} beaten by no other"
    )


def volumes() -> None:
    """Print the hypervolume of the search against random search with ten times as many."""
    shelf = load_catalogue()
    for name in ("pickup", "wagon"):
        job = load_job(EXAMPLES / name / "job.toml")
        judge = Judge(space=space_of(job, shelf), catalogue=shelf, cut=first_cut)
        at_least = 0
        for seed in range(SEEDS):
            ours, chance = pair(judge, seed)
            at_least += ours >= chance
            print(f"{name}, seed {seed}: search {ours:.4f}, random {chance:.4f}", flush=True)
        print(f"{name}: at least random's with {TIMES} x the evaluations in {at_least} of {SEEDS}")


def pair(judge: Judge, seed: int) -> tuple[float, float]:
    """Return both hypervolumes on one scale, from 0 to 1."""
    budget = Budget(quick=EVALUATIONS, whole=0, first_quick=40, round_quick=30)
    with crew(judge, workers=1) as hands:
        state, _ = search(judge, hands, seed=seed, budget=budget)
    dice = Dice(1000 + seed)
    tasks = [("quick", by_chance(judge.space, dice)) for _ in range(TIMES * EVALUATIONS)]
    rows = [front(state.quick.values()), front(judge_many(judge, tasks))]
    both = [*rows[0], *rows[1]]
    if not both:
        return 0.0, 0.0
    low = [min(column) for column in zip(*both, strict=True)]
    high = [max(column) + 1 for column in zip(*both, strict=True)]
    scaled = [
        [tuple((v - a) / (b - a) for v, a, b in zip(row, low, high, strict=True)) for row in each]
        for each in rows
    ]
    one = tuple(1.0 for _ in low)
    return hypervolume(scaled[0], one), hypervolume(scaled[1], one)


def front(rows) -> list[tuple[int, ...]]:
    """Return what serves and no other beats by room, mass, sheets and height."""
    serving = [row.measures for row in rows if row.serves]
    names = ("litres", "mass_kg", "sheets", "height_mm")
    criteria = [each for each in criteria_known(serving) if each.name in names]
    values = [stepped(row, criteria) for row in serving]
    return [values[k] for k in non_dominated(values)]


if __name__ == "__main__":
    main()
