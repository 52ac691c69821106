"""What the proofs of the pickup example cost, family by family, after a warm-up.

Limits: all proofs under 40 ms, with the Monte Carlo of the fits under 120 ms (every build drawn
anew, nothing remembered), the quick look under 1.5 ms on every example. Times are of this process
alone (CPU), so that other work on the machine hardly counts.
"""

import statistics
import sys
import time
from os import getloadavg
from pathlib import Path

from stowright import load_catalogue, load_job
from stowright.app.planning import design_job
from stowright.formulas import fit_window
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

EXAMPLES = Path(__file__).parents[1] / "examples"
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


def designed(name, shelf):
    text = (EXAMPLES / name / "job.toml").read_text(encoding="utf-8")
    return design_job(load_job(text, catalogue=shelf), catalogue=shelf)


def forget_fits():
    """Empty what the fits remember, so that every build is drawn and every chance found anew."""
    for each in vars(fit_window).values():
        if hasattr(each, "cache_clear"):
            each.cache_clear()


def anew(design, shelf):
    forget_fits()
    prove(design, shelf)


def main():
    shelf = load_catalogue()
    design = designed("pickup", shelf)
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
    limited = [
        ("all proofs, no builds", lambda: prove(design, shelf, builds=0), ALL_MS),
        ("all proofs, builds drawn anew", lambda: anew(design, shelf), BUILDS_MS),
    ]
    for folder in sorted(path.parent.name for path in EXAMPLES.glob("*/job.toml")):
        unit = designed(folder, shelf)
        limited.append((f"quick look, {folder}", lambda unit=unit: feasible(unit, shelf), QUICK_MS))
    for name, work, limit in limited:
        took = median_ms(work)
        over = over or took > limit
        print(f"{name:34s} {took:8.2f} ms, limit {limit:g}")
    print(f"load of the machine {getloadavg()[0]:.1f}")
    return 1 if over else 0


if __name__ == "__main__":
    sys.exit(main())
