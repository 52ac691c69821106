"""Public bin packing instances: the best known number of sheets, and no proof above it.

Instances: Berkey and Wang 1987 (classes 1 to 6), Martello and Vigo 1998 (classes 7 to 10). Best
known values for edge-to-edge cuts: row by row from the data files of fontanf/packingsolver and
from Gardeyn and Wauters, European Journal of Operational Research (2022), doi
10.1016/j.ejor.2021.11.031; where each comes from stands in benchmarks/data.
"""

from pathlib import Path

import pytest

from stowright.cutting import lay_out
from stowright.cutting.bounds import lower_bounds, stock_sizes
from stowright.cutting.effort import Effort
from stowright.cutting.intake import by_material
from stowright.model.layout import CutPart, SawSettings, StockSheet

FILE = Path(__file__).parents[2] / "benchmarks" / "data" / "berkey_wang_martello_vigo.txt"
ROWS = {
    line.split("|")[0]: line.split("|")[1:]
    for line in FILE.read_text(encoding="utf-8").splitlines()
    if not line.startswith("#")
}
SAW = SawSettings(kerf=0, trim=0)
# one of each class, small enough for a test; packingsolver alone misses some in its time here
SOLVED = ["c01_n040_03", "c02_n060_05", "c03_n040_02", "c04_n020_01", "c05_n040_01"]
SOLVED += ["c06_n020_01", "c07_n040_01", "c08_n040_01", "c09_n060_01", "c10_n040_01"]


def as_parts(name, *, turn):
    sheet, best, numbers = ROWS[name]
    sides = list(map(int, numbers.split()))
    parts = tuple(
        CutPart(mark=str(n), length=a, width=b, material="any", grain=not turn)
        for n, (a, b) in enumerate(zip(sides[::2], sides[1::2], strict=True))
    )
    length, width = map(int, sheet.split())
    stock = (StockSheet(id="S", material="any", length=length, width=width),)
    return parts, stock, int(best.split()[turn])


@pytest.mark.parametrize("turn", [False, True], ids=["oriented", "turned"])
@pytest.mark.parametrize("name", SOLVED)
def test_the_best_known_number_of_sheets_is_reached(name, turn):
    parts, stock, best = as_parts(name, turn=turn)
    effort = Effort(place=20_000_000, finish=0, prove=100_000_000)
    plan = lay_out(parts, stock, SAW, effort=effort)
    assert plan.lower_bound <= best
    assert plan.sheets == best


@pytest.mark.parametrize("turn", [False, True], ids=["oriented", "turned"])
def test_no_bound_is_above_the_best_known_of_any_instance(turn):
    for name in list(ROWS)[::7]:
        parts, stock, best = as_parts(name, turn=turn)
        problem = by_material(parts, stock, SAW)[0].problem
        assert lower_bounds(problem.kinds, stock_sizes(problem), problem.rules).sheets <= best, name
