"""How fast designs are made and judged, and how good what is kept is against random search.

    python benchmarks/bench_explore.py            speed, the first set, the settled set
    python benchmarks/bench_explore.py volume [--seeds 0-9] [NAMES or JOB FILES]
                                                  hypervolume against ten times as many at random,
                                                  of all found and of those kept

Times are processor times of this process where it works alone, else of the clock.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence
from pathlib import Path
from statistics import median

from stowright.app.exploring import explore_job, first_cut
from stowright.app.loading import load_catalogue, load_job
from stowright.design.bodies import bodies
from stowright.errors import DesignError
from stowright.explore.arranged import arranged
from stowright.explore.arrangement import by_chance, space_of
from stowright.explore.budget import KEEP, Budget
from stowright.explore.design_search import search
from stowright.explore.dice import Dice
from stowright.explore.exploring import few
from stowright.explore.judging import Judge, judge_many
from stowright.explore.measures import criteria_known, stepped
from stowright.explore.pareto import non_dominated
from stowright.explore.volume import hypervolume
from stowright.explore.workers import crew
from stowright.proofs.quick import feasible

EXAMPLES = Path(__file__).parents[1] / "examples"
NAMES = ("pickup", "van", "tray", "wagon")
MANY, EVALUATIONS, TIMES, SEEDS = 400, 300, 10, range(10)


def main() -> None:
    """Print what was asked for."""
    if sys.argv[1:2] == ["volume"]:
        names, seeds = sys.argv[2:], SEEDS
        if names[:1] == ["--seeds"]:
            first, _, last = names[1].partition("-")
            names, seeds = names[2:], range(int(first), int(last or first) + 1)
        volumes(names or NAMES, seeds)
        return
    for name in NAMES:
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


def volumes(names: Sequence[str], seeds: range) -> None:
    """Print the hypervolume of the search against random search with ten times as many.

    Both are judged by their bodies and compared by everything that is then known of both, between
    the best values that either found and one step above the worst of what no other of both beats:
    so neither side sets the scale. The few that are kept are held against all that random search
    found, not against the best few of it.
    """
    shelf = load_catalogue()
    sums = []
    for name in names:
        file = Path(name) if name.endswith(".toml") else EXAMPLES / name / "job.toml"
        judge = Judge(space=space_of(load_job(file), shelf), catalogue=shelf, cut=first_cut)
        found: list[tuple[float, float]] = []
        for seed in seeds:
            ours, kept, chance, few_kept = volumes_of(judge, seed)
            if not chance:
                print(f"{name}, seed {seed}: random found nothing, the search {ours:.4f}")
                found.append((float("inf") if ours else 1.0, float("inf") if kept else 1.0))
                continue
            found.append((ours / chance, kept / chance))
            print(
                f"{name}, seed {seed}: all found {ours:.4f} ({ours / chance:.2f} of random's), "
                f"{few_kept} kept {kept:.4f} ({kept / chance:.2f}); random {chance:.4f}",
                flush=True,
            )
        sums.append(f"{name}, seeds {seeds[0]} to {seeds[-1]}: {told(found)}")
        print(sums[-1], flush=True)
    print(f"\nHypervolume, {EVALUATIONS} judged, over that of {TIMES * EVALUATIONS} by chance:")
    print("\n".join(sums))


def told(found: list[tuple[float, float]]) -> str:
    """Return how often the search beat as much as chance, and its least, middle and most ratio."""
    return "; ".join(
        f"{word} at least random's in {sum(r >= 1.0 for r in ratios)} of {len(ratios)} "
        f"(least {min(ratios):.2f}, middle {median(ratios):.2f}, most {max(ratios):.2f})"
        for word, ratios in zip(
            ("all found", f"{KEEP} kept at most"), zip(*found, strict=True), strict=True
        )
    )


def volumes_of(judge: Judge, seed: int) -> tuple[float, float, float, int]:
    """Return hypervolumes on one scale, and how many were kept.

    They are those of all found, of the few kept, and of all that chance found.
    """
    budget = Budget(quick=EVALUATIONS, whole=0)
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
        return 0.0, 0.0, 0.0, 0
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
    return one, two, three, len(kept)


if __name__ == "__main__":
    main()
