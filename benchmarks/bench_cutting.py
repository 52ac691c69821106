"""Sheet layouts beside packingsolver alone and rectpack: sheets, proofs, lines, offcuts, batches.

    bench_cutting.py [--only sets|workshop|first|batch|priced] [--every N [--after K]] [--ours]
                     [--effort quick|normal|long] [--sixty]

The whole run takes about an hour on two free cores; ``--every 10`` a tenth of the sets,
and with ``--after 0`` to ``--after 9`` all of them in ten pieces whose sums add up. Each table
says the load before and after it, and a batch its computing time beside the seconds that passed.
On the public sets ``quick`` stands for a budget of steps that takes about two seconds on two free
cores where a job is left open; with ``--sixty`` what that leaves open is run again with the effort
``long``, up to a minute. Nobody's layout is believed: ours pass both checkers in ``lay_out``,
packingsolver's is asked whether it is whole, rectpack's guillotine methods run with
``merge=False``, which keeps what they give cuttable.
"""

import argparse
import itertools
import os
import time
from dataclasses import replace
from functools import partial
from importlib import import_module
from pathlib import Path

import numpy as np
from cutting_batches import batches, priced_lists

from stowright.cutting import lay_out
from stowright.cutting.effort import EFFORTS, Effort
from stowright.model.layout import CutPart, SawSettings, StockSheet

DATA = Path(__file__).parent / "data"
BARE = SawSettings(kerf=0, trim=0, keep_length=1, keep_width=1)
UNPRICED = 4.0  # s, what packingsolver gets for each of its modes on a workshop job
TWO_SECONDS = Effort(place=80_000_000, finish=0, prove=400_000_000, pool=True)  # on two cores
LONGEST = 16.0  # s, no more is waited for a whole answer


def lines_of(name):
    text = (DATA / name).read_text(encoding="utf-8")
    return [line.split("|") for line in text.splitlines() if not line.startswith("#")]


def public_sets():
    """Yield name, sheet, best known (oriented, turned) and parts."""
    for name, sheet, best, parts in lines_of("berkey_wang_martello_vigo.txt"):
        numbers = list(map(int, parts.split()))
        sides = list(zip(numbers[::2], numbers[1::2], strict=True))
        yield name, tuple(map(int, sheet.split())), tuple(map(int, best.split())), sides


def workshop():
    """Yield name, parts, stock and saw."""
    for name, sheet, rows in lines_of("workshop.txt"):
        length, width, kerf, trim = map(int, sheet.split())
        cells = rows.split()
        parts = [
            CutPart(
                mark=str(at // 4 + 1),
                length=int(cells[at]),
                width=int(cells[at + 1]),
                quantity=int(cells[at + 2]),
                grain=cells[at + 3] == "yes",
                material="ply",
            )
            for at in range(0, len(cells), 4)
        ]
        stock = (StockSheet(id="S", material="ply", length=length, width=width),)
        yield name, parts, stock, SawSettings(kerf=kerf, trim=trim)


def timed(work):
    start = time.perf_counter()
    made = work()
    return made, time.perf_counter() - start


# packingsolver alone -------------------------------------------------------------------------


def solver_builder(objective, sheet, kerf, parts):
    solver = import_module("packingsolver.rectangleguillotine")
    builder = solver.InstanceBuilder()
    builder.set_objective(getattr(solver.Objective, objective))
    builder.set_number_of_stages(3)
    builder.set_cut_type(solver.CutType.NonExact)
    builder.set_first_stage_orientation(solver.CutOrientation.Any)
    builder.set_cut_thickness(kerf)
    if objective == "BinPackingCuttingCost":
        for stage in range(1, 5):
            builder.set_fixed_cutting_cost(stage, 1)
    builder.add_bin_type(*sheet, copies=sum(part[2] for part in parts))
    for length, width, copies, oriented in parts:
        builder.add_item_type(length, width, copies=copies, oriented=oriented)
    return builder


def solve_alone(instance, seconds):
    solver = import_module("packingsolver.rectangleguillotine")
    settings = solver.OptimizeParameters()
    settings.verbosity_level = 0
    settings.optimization_mode = solver.OptimizationMode.Anytime
    settings.time_limit = seconds
    return solver.optimize(instance, settings)


def whole_answer(builder, wanted, seconds):
    """Return packingsolver's answer; its limit is doubled until the answer is whole.

    The parts are counted: an answer without any sheet has been seen that called itself full.
    """
    instance = builder.build()
    output = solve_alone(instance, seconds)
    while output.solution.number_of_items() < wanted and seconds < LONGEST:
        seconds *= 2
        output = solve_alone(instance, seconds)
    return instance, output


def solver_lines(solution):
    """Count separating and trimming lines inside the trimmed sheets: each node but the last.

    A row of kids that fills its place takes one line fewer than it has kids, waste counted as
    a kid: the same counting as ours. Where the rest of a row is no more than a cut wide there is
    no waste among its kids, but it has to be sawn off all the same.
    """
    total, offcut = 0, 0
    for index in range(solution.number_of_different_bins()):
        used = solution.bin(index)
        for node in used.nodes:
            if node.children:
                last = used.nodes[node.children[-1]]
                short = last.r < node.r or last.t < node.t
                total += used.copies * (len(node.children) - 1 + short)
            elif node.item_type_id < 0:
                offcut = max(offcut, (node.r - node.l) * (node.t - node.b))
    return total, offcut / 1e6


# rectpack ------------------------------------------------------------------------------------


def rectpack_bins(sheet, parts, *, turn):
    """Return the fewest sheets of rectpack's guillotine methods, cuttable ones only."""
    rectpack = import_module("rectpack")
    names = [
        f"Guillotine{fit}{split}"
        for fit, split in itertools.product(("Bssf", "Blsf", "Baf"), ("Sas", "Las", "Slas"))
    ]
    guillotine = import_module("rectpack.guillotine")
    best = len(parts)
    for name, sorting in itertools.product(names, ("SORT_AREA", "SORT_LSIDE", "SORT_SSIDE")):
        packer = rectpack.newPacker(
            mode=rectpack.PackingMode.Offline,
            bin_algo=rectpack.PackingBin.BFF,
            pack_algo=partial(getattr(guillotine, name), merge=False),
            sort_algo=getattr(rectpack, sorting),
            rotation=turn,
        )
        for side in parts:
            packer.add_rect(*side)
        packer.add_bin(*sheet, count=len(parts))
        packer.pack()
        best = min(best, len(packer))
    return best


# tables --------------------------------------------------------------------------------------


def bench_sets(every, after, effort, *, ours_only, sixty):
    for turn, limit in ((True, 2.0), (False, 1.0)):
        rows = list(public_sets())[after::every]
        total = dict.fromkeys(("ours", "solver", "rectpack", "record", "bound", "proved"), 0)
        spent = dict.fromkeys(("ours", "solver", "rectpack"), 0.0)
        longest = 0.0
        for _, sheet, best, sides in rows:
            plan, seconds = timed(partial(ours, sheet, sides, effort, turn=turn))
            if sixty and not plan.proved_least:
                longer, more = timed(partial(ours, sheet, sides, "long", turn=turn))
                plan, seconds = min(plan, longer, key=better), seconds + more
            total["ours"] += plan.sheets
            total["bound"] += plan.lower_bound
            total["proved"] += plan.proved_least
            total["record"] += best[turn]
            spent["ours"] += seconds
            longest = max(longest, seconds)
            if ours_only:
                continue
            parts = [(a, b, 1, not turn) for a, b in sides]
            builder = solver_builder("BinPacking", sheet, 0, parts)
            found, seconds = timed(partial(whole_answer, builder, len(sides), limit))
            total["solver"] += found[1].solution.number_of_bins()
            spent["solver"] += seconds
            bins, seconds = timed(partial(rectpack_bins, sheet, sides, turn=turn))
            total["rectpack"] += bins
            spent["rectpack"] += seconds
        print(f"\nBerkey-Wang and Martello-Vigo, {'turned' if turn else 'oriented'}: {len(rows)}")
        print(f"  best known                 {total['record']:6d} sheets")
        said = f"{effort}, then long" if sixty else effort
        print(
            f"  ours, {said:<18}   {total['ours']:6d} sheets, bound {total['bound']}, "
            f"proved {total['proved']}, mean {spent['ours'] / len(rows):.2f} s, "
            f"longest {longest:.2f} s"
        )
        if not ours_only:
            for name, said in (("solver", f"packingsolver {limit:g} s"), ("rectpack", "rectpack")):
                mean = spent[name] / len(rows)
                print(f"  {said:<26} {total[name]:6d} sheets, mean {mean:.2f} s")


def better(plan):
    """Put fewer sheets first, then the higher bound."""
    return plan.sheets, -plan.lower_bound


def ours(sheet, sides, effort, *, turn):
    parts = [
        CutPart(mark=str(n), length=a, width=b, material="any", grain=not turn)
        for n, (a, b) in enumerate(sides)
    ]
    stock = (StockSheet(id="S", material="any", length=sheet[0], width=sheet[1]),)
    budget = TWO_SECONDS if effort == "quick" else replace(EFFORTS[effort], finish=0)
    return lay_out(parts, stock, BARE, effort=budget)


def bench_workshop(effort):
    print(f"\nWorkshop jobs: sheets/lines/largest offcut m2; packingsolver {UNPRICED:g} s a mode")
    modes = ("BinPacking", "BinPackingWithLeftovers", "BinPackingCuttingCost")
    print(f"  {'job':<8}{'bound':>6}{'ours':>16}{'settings':>10}{'s':>7}", *modes)
    sums = [0, 0]
    for name, parts, stock, saw in workshop():
        plan, seconds = timed(partial(lay_out, parts, stock, saw, effort=effort))
        offcut = max((o.along * o.across for la in plan.layouts for o in la.offcuts), default=0)
        own = f"{plan.sheets}/{plan.saw_lines}/{offcut / 1e6:.2f}"
        sheet = tuple(int(side - 2 * saw.trim) for side in (stock[0].length, stock[0].width))
        rows = [(p.length, p.width, p.quantity, p.grain) for p in parts]
        cells = []
        for mode in modes:
            builder = solver_builder(mode, sheet, int(saw.kerf), rows)
            wanted = sum(row[2] for row in rows)
            kept = whole_answer(builder, wanted, UNPRICED)  # the instance must stay alive too
            solution = kept[1].solution
            lines, rest = solver_lines(solution)
            bins = solution.number_of_bins() if solution.number_of_items() == wanted else 0
            cells.append(f"{bins}/{lines}/{rest:.2f}" if bins else "none")
            if mode == "BinPacking":
                sums[0] += plan.saw_lines
                sums[1] += lines
        mark = "=" if plan.proved_least else ""
        print(
            f"  {name:<8}{plan.lower_bound:>5}{mark:<1}{own:>16}{plan.settings:>10}{seconds:>7.2f}",
            *(f"{cell:>14}" for cell in cells),
            flush=True,
        )
    print(f"  lines in all: {sums[0]} against {sums[1]}: {1 - sums[0] / sums[1]:.1%} fewer")


def bench_first():
    print("\nFirst complete answer, after the imports")
    for count, aim in ((40, 50), (100, 200)):
        chance = np.random.default_rng(count)
        parts = [
            CutPart(
                mark=str(n),
                length=int(chance.integers(100, 901)),
                width=int(chance.integers(60, 601)),
                grain=n % 2 == 0,
                material="ply",
            )
            for n in range(count)
        ]
        stock = (StockSheet(id="S", material="ply", length=2440, width=1220),)
        seen = []
        for _ in range(5):
            start = time.perf_counter()
            told = []
            lay_out(
                parts,
                stock,
                effort="first",
                progress=lambda _, told=told, start=start: told.append(time.perf_counter() - start),
            )
            seen.append(told[0])
        print(f"  {count} parts: {sorted(seen)[2] * 1e3:.0f} ms, aim {aim} ms")


def bench_batch(effort):
    print("\nBatches: parts of many jobs on sheets of 2440 x 1220, kerf 3, trim 10")
    stock = (StockSheet(id="S", material="ply", length=2440, width=1220),)
    for name, parts in batches().items():
        count, jobs = sum(part.quantity for part in parts), len({part.job for part in parts})
        computing = time.process_time()
        plan, seconds = timed(partial(lay_out, parts, stock, effort=effort))
        computing = time.process_time() - computing
        print(
            f"  {name:<16}{count:5d} parts of {jobs:3d} jobs: {plan.sheets} sheets, bound "
            f"{plan.lower_bound} ({plan.sheets / plan.lower_bound - 1:.2%} above), "
            f"{plan.saw_lines} lines, {seconds:.1f} s, {computing:.1f} s of computing",
            flush=True,
        )


def bench_priced(effort):
    print("\nLarge lists on several priced sizes, some limited, and offcuts at the shop's value")
    for name, parts, stock in priced_lists():
        count = sum(part.quantity for part in parts)
        computing = time.process_time()
        plan, seconds = timed(partial(lay_out, parts, stock, effort=effort))
        computing = time.process_time() - computing
        (result,) = plan.materials
        print(
            f"  {name:<16}{count:5d} parts, {len(stock)} sizes: {plan.sheets} sheets, cost "
            f"{result.cost:.1f}, bound {result.cost_bound:.1f} "
            f"({result.cost / result.cost_bound - 1:.2%} above), {seconds:.1f} s, "
            f"{computing:.1f} s of computing",
            flush=True,
        )


def main():
    reader = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    reader.add_argument("--every", type=int, default=1, help="only each N-th public instance")
    reader.add_argument("--after", type=int, default=0, help="instances passed over before them")
    reader.add_argument("--ours", action="store_true", help="leave the other programs out")
    reader.add_argument("--only", choices=["sets", "workshop", "first", "batch", "priced"])
    reader.add_argument("--sixty", action="store_true", help="what is left open again, a minute")
    reader.add_argument("--effort", choices=["quick", "normal", "long"], default="quick")
    given = reader.parse_args()
    load = os.getloadavg()[0]
    print(f"cores: {os.cpu_count()}, load as it starts: {load:.2f}, effort: {given.effort}")
    import_module("stowright.cutting.planning").compile_ahead()
    tables = {
        "first": bench_first,
        "workshop": partial(bench_workshop, given.effort),
        "batch": partial(bench_batch, given.effort),
        "priced": partial(bench_priced, given.effort),
        "sets": partial(
            bench_sets,
            given.every,
            given.after,
            given.effort,
            ours_only=given.ours,
            sixty=given.sixty,
        ),
    }
    for name, table in tables.items():
        if given.only in {None, name}:
            table()
            print(f"  load after this table: {os.getloadavg()[0]:.2f}", flush=True)


if __name__ == "__main__":
    main()
