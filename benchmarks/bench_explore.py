"""How fast designs are made and judged, and how good what is kept is against random search.

    python benchmarks/bench_explore.py            speed, the first set, the settled set
    python benchmarks/bench_explore.py volume [NAMES]  hypervolume against ten times as many
                                                      at random, of all found and of those kept

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
from stowright.explore.exploring import KEEP, few
from stowright.explore.judging import Judge, judge_many
from stowright.explore.measures import criteria_known, stepped
from stowright.explore.pareto import non_dominated
from stowright.explore.volume import hypervolume
from stowright.explore.workers import crew
from stowright.proofs.quick import feasible

EXAMPLES = Path(__file__).parents[1] / "examples"
MANY, EVALUATIONS, TIMES, SEEDS = 400, 300, 10, 10


def main() -> None:
    """Print what was asked for."""
    if sys.argv[1:2] == ["volume"]:
        volumes(sys.argv[2:])
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


def volumes(names: list[str]) -> None:
    """Print the hypervolume of the search against random search with ten times as many.

    Both are judged by their bodies and compared by everything that is then known of both, between
    the best values that either found and one step above the worst of what no other beats. The few
    that are kept are held against all that random search found.
    """
    shelf = load_catalogue()
    for name in names or ["pickup", "van", "tray"]:
        job = load_job(EXAMPLES / name / "job.toml")
        judge = Judge(space=space_of(job, shelf), catalogue=shelf, cut=first_cut)
        at_least = [0, 0]
        for seed in range(SEEDS):
            ours, kept, chance = volumes_of(judge, seed)
            at_least[0] += ours >= chance
            at_least[1] += kept >= chance
            told = ", ".join(
                f"{word} {value:.4f} ({value / chance:.2f} of random's)" if chance else word
                for word, value in (("all found", ours), (f"{KEEP} kept", kept))
            )
            print(f"{name}, seed {seed}: {told}; random {chance:.4f}", flush=True)
        print(
            f"{name}: at least random's with {TIMES} x the evaluations: all found in "
            f"{at_least[0]} of {SEEDS}, those kept in {at_least[1]} of {SEEDS}"
        )


def volumes_of(judge: Judge, seed: int) -> tuple[float, float, float]:
    """Return three hypervolumes on one scale: all found, the few kept, all that chance found."""
    budget = Budget(quick=EVALUATIONS, whole=0, first_quick=40, round_quick=20)
    with crew(judge, workers=1) as hands:
        state, _ = search(judge, hands, seed=seed, budget=budget)
    dice = Dice(1000 + seed)
    tasks = [("quick", by_chance(judge.space, dice)) for _ in range(TIMES * EVALUATIONS)]
    thrown = [row for row in judge_many(judge, tasks) if row.serves]
    found = [row for row in state.best_quick if row.serves]
    kept = few(judge.space, found, KEEP)
    criteria = criteria_known(row.measures for row in (*thrown, *found))
    sets = [[stepped(row.measures, criteria) for row in rows] for rows in (found, kept, thrown)]
    both = [*sets[0], *sets[2]]
    if not both:
        return 0.0, 0.0, 0.0
    ends = [both[k] for k in non_dominated(both)]
    low = [min(column) for column in zip(*ends, strict=True)]
    high = [max(column) + 1 for column in zip(*ends, strict=True)]
    one, two, three = (
        hypervolume(
            [tuple((v - a) / (b - a) for v, a, b in zip(r, low, high, strict=True)) for r in rows],
            tuple(1.0 for _ in low),
        )
        for rows in sets
    )
    return one, two, three


if __name__ == "__main__":
    main()
