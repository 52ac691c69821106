"""How often boxes that are known to fit are packed again, and how long 60 things take.

    python benchmarks/bench_packing.py [--cases 40] [--from 0] [--fills 0.6,0.7,0.8,0.9]
                                       [--ways cut,pinwheel] [--out any,top] [--upright] [--masses]
                                       [--pieces 10-60]

A box is cut into 10 to 60 pieces, edge to edge or with pinwheels that no straight cut parts; then
pieces are taken out until 60, 70, 80 or 90 % of it is filled: a packing of the rest is known.
With ``any`` a piece is taken out by chance, so that in the known packing some pieces may hang in
the air; with ``top`` only what nothing stands on, and cases in which more than the asked fill and
3 % stays are passed over. Each piece has 1 kg and may lie on any side, or only turn about its
height with ``--upright``. With ``--masses`` no two weigh the same: 0.2 to 12 kg, whatever stands on
another in the known packing less than that (only with ``top``, where the known packing stands).
The rules of a drawer hold: nothing heavier on something lighter, each piece on the floor or on tops
with its four corners and half of its base held, at worst three fifths of the base; how often that
was needed is printed. Limits: all placed in 95 % of the cases up to 80 %; 60 things into four
drawers within 5 s. Times are processor times, compiling aside.
"""

import argparse
import time
from dataclasses import dataclass

import numpy as np

from stowright.explore.packing_search import Bin, Item, pack, patience, pleasing

BOX = (500, 900, 350)
ROOM = Bin(across=500.0, depth=900.0, height=350.0, most_kg=1000.0)
LEAST, OVER = 30, 0.03
Piece = tuple[int, ...]


def main() -> None:
    """Print the rate of each fill and the time of the large case."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--cases", type=int, default=40)
    asked.add_argument("--from", type=int, default=0, dest="first")
    asked.add_argument("--fills", default="0.6,0.7,0.8,0.9")
    asked.add_argument("--ways", default="cut")
    asked.add_argument("--out", default="any")
    asked.add_argument("--upright", action="store_true")
    asked.add_argument("--masses", action="store_true")
    asked.add_argument("--pieces", default="10-60")
    said = asked.parse_args()
    least, _, most = said.pieces.partition("-")
    rules = Rules(upright=said.upright, masses=said.masses, pieces=(int(least), int(most or least)))
    pack(
        (ROOM,), case(0, 0.8, "cut", "top", Rules(masses=said.masses)), budget=1, longer=50
    )  # compiles
    for way in said.ways.split(","):
        for out in said.out.split(","):
            for fill in map(float, said.fills.split(",")):
                rate(said.first, said.cases, fill, way, out, rules)
    large()


@dataclass(frozen=True, slots=True, kw_only=True)
class Rules:
    """Pieces that the box is cut into, whether they stay upright, whether masses differ."""

    upright: bool = False
    masses: bool = False
    pieces: tuple[int, int] = (10, 60)

    def __str__(self) -> str:
        """Return them in words."""
        words = ", upright" if self.upright else ""
        words += ", masses differ" if self.masses else ""
        return words + f", cut into {self.pieces[0]} to {self.pieces[1]}"


def rate(first: int, cases: int, fill: float, way: str, out: str, rules: Rules) -> None:
    """Print how many of so many cases are placed whole."""
    placed, gaps, took, seed, done = 0, 0, [], first, 0
    while done < cases:
        items = case(seed, fill, way, out, rules)
        seed += 1
        if share_of(items) > fill + OVER:
            continue
        done += 1
        start = time.process_time()
        count = len(items)
        found = pack((ROOM,), items, budget=pleasing(count), longer=patience(count))
        took.append(time.process_time() - start)
        placed += not found.left_out
        gaps += not found.left_out and min(p.stands for p in found.placed) < 1.0
        if found.left_out:
            print(f"  seed {seed - 1}: {len(found.left_out)} of {len(items)} out", flush=True)
    print(
        f"{way}, out {out}{rules}, {100.0 * fill:.0f} % full: all placed "
        f"in {placed} of {cases} (over a gap in {gaps}); mean {np.mean(took):.2f} s, longest "
        f"{max(took):.2f} s",
        flush=True,
    )


def share_of(items: tuple[Item, ...]) -> float:
    """Return the share of the box that things fill."""
    return float(sum(np.prod(item.size) for item in items) / np.prod(BOX))


def case(seed: int, fill: float, way: str, out: str, rules: Rules) -> tuple[Item, ...]:
    """Return pieces of a box that together fill so much of it."""
    chance = np.random.default_rng([seed, round(100 * fill), len(way), len(out)])
    least, most = rules.pieces
    pieces = cut_up(chance, int(chance.integers(least, most + 1)), pinwheels=way == "pinwheel")
    total = float(np.prod(BOX))
    while True:
        volume = sum(p[3] * p[4] * p[5] for p in pieces)
        spare = [i for i, p in enumerate(pieces) if volume - p[3] * p[4] * p[5] >= fill * total]
        if out == "top":
            spare = [i for i in spare if not any(stands_on(q, pieces[i]) for q in pieces)]
        if not spare:
            masses = masses_of(chance, pieces) if rules.masses else [1.0] * len(pieces)
            return tuple(
                Item(size=tuple(map(float, p[3:])), mass_kg=mass, upright=rules.upright)
                for p, mass in zip(pieces, masses, strict=True)
            )
        del pieces[int(chance.choice(spare))]


def masses_of(chance: np.random.Generator, pieces: list[Piece]) -> list[float]:
    """Return masses that all differ, of any order in which the known packing can be put up."""
    waiting, masses = set(range(len(pieces))), [0.0] * len(pieces)
    for mass in sorted(chance.uniform(0.2, 12.0, len(pieces)), reverse=True):
        ready = [
            i for i in sorted(waiting) if not any(stands_on(pieces[i], pieces[k]) for k in waiting)
        ]
        heaviest = int(chance.choice(ready))
        masses[heaviest] = float(mass)
        waiting.remove(heaviest)
    return masses


def stands_on(one: Piece, other: Piece) -> bool:
    """Tell whether a piece of the known packing stands on another."""
    return one[2] == other[2] + other[5] and all(
        min(one[k] + one[3 + k], other[k] + other[3 + k]) > max(one[k], other[k]) for k in (0, 1)
    )


def cut_up(chance: np.random.Generator, count: int, *, pinwheels: bool) -> list[Piece]:
    """Return pieces of the box, corner and extent, none thinner than 30."""
    found: list[Piece] = [(0, 0, 0, *BOX)]
    while len(found) < count:
        found.sort(key=lambda p: -p[3] * p[4] * p[5])
        piece = found.pop(int(chance.integers(0, len(found) // 2 + 1)))
        axes = [k for k in range(3) if piece[3 + k] >= 2 * LEAST]
        wide = [k for k in range(3) if piece[3 + k] >= 3 * LEAST]
        if pinwheels and len(wide) > 1 and len(found) + 5 <= count and chance.random() < 0.6:
            found += pinwheel(chance, piece, *map(int, chance.choice(wide, 2, replace=False)))
        elif axes:
            axis = int(chance.choice(axes))
            at = int(chance.integers(LEAST, piece[3 + axis] - LEAST + 1))
            found += [
                part(piece, (axis, 0, at)),
                part(piece, (axis, at, piece[3 + axis] - at)),
            ]
        else:
            return [*found, piece]
    return found


def part(piece: Piece, *cuts: tuple[int, int, int]) -> Piece:
    """Return a part of a piece: (axis, from, extent) for each axis that is cut."""
    made = list(piece)
    for axis, start, extent in cuts:
        made[axis] += start
        made[3 + axis] = extent
    return tuple(made)


def pinwheel(chance: np.random.Generator, piece: Piece, u: int, v: int) -> list[Piece]:
    """Return five parts of a piece round one another, seen along the third axis."""
    (u1, u2), (v1, v2) = (
        (low, int(chance.integers(low + LEAST, piece[3 + k] - LEAST + 1)))
        for k in (u, v)
        for low in (int(chance.integers(LEAST, piece[3 + k] - 2 * LEAST + 1)),)
    )
    wide, deep = piece[3 + u], piece[3 + v]
    return [
        part(piece, (u, 0, u2), (v, 0, v1)),
        part(piece, (u, u2, wide - u2), (v, 0, v2)),
        part(piece, (u, u1, wide - u1), (v, v2, deep - v2)),
        part(piece, (u, 0, u1), (v, v1, deep - v1)),
        part(piece, (u, u1, u2 - u1), (v, v1, v2 - v1)),
    ]


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
    told: list[tuple[str, float]] = []
    start = time.process_time()
    found = pack(
        rooms,
        items,
        budget=pleasing(60),
        longer=patience(60),
        progress=lambda *row: told.append(row),
    )
    print(
        f"60 things, {100.0 * total / room:.0f} % of four drawers: {len(found.placed)} placed, "
        f"{time.process_time() - start:.2f} s, {found.tried} packings, progress told "
        f"{len(told)} times, least of a base held {min(p.stands for p in found.placed):.2f}"
    )


if __name__ == "__main__":
    main()
