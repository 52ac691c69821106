"""Beasley's gcut instances: the most area that one sheet gives, each part as often as wanted.

Instances: J. E. Beasley, "Algorithms for unconstrained two-dimensional guillotine cutting",
Journal of the Operational Research Society 36 (1985), OR-Library gcut1 to gcut12; edge-to-edge
cuts in any number of stages, no turning, value = area. The values stand in the handbook of this
project, found there by a dynamic program of its own.
"""

from pathlib import Path

import pytest

from stowright.cutting.exact import SingleSheet
from stowright.cutting.problem import Kind
from stowright.cutting.slots import count_kinds

ROWS = [
    line.split("|")
    for line in (Path(__file__).parents[1] / "cutting" / "data" / "gcut.txt")
    .read_text()
    .split("\n")
    if line and not line.startswith("#")
]


@pytest.mark.parametrize(("name", "sheet", "value", "parts"), ROWS, ids=[row[0] for row in ROWS])
def test_one_sheet_gives_the_known_most(name, sheet, value, parts):
    w, h = map(int, sheet.split())
    sides = list(map(int, parts.split()))
    kinds = [
        Kind(length=a, width=b, copies=1, turnable=False)
        for a, b in zip(sides[::2], sides[1::2], strict=True)
    ]
    areas = [kind.length * kind.width for kind in kinds]
    best, root = SingleSheet.of(kinds, w, h, 0, repeats=True).best(areas)
    assert best == int(value), name
    assert sum(areas[k] * count for k, count in count_kinds(root).items()) == best
    assert root.w <= w
    assert root.h <= h
