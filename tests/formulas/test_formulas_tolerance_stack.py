"""Tolerance stacks: closed forms, an outside integration, and the Monte Carlo that has to agree."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from stowright.errors import OutOfRangeError
from stowright.formulas import tolerance_stack as stack
from stowright.formulas.tolerance_stack import Term

SIDES = Term(name="sides", half_width_mm=0.25, sensitivity=-2.0)
CUT = Term(name="cut", half_width_mm=0.75)
READING = Term(name="reading", half_width_mm=1.0, shape="normal")
SQUARE = Term(name="square", half_width_mm=0.6, sensitivity=0.5, shape="triangular")
ALL = (SIDES, CUT, READING, SQUARE)


def test_standard_deviation_by_hand():
    # 0.5^2/3 + 0.75^2/3 + 1/4 + 0.3^2/6 = 0.0833333 + 0.1875 + 0.25 + 0.015
    assert stack.standard_deviation_mm(terms=ALL) == pytest.approx(
        math.sqrt(0.5358333333), rel=1e-9
    )
    assert stack.worst_case_mm(terms=ALL) == pytest.approx(2.55, rel=1e-12)


def test_ranking_by_hand():
    ranked = stack.ranked_shares(terms=ALL)
    assert [share.name for share in ranked] == ["reading", "cut", "sides", "square"]
    assert ranked[0].share == pytest.approx(0.25 / 0.5358333333, rel=1e-9)
    assert ranked[0].standard_mm == pytest.approx(0.5, rel=1e-12)
    assert sum(share.share for share in ranked) == pytest.approx(1.0, rel=1e-12)
    nothing = stack.ranked_shares(terms=(Term(name="none", half_width_mm=0.0),))
    assert nothing[0].share == 0.0
    alike = tuple(Term(name=name, half_width_mm=0.3) for name in "cab")
    assert [share.name for share in stack.ranked_shares(terms=alike)] == ["c", "a", "b"]


def test_one_even_term_is_a_straight_line():
    chance = {"nominal_mm": 10.0, "terms": (CUT,)}
    # 10 +- 0.75: the window 9.7 to 10.5 holds 0.8 of 1.5
    assert stack.window_probability(**chance, low_mm=9.7, high_mm=10.5) == pytest.approx(
        0.8 / 1.5, rel=1e-12
    )
    assert stack.window_probability(**chance, low_mm=0.0, high_mm=10.25) == pytest.approx(
        1.0 / 1.5, rel=1e-12
    )
    assert stack.window_probability(**chance, low_mm=9.0, high_mm=math.inf) == 1.0
    assert stack.window_probability(**chance, low_mm=11.0, high_mm=12.0) == 0.0


def test_two_even_terms_are_a_trapezium():
    # half-widths 1 and 0.5: density 1/2 up to 0.5, falling to 0 at 1.5: beyond 1 lies 0.5 * 0.25 /
    # 2
    terms = (Term(name="a", half_width_mm=1.0), Term(name="b", half_width_mm=0.5))
    got = stack.window_probability(nominal_mm=0.0, terms=terms, low_mm=1.0, high_mm=9.0)
    assert got == pytest.approx(0.0625, abs=1e-6)
    got = stack.window_probability(nominal_mm=0.0, terms=terms, low_mm=-0.5, high_mm=0.25)
    assert got == pytest.approx(0.375, abs=1e-6)


def test_a_triangle_is_two_even_halves():
    triangle = (Term(name="t", half_width_mm=1.0, shape="triangular"),)
    # beyond 0.6 of the half-width lies 0.4^2 / 2
    got = stack.window_probability(nominal_mm=0.0, terms=triangle, low_mm=0.6, high_mm=5.0)
    assert got == pytest.approx(0.08, abs=1e-6)


def test_one_normal_term_is_the_error_function():
    # half-width 1 is two standard deviations
    got = stack.window_probability(nominal_mm=0.2, terms=(READING,), low_mm=-0.8, high_mm=1.2)
    assert got == pytest.approx(math.erf(2.0 / math.sqrt(2.0)), abs=1e-9)
    same = stack.window_probability_if_normal(
        nominal_mm=0.2, terms=(READING,), low_mm=-0.8, high_mm=1.2
    )
    assert same == pytest.approx(got, abs=1e-9)


@pytest.mark.parametrize(("low", "high"), [(-0.6, 0.9), (-math.inf, 0.1), (0.4, 3.0), (2.3, 9.0)])
def test_all_shapes_against_an_outside_integration(low, high):
    # convolve numerically with scipy: two even, one normal, one triangular (0.3 after sensitivity)
    grid = np.linspace(-6.0, 6.0, 24_001)
    step = grid[1] - grid[0]
    density = stats.norm.pdf(grid, scale=0.5)
    for even in (0.5, 0.75, 0.15, 0.15):
        whole = integrate.cumulative_simpson(density, dx=step, initial=0.0)
        density = (np.interp(grid + even, grid, whole) - np.interp(grid - even, grid, whole)) / (
            2.0 * even
        )
    whole = integrate.cumulative_simpson(density, dx=step, initial=0.0)
    expected = np.interp(min(high, 6.0) - 0.2, grid, whole) - np.interp(
        max(low, -6.0) - 0.2, grid, whole
    )
    got = stack.window_probability(nominal_mm=0.2, terms=ALL, low_mm=low, high_mm=high)
    assert got == pytest.approx(expected, abs=2e-6)


@pytest.mark.parametrize("seed", [1, 2])
def test_monte_carlo_agrees_within_its_own_error(seed):
    window = {"nominal_mm": 0.2, "terms": ALL, "low_mm": -0.6, "high_mm": 0.9}
    exact = stack.window_probability(**window)
    seen = stack.monte_carlo(**window, seed=seed)
    # five standard errors: one chance in a million for a seed, and the seeds are fixed
    assert abs(seen.inside - exact) < 5.0 * seen.inside_error
    assert seen.inside_error == pytest.approx(math.sqrt(exact * (1 - exact) / 1e5), rel=0.01)
    spread = stack.standard_deviation_mm(terms=ALL)
    assert seen.standard_mm == pytest.approx(spread, rel=0.01)
    assert seen.mean_mm == pytest.approx(0.2, abs=5.0 * spread / math.sqrt(1e5))
    below = stack.window_probability(
        nominal_mm=0.2, terms=ALL, low_mm=-math.inf, high_mm=seen.low_mm
    )
    above = stack.window_probability(
        nominal_mm=0.2, terms=ALL, low_mm=seen.high_mm, high_mm=math.inf
    )
    assert (below, above) == pytest.approx((0.05, 0.05), abs=0.004)


def test_two_builds_by_hand():
    # two fits d apart: standard deviation d/sqrt(2); 5 of 100 lie 0.05 d from either end
    window = {"nominal_mm": 0.0, "terms": ALL, "high_mm": 9.0, "builds": 2}
    seen = stack.monte_carlo(**window, low_mm=-9.0)
    apart = seen.standard_mm * math.sqrt(2.0)
    assert seen.low_mm == pytest.approx(seen.mean_mm - 0.45 * apart, rel=1e-9)
    assert seen.high_mm == pytest.approx(seen.mean_mm + 0.45 * apart, rel=1e-9)
    assert stack.monte_carlo(**window, low_mm=seen.mean_mm).inside == 0.5


@pytest.mark.parametrize("term", ALL, ids=[term.name for term in ALL])
def test_monte_carlo_of_each_shape(term):
    seen = stack.monte_carlo(nominal_mm=0.0, terms=(term,), low_mm=-9.0, high_mm=9.0)
    assert seen.standard_mm == pytest.approx(math.sqrt(term.variance_mm2), rel=0.01)
    if term.shape != "normal":
        narrow = stack.monte_carlo(
            nominal_mm=0.0, terms=(term,), low_mm=-term.reach_mm, high_mm=term.reach_mm
        )
        assert narrow.inside == 1.0


def test_the_same_seed_gives_the_same_builds():
    window = {"nominal_mm": 0.2, "terms": ALL, "low_mm": -0.6, "high_mm": 0.9, "builds": 500}
    assert stack.monte_carlo(**window) == stack.monte_carlo(**window)
    assert stack.monte_carlo(**window) != stack.monte_carlo(**window, seed=3)
    default = stack.monte_carlo(**(window | {"builds": 100_000}))
    short = {key: window[key] for key in ("nominal_mm", "terms", "low_mm", "high_mm")}
    assert stack.monte_carlo(**short) == default
    assert stack.monte_carlo(**short, seed=20_260_101) == default


@given(
    widths=st.lists(st.floats(0.05, 1.5), min_size=1, max_size=5),
    low=st.floats(-2.0, 0.5),
    width=st.floats(0.1, 3.0),
    shape=st.sampled_from(["even", "triangular", "normal"]),
)
@settings(max_examples=40, deadline=None)
def test_chances_are_chances_and_grow_with_the_window(widths, low, width, shape):
    terms = tuple(
        Term(name=str(number), half_width_mm=half, shape=shape)
        for number, half in enumerate(widths)
    )
    got = stack.window_probability(nominal_mm=0.0, terms=terms, low_mm=low, high_mm=low + width)
    more = stack.window_probability(
        nominal_mm=0.0, terms=terms, low_mm=low, high_mm=low + width + 0.2
    )
    assert 0.0 <= got <= 1.0
    assert more >= got - 1e-6
    mirrored = stack.window_probability(
        nominal_mm=0.0, terms=terms, low_mm=-low - width, high_mm=-low
    )
    assert mirrored == pytest.approx(got, abs=1e-6)


def test_no_variation_is_inside_or_outside():
    still = (Term(name="still", half_width_mm=0.0),)
    for function in (stack.window_probability, stack.window_probability_if_normal):
        assert function(nominal_mm=1.0, terms=still, low_mm=0.0, high_mm=1.0) == 1.0
        assert function(nominal_mm=1.0, terms=(), low_mm=1.0, high_mm=2.0) == 1.0
        assert function(nominal_mm=1.1, terms=still, low_mm=0.0, high_mm=1.0) == 0.0


def test_nonsense_is_refused():
    window = {"nominal_mm": 0.0, "low_mm": -1.0, "high_mm": 1.0}
    functions = (
        stack.window_probability,
        stack.window_probability_if_normal,
        stack.monte_carlo,
    )
    for function in functions:
        for bad in (
            {"terms": (Term(name="x", half_width_mm=-0.1),)},
            {"terms": (Term(name="x", half_width_mm=math.nan),)},
            {"terms": (Term(name="x", half_width_mm=0.1, sensitivity=math.inf),)},
            {"terms": (CUT,), "nominal_mm": math.nan},
            {"terms": (CUT,), "low_mm": 1.0},
            {"terms": (CUT,), "high_mm": math.nan},
        ):
            with pytest.raises(OutOfRangeError):
                function(**(window | bad))
    with pytest.raises(OutOfRangeError, match="builds"):
        stack.monte_carlo(**window, terms=(CUT,), builds=1)
    stack.monte_carlo(**window, terms=(CUT,), builds=2)
    for function in (stack.standard_deviation_mm, stack.worst_case_mm, stack.ranked_shares):
        with pytest.raises(OutOfRangeError):
            function(terms=(Term(name="x", half_width_mm=math.nan),))
