"""How few sheets, or how little cost, any layout needs: area and dual-feasible functions.

A dual-feasible function f on a side C keeps f(a) + f(b) + ... <= f(C) whenever a + b + ... <= C.
Two of them, f along and g across, turn each part into the value f(length) g(width); no sheet
can hold more than f(C) g(D) of it, however the parts are laid, edge to edge or not. Sizes are
grown by one kerf, as everywhere in the search. The functions used are the identity (the area),
the threshold f0 and the rounding f2 that the handbook's page on cutting names; sheets of several
sizes are measured with the same functions, and a small integer program picks the cheapest mix.
A side is lifted beforehand to what can no longer be used beside it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.cutting.grid import millimetres
from stowright.cutting.lifting import Sides, lifted, plain
from stowright.cutting.programs import cheapest_cover

if TYPE_CHECKING:
    from stowright.cutting.problem import Kind, Problem, Rules

__all__ = ["Bound", "StockSize", "lower_bounds", "rounded_down", "stock_sizes"]

type Values = np.ndarray[Any, np.dtype[np.int64]]

_MOST_STEPS = 40  # steps tried per function and side
_MOST_ROWS = 24
_MOST_FAMILIES = 12  # sets of sizes that parts are bound to
_MOST_HELD = 6  # inequalities for each
_MOST_DECIMALS = 6
_SLACK = 1e-6
_HELD = "what fits on some of the sizes only is counted on these as well"


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSize:
    """A stock size for the bound: grown sides, how many there are, what one costs."""

    w: int
    h: int
    copies: int | None
    cost: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """What no layout can go below.

    Attributes:
        sheets: Number of sheets.
        cost: Cost of the sheets used.
        because: Why, in words.
    """

    sheets: int
    cost: float
    because: str


@dataclass(frozen=True, slots=True)
class _Function:
    """A dual-feasible function on a side."""

    form: str
    step: int
    side: int

    def of(self, sizes: Values) -> Values:
        """Return the function's values, whole numbers."""
        if self.form == "threshold":
            kept = np.where(sizes > self.side - self.step, self.side, sizes)
            return np.where(sizes < self.step, 0, kept)
        if self.form == "rounding":
            steps = self.side // self.step
            large = 2 * (steps - (self.side - sizes) // self.step)
            small = np.where(2 * sizes == self.side, steps, 2 * (sizes // self.step))
            return np.where(2 * sizes > self.side, large, small)
        return sizes

    def words(self, side: str) -> str:
        """Say how it counts."""
        if self.form == "identity":
            return ""
        step = f"{millimetres(self.step):g} mm"
        return f"{side} counted by {self.form} at {step}"


@dataclass(frozen=True, slots=True)
class _Row:
    """One inequality: the sheets used must hold at least so much value."""

    value: int
    capacities: tuple[int, ...]
    words: str

    @property
    def ratio(self) -> float:
        """How many of the best sheets it asks for."""
        best = max(self.capacities)
        return self.value / best if best else 0.0


def stock_sizes(problem: Problem) -> tuple[StockSize, ...]:
    """Return a problem's bins as stock sizes."""
    kerf = problem.rules.kerf
    return tuple(
        StockSize(w=b.w + kerf, h=b.h + kerf, copies=b.copies, cost=b.cost) for b in problem.bins
    )


def lower_bounds(kinds: tuple[Kind, ...], stock: tuple[StockSize, ...], rules: Rules) -> Bound:
    """Return bounds on the number of sheets and on their cost.

    Args:
        kinds: The parts.
        stock: The stock sizes, grown by one kerf.
        rules: What the saw allows; only its kerf matters.
    """
    rows = _rows(kinds, stock, rules.kerf)
    best = rows[0]
    because = f"the parts come to {rounded_down(best.ratio)} sheets, {best.words}"
    if len(stock) == 1:
        sheets = -(-best.value // best.capacities[0])
        return Bound(sheets=sheets, cost=sheets * stock[0].cost, because=because)
    held = _rows_of_held(kinds, stock, rules.kerf)
    if held:
        rows, because = rows + held, f"{because}; {_HELD}"
    sheets = math.ceil(_cheapest_mix(rows, stock, [1.0] * len(stock)) - _SLACK)
    cost = _cheapest_mix(rows, stock, [s.cost for s in stock])
    return Bound(sheets=sheets, cost=cost, because=because)


def rounded_down(ratio: float) -> str:
    """Return a ratio rounded down, so that a whole number is never reached by rounding.

    It has two decimals, and up to six where fewer would hide that it is above a whole number.
    """
    decimals, whole = 2, math.floor(ratio)
    while whole < ratio < whole + 10**-decimals and decimals < _MOST_DECIMALS:
        decimals += 1
    return f"{math.floor(ratio * 10**decimals) / 10**decimals:.{decimals}f}"


def _cheapest_mix(rows: list[_Row], stock: tuple[StockSize, ...], costs: list[float]) -> float:
    """Return the least cost of sheets that hold what every row asks for; 0 when unknown."""
    largest = [max(row.capacities) for row in rows]
    columns = [
        [(at, row.capacities[index] / largest[at]) for at, row in enumerate(rows)]
        for index in range(len(stock))
    ]
    least = [row.value / top * (1 - 1e-9) for row, top in zip(rows, largest, strict=True)]
    most = [math.inf if s.copies is None else s.copies for s in stock]
    answer = cheapest_cover(costs=costs, most=most, columns=columns, least=least)
    return max(0.0, answer[0]) if answer else 0.0


def _rows(kinds: tuple[Kind, ...], stock: tuple[StockSize, ...], kerf: int) -> list[_Row]:
    """Return the strongest inequalities, strongest first."""
    w, h = max(s.w for s in stock), max(s.h for s in stock)
    sheets = tuple((s.w, s.h) for s in stock)
    sides = plain(kinds, kerf, sheets)
    rows = _rows_of(sides, w, h, stock, "")
    raised = lifted(sides, sheets)
    if raised is not None:
        rows += _rows_of(raised, w, h, stock, "sides lifted to what fits beside them")
    return sorted(rows, key=lambda row: -row.ratio)[:_MOST_ROWS]


def _rows_of_held(kinds: tuple[Kind, ...], stock: tuple[StockSize, ...], kerf: int) -> list[_Row]:
    """Return inequalities for the parts that some sizes cannot hold: the other sizes must.

    For some sizes, all parts that fit on no other one are laid on these, whatever else is.
    """
    fitting = [frozenset(i for i, s in enumerate(stock) if _holds(s, k, kerf)) for k in kinds]
    rows: list[_Row] = []
    for some in _families(set(fitting), len(stock)):
        own = tuple(k for k, sizes in zip(kinds, fitting, strict=True) if sizes <= some)
        chosen = sorted(some)
        for row in _rows(own, tuple(stock[i] for i in chosen), kerf)[:_MOST_HELD]:
            capacities = [0] * len(stock)
            for index, capacity in zip(chosen, row.capacities, strict=True):
                capacities[index] = capacity
            rows.append(_Row(row.value, tuple(capacities), row.words))
    return rows


def _holds(size: StockSize, kind: Kind, kerf: int) -> bool:
    """Tell whether a part fits on a size at all."""
    w, h = kind.length + kerf, kind.width + kerf
    return (w <= size.w and h <= size.h) or (kind.turnable and h <= size.w and w <= size.h)


def _families(fitting: set[frozenset[int]], sizes: int) -> list[frozenset[int]]:
    """Return the sets of sizes that some parts are bound to, their unions too, small ones first."""
    found = {some for some in fitting if some}
    for some in sorted(found, key=lambda each: (len(each), sorted(each))):
        found |= {some | other for other in found} if len(found) < _MOST_FAMILIES else set()
    order = sorted(found, key=lambda each: (len(each), sorted(each)))
    return [some for some in order if len(some) < sizes][:_MOST_FAMILIES]


def _rows_of(sides: Sides, w: int, h: int, stock: tuple[StockSize, ...], remark: str) -> list[_Row]:
    along = _functions(np.concatenate([sides.w, sides.turned_w]), w)
    up = _functions(np.concatenate([sides.h, sides.turned_h]), h)
    double = _is_symmetric(sides, stock)
    totals = _totals(sides, along, up, double=double)
    caps = [
        np.outer(_values(along, [s.w])[:, 0], _values(up, [s.h])[:, 0]) * (2 if double else 1)
        for s in stock
    ]
    best = np.maximum.reduce(caps)
    ratios = np.divide(totals, best, out=np.zeros(totals.shape), where=best > 0)
    rows = []
    for flat in np.argsort(-ratios, axis=None, kind="stable")[:_MOST_ROWS]:
        a, b = divmod(int(flat), len(up))
        said = [along[a].words("lengths"), up[b].words("widths"), remark]
        words = "; ".join(text for text in said if text) or "by their area"
        rows.append(_Row(int(totals[a, b]), tuple(int(c[a, b]) for c in caps), words))
    return rows


def _is_symmetric(sides: Sides, stock: tuple[StockSize, ...]) -> bool:
    """Tell whether a layout may be flipped over its diagonal: then both ways of lying count."""
    return all(s.w == s.h for s in stock) and bool(sides.turnable.all())


def _values(functions: list[_Function], sizes: Values | list[int]) -> Values:
    return np.array([f.of(np.array(sizes, dtype=np.int64)) for f in functions])


def _totals(sides: Sides, along: list[_Function], up: list[_Function], *, double: bool) -> Values:
    """Return the parts' value for every pair of functions."""
    straight_w, straight_h = _values(along, sides.w), _values(up, sides.h)
    turned_w, turned_h = _values(along, sides.turned_w), _values(up, sides.turned_h)
    if double or not sides.turnable.any():
        total: Values = (straight_w * sides.copies) @ straight_h.T
        return total + (turned_w * sides.copies) @ turned_h.T if double else total
    rows = [
        np.minimum(straight_w[a] * straight_h, turned_w[a] * turned_h) @ sides.copies
        for a in range(len(along))
    ]
    return np.array(rows)


def _functions(sizes: Values, side: int) -> list[_Function]:
    """Return the functions tried on one side of the sheet."""
    distinct = np.unique(sizes[sizes <= side])
    steps = np.unique(np.concatenate([distinct, side - distinct]))
    steps = steps[(steps > 0) & (2 * steps <= side)]
    if len(steps) > _MOST_STEPS:
        steps = steps[np.linspace(0, len(steps) - 1, _MOST_STEPS).round().astype(int)]
    rounding = [_Function("rounding", int(step), side) for step in steps]
    wholes = [_Function("rounding", side // (k + 1) + 1, side) for k in range(1, 6)]
    threshold = [_Function("threshold", int(step), side) for step in steps]
    kept = [f for f in rounding + wholes if f.side // f.step > 0]
    return [_Function("identity", 0, side), *threshold, *kept]
