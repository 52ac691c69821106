"""What the proofs of the pickup example cost, family by family, after a warm-up.

Limits: all proofs under 40 ms, with the Monte Carlo of the fits under 120 ms, the quick look under
1.5 ms. Times are of this process alone (CPU), so that other work on the machine does not count.
"""

import statistics
import sys
import time
from pathlib import Path

from stowright import load_catalogue, load_job
from stowright.app.planning import design_job
from stowright.proofs import prove
from stowright.proofs.bottoms import bottom_findings
from stowright.proofs.braking import braking_findings
from stowright.proofs.carcass import carcass_findings
from stowright.proofs.decks import deck_findings
from stowright.proofs.index import index_of
from stowright.proofs.joints import joint_findings
from stowright.proofs.quick import feasible
from stowright.proofs.runners import runner_findings
from stowright.proofs.shelves import shelf_findings
from stowright.proofs.shut import shut_findings
from stowright.proofs.staying import staying_findings
from stowright.proofs.structure import structure_findings
from stowright.proofs.uprights import upright_findings
from stowright.proofs.use import use_findings

JOB = Path(__file__).parents[1] / "examples" / "pickup" / "job.toml"
ROUNDS = 15
ALL_MS, BUILDS_MS, QUICK_MS = 40.0, 120.0, 1.5


def median_ms(work):
    """Return the median CPU time of a piece of work that has been done before."""
    work()
    times = []
    for _ in range(ROUNDS):
        start = time.process_time()
        work()
        times.append(1e3 * (time.process_time() - start))
    return statistics.median(times)


def main():
    shelf = load_catalogue()
    design = design_job(load_job(JOB.read_text(encoding="utf-8"), catalogue=shelf), catalogue=shelf)
    index = index_of(design, shelf)
    rows = {
        "4 runners": lambda: list(runner_findings(index)),
        "5 bottoms": lambda: list(bottom_findings(index)),
        "5 shelves, floors": lambda: list(shelf_findings(index)),
        "5 decks, wings": lambda: list(deck_findings(index)),
        "6 uprights": lambda: list(upright_findings(index)),
        "6 racking": lambda: list(carcass_findings(index)),
        "7 joints": lambda: list(joint_findings(index)),
        "10 latches": lambda: list(shut_findings(index)),
        "7, 10 braking": lambda: list(braking_findings(index)),
        "4 to 7, 10 together": lambda: list(structure_findings(design, shelf)),
        "8, 9, 11 staying": lambda: list(staying_findings(design, shelf)),
        "1 to 3, 12 to 15 use, no builds": lambda: list(use_findings(design, shelf, builds=0)),
    }
    for name, work in rows.items():
        print(f"{name:34s} {median_ms(work):8.2f} ms")
    over = False
    for name, work, limit in (
        ("all proofs, no builds", lambda: prove(design, shelf, builds=0), ALL_MS),
        ("all proofs with the builds", lambda: prove(design, shelf), BUILDS_MS),
        ("quick look", lambda: feasible(design, shelf), QUICK_MS),
    ):
        took = median_ms(work)
        over = over or took > limit
        print(f"{name:34s} {took:8.2f} ms, limit {limit:g}")
    return 1 if over else 0


if __name__ == "__main__":
    sys.exit(main())
