"""Two routes to the chance that a sliding fit runs, and what has to follow from either."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas.fit_window import (
    CELL,
    FitStack,
    centred_probability,
    runs_probability,
    sample_builds,
    shifted_probabilities,
)
from stowright.formulas.tolerance_stack import Term, window_probability


def term(half, sensitivity=1.0, shape="even"):
    return Term(name="t", half_width_mm=half, sensitivity=sensitivity, shape=shape)


terms = st.lists(
    st.builds(
        term,
        st.floats(0.05, 1.5),
        st.sampled_from((0.5, 1.0, -2.0)),
        st.sampled_from(("even", "triangular", "normal")),
    ),
    max_size=3,
).map(tuple)
stacks = st.builds(
    FitStack,
    face_mm=st.floats(-1.0, 1.0),
    back_mm=st.floats(-1.0, 1.0),
    low_mm=st.floats(-2.0, -0.5),
    high_mm=st.floats(0.5, 3.0),
    shared=terms,
    at_face=terms,
    at_back=terms,
    sideways=st.lists(st.builds(term, st.floats(0.05, 0.8)), max_size=2).map(tuple),
)


@settings(max_examples=25, deadline=None)
@given(stacks)
def test_exact_and_monte_carlo_agree_within_sampling_error(stack):
    # 100 000 builds: five standard errors; 0.003 more for edges where a term is a step of the grid
    sample = sample_builds(stack)
    exact = runs_probability(stack)
    error = math.sqrt(max(exact * (1.0 - exact), 1e-5) / 100_000)
    assert sample.inside == pytest.approx(exact, abs=5.0 * error + 3e-3)
    assert sample.inside <= min(sample.face, sample.back)


@settings(max_examples=25, deadline=None)
@given(terms, st.floats(-1.0, 1.0))
def test_without_run_out_one_end_is_the_window_of_a_plain_stack(several, mean):
    # the other route is a Fourier sum: with terms as wide as many cells of 0.005 mm within 0.004
    stack = FitStack(face_mm=0.0, back_mm=mean, low_mm=-0.7, high_mm=0.9, at_back=several)
    if not several:
        return
    plain = window_probability(nominal_mm=mean, terms=several, low_mm=-0.7, high_mm=0.9)
    assert centred_probability(stack) == pytest.approx(plain, abs=4e-3)


def test_two_even_terms_have_the_triangle_that_is_known():
    # two even terms of half-width 1 make a triangle over +-2: P(|x| < 1) = 3/4, to a grid cell
    stack = FitStack(
        face_mm=0.0, back_mm=0.0, low_mm=-1.0, high_mm=1.0, shared=(term(1.0), term(1.0))
    )
    assert runs_probability(stack) == pytest.approx(0.75, abs=1e-3)


def test_a_triangular_term_and_a_normal_one_by_themselves():
    triangle = FitStack(
        face_mm=0.0, back_mm=0.0, low_mm=-0.5, high_mm=9.0, shared=(term(1.0, shape="triangular"),)
    )
    assert runs_probability(triangle) == pytest.approx(7.0 / 8.0, abs=3e-3)
    normal = FitStack(
        face_mm=0.0, back_mm=0.0, low_mm=-9.0, high_mm=0.5, shared=(term(1.0, shape="normal"),)
    )
    # half a millimetre is one standard deviation of a term whose half-width is two
    assert runs_probability(normal) == pytest.approx(0.841345, abs=2e-3)


@pytest.mark.parametrize(
    ("shape", "at", "below"),
    [
        # triangle over +-1: (1 - |x|)²/2 beyond x; normal with half-width two deviations: tables
        ("triangular", -0.5, 0.125),
        ("triangular", 0.4, 0.82),
        ("normal", 0.5, 0.841345),
        ("normal", -1.0, 0.022750),
        ("even", 0.3, 0.65),
    ],
)
def test_the_law_of_each_shape(shape, at, below):
    # at one end alone the law itself is read, straight between cells: to 1e-4
    stack = FitStack(
        face_mm=0.0, back_mm=0.0, low_mm=-9.0, high_mm=at, at_face=(term(1.0, shape=shape),)
    )
    alone = FitStack(
        face_mm=0.0, back_mm=-9.0, low_mm=-99.0, high_mm=at, at_face=(term(1.0, shape=shape),)
    )
    assert runs_probability(alone) == pytest.approx(below, abs=1e-4)
    assert runs_probability(stack) <= runs_probability(alone)


@pytest.mark.parametrize(
    ("shape", "variance"), [("even", 1 / 3), ("triangular", 1 / 6), ("normal", 1 / 4)]
)
def test_draws_have_mean_nought_and_the_variance_of_their_shape(shape, variance):
    # 100 000 draws know a mean to 0.0018 and a deviation to a quarter of a per cent
    stack = FitStack(
        face_mm=0.0, back_mm=0.0, low_mm=-1.0, high_mm=1.0, shared=(term(1.0, shape=shape),)
    )
    spread = sample_builds(stack).face_spread
    assert spread.mean_mm == pytest.approx(0.0, abs=4e-3)
    assert spread.standard_mm == pytest.approx(math.sqrt(variance), rel=6e-3)


def test_two_builds_are_enough_and_one_is_not():
    stack = FitStack(face_mm=0.0, back_mm=0.0, low_mm=-1.0, high_mm=1.0, shared=(term(3.0),))
    two = sample_builds(stack, builds=2)
    low, high = two.face_spread.low_mm, two.face_spread.high_mm
    # the deviation of two values about their mean, one degree of freedom
    assert two.face_spread.standard_mm == pytest.approx((high - low) / math.sqrt(2.0))
    with pytest.raises(OutOfRangeError):
        sample_builds(stack, builds=1)


def test_the_standard_error_is_that_of_a_share():
    stack = FitStack(face_mm=0.0, back_mm=0.0, low_mm=-1.0, high_mm=1.0, shared=(term(1.5),))
    sample = sample_builds(stack, builds=1000)
    share = sample.inside
    assert sample.inside_error == pytest.approx(math.sqrt(share * (1.0 - share) / 1000), rel=1e-9)


def test_both_ends_independent_is_the_product():
    one = FitStack(face_mm=0.0, back_mm=0.0, low_mm=-0.5, high_mm=0.5, at_face=(term(1.0),))
    both = FitStack(
        face_mm=0.0,
        back_mm=0.0,
        low_mm=-0.5,
        high_mm=0.5,
        at_face=(term(1.0),),
        at_back=(term(1.0),),
    )
    assert runs_probability(one) == pytest.approx(0.5, abs=1e-6)
    assert runs_probability(both) == pytest.approx(0.25, abs=1e-6)


def test_run_out_eats_twice_itself():
    # play 0 in a window of +-1: both sides inside when |run-out| <= 0.5, half of an even +-1
    stack = FitStack(face_mm=0.0, back_mm=0.0, low_mm=-1.0, high_mm=1.0, sideways=(term(1.0),))
    assert runs_probability(stack) == pytest.approx(0.5, abs=1e-5)
    assert centred_probability(stack) == pytest.approx(0.5, abs=1e-5)


def test_a_shift_is_a_change_of_the_mean():
    stack = FitStack(
        face_mm=0.2,
        back_mm=0.4,
        low_mm=-1.0,
        high_mm=1.0,
        shared=(term(0.8),),
        at_back=(term(0.3),),
    )
    moved = FitStack(
        face_mm=0.7,
        back_mm=0.9,
        low_mm=-1.0,
        high_mm=1.0,
        shared=(term(0.8),),
        at_back=(term(0.3),),
    )
    found = shifted_probabilities(stack, shifts_mm=(0.0, 0.5))
    assert found[0] == runs_probability(stack)
    assert found[1] == pytest.approx(runs_probability(moved), abs=1e-9)


@settings(max_examples=20, deadline=None)
@given(stacks, st.floats(0.1, 1.0))
def test_a_wider_window_never_lowers_the_chance(stack, more):
    wider = FitStack(
        face_mm=stack.face_mm,
        back_mm=stack.back_mm,
        low_mm=stack.low_mm - more,
        high_mm=stack.high_mm + more,
        shared=stack.shared,
        at_face=stack.at_face,
        at_back=stack.at_back,
        sideways=stack.sideways,
    )
    assert runs_probability(wider) >= runs_probability(stack) - 1e-9


def test_the_same_seed_gives_the_same_builds_and_its_spread_is_the_sum_of_variances():
    stack = FitStack(
        face_mm=3.0,
        back_mm=4.0,
        low_mm=0.0,
        high_mm=9.0,
        shared=(term(1.0), term(0.5, shape="normal")),
        at_face=(term(0.6, shape="triangular"),),
    )
    first = sample_builds(stack, builds=20_000, seed=7)
    # a generator that is part of the file format of numpy: the same bits everywhere
    assert first.inside == pytest.approx(0.99999, abs=2e-5)
    assert sample_builds(stack, builds=20_000, seed=7) == first
    assert sample_builds(stack, builds=20_000, seed=8) != first
    # h²/3 even, h²/4 normal, h²/6 triangular; 20 000 builds know a deviation to 1 per cent
    sd = math.sqrt(1.0 / 3.0 + 0.25 / 4.0 + 0.36 / 6.0)
    assert first.face_spread.standard_mm == pytest.approx(sd, rel=0.02)
    assert first.face_spread.mean_mm == pytest.approx(3.0, abs=0.03)
    assert first.back_spread.mean_mm == pytest.approx(4.0, abs=0.03)
    even = FitStack(face_mm=0.0, back_mm=0.0, low_mm=-1.0, high_mm=1.0, shared=(term(1.0),))
    spread = sample_builds(even, builds=20_000).face_spread
    # 5 and 95 of 100 of an even term lie at 0.9 of its half-width, known to a hundredth
    assert (spread.low_mm, spread.high_mm) == pytest.approx((-0.9, 0.9), abs=0.01)


@pytest.mark.parametrize(
    "numbers", [{"low_mm": 1.0, "high_mm": 1.0}, {"face_mm": math.nan}, {"back_mm": math.inf}]
)
def test_what_is_no_window_is_refused(numbers):
    stack = FitStack(**({"face_mm": 0.0, "back_mm": 0.0, "low_mm": 0.0, "high_mm": 1.0} | numbers))
    for find in (runs_probability, centred_probability, sample_builds):
        with pytest.raises(OutOfRangeError):
            find(stack)


def test_the_grid_is_finer_than_any_caliper():
    assert CELL <= 0.01
