"""How often boxes that are known to fit are packed again, and how long 60 things take.

    python benchmarks/bench_packing.py [cases a fill, 40 unless told]

A box is cut edge to edge into 10 to 60 pieces, then pieces are taken out until 60, 70, 80 or 90 %
of it is filled: a packing of the rest is known, in which some may hang in the air. Each piece has
1 kg, may lie on any side and stands on others as far as it can. Limits: all placed in 95 % of the
cases up to 80 %; 60 things into four drawers within 5 s. Times are processor times.
"""

import sys
import time

import numpy as np

from stowright.explore.packing_search import Bin, Item, pack, patience
from stowright.explore.settle import LONGER

BOX = (500, 900, 350)
ROOM = Bin(across=500.0, depth=900.0, height=350.0, most_kg=1000.0)
LEAST = 30
FILLS = (0.6, 0.7, 0.8, 0.9)


def main() -> None:
    """Print the rate of each fill and the time of the large case."""
    cases = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    fills = [float(f) for f in sys.argv[2:]] or FILLS
    for fill in fills:
        placed, took = 0, []
        for seed in range(cases):
            items = case(seed, fill)
            start = time.process_time()
            found = pack((ROOM,), items, budget=patience(len(items)))
            took.append(time.process_time() - start)
            placed += not found.left_out
            if found.left_out:
                print(f"  seed {seed}: {len(items)} pieces, {len(found.left_out)} out", flush=True)
        print(
            f"{100.0 * fill:.0f} % full: all placed in {placed} of {cases}; "
            f"mean {np.mean(took):.2f} s, longest {max(took):.2f} s",
            flush=True,
        )
    large()


def case(seed: int, fill: float) -> tuple[Item, ...]:
    """Return pieces of a box that together fill so much of it."""
    chance = np.random.default_rng([seed, round(100 * fill)])
    pieces = cut_up(chance, int(chance.integers(10, 61)))
    total = float(np.prod(BOX))
    while True:
        volume = sum(a * b * c for a, b, c in pieces)
        spare = [i for i, p in enumerate(pieces) if volume - p[0] * p[1] * p[2] >= fill * total]
        if not spare:
            return tuple(Item(size=tuple(map(float, p)), mass_kg=1.0) for p in pieces)
        del pieces[int(chance.choice(spare))]


def cut_up(chance: np.random.Generator, count: int) -> list[tuple[int, int, int]]:
    """Return pieces of the box, none thinner than 30."""
    found = [BOX]
    while len(found) < count:
        found.sort(key=lambda p: -p[0] * p[1] * p[2])
        piece = found.pop(int(chance.integers(0, len(found) // 2 + 1)))
        axes = [k for k in range(3) if piece[k] >= 2 * LEAST]
        if not axes:
            found.append(piece)
            break
        axis = int(chance.choice(axes))
        at = int(chance.integers(LEAST, piece[axis] - LEAST + 1))
        one, two = list(piece), list(piece)
        one[axis], two[axis] = at, piece[axis] - at
        found += [tuple(one), tuple(two)]
    return found


def large() -> None:
    """Print how 60 things of a crew go into four drawers of a pickup."""
    chance = np.random.default_rng(60)
    rooms = tuple(Bin(across=440.0, depth=1150.0, height=200.0, most_kg=90.0) for _ in range(4))
    items = tuple(
        Item(
            size=tuple(float(v) for v in chance.integers((80, 60, 40), (420, 300, 180))),
            mass_kg=float(chance.uniform(0.3, 6.0)),
            upright=bool(chance.random() < 0.3),
            pulls=(0.0, float(chance.choice([0.35, 0.0, -0.15])), 0.2),
        )
        for _ in range(60)
    )
    total = sum(a * b * c for a, b, c in (item.size for item in items))
    room = sum(r.across * r.depth * r.height for r in rooms)
    start = time.process_time()
    found = pack(rooms, items, budget=patience(60) // LONGER)  # what a plan takes
    print(
        f"60 things, {100.0 * total / room:.0f} % of four drawers: {len(found.placed)} placed, "
        f"{time.process_time() - start:.2f} s, {found.tried} packings"
    )


if __name__ == "__main__":
    main()
