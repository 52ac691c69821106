"""Beams against an independent solution: cubic finite elements, exact at the nodes for these
loads.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import beams

SPAN, MODULUS, SECOND = 730.0, 8100.0, 51_000.0
LINE, LOAD, AT, PATCH = 1.7, 240.0, 190.0, 110.0
BEAM = {"span_mm": SPAN, "modulus_n_mm2": MODULUS, "second_moment_mm4": SECOND}
PARTS = 730  # one element per millimetre: 190 is a node


def solve(*, length, held, turned=(), line=0.0, points=(), patch=None, end_moment=0.0):
    """Return deflections and rotations at the nodes, reactions and clamping moments by node.

    held: nodes that cannot move; turned: nodes that cannot turn; points: (node, force).
    """
    parts = round(length)
    h = length / parts
    stiff = np.zeros((2 * parts + 2, 2 * parts + 2))
    load = np.zeros(2 * parts + 2)
    element = (
        MODULUS
        * SECOND
        / h**3
        * np.array(
            [
                [12, 6 * h, -12, 6 * h],
                [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                [-12, -6 * h, 12, -6 * h],
                [6 * h, 2 * h * h, -6 * h, 4 * h * h],
            ]
        )
    )
    for number in range(parts):
        place = slice(2 * number, 2 * number + 4)
        stiff[place, place] += element
        q = line
        if patch is not None:
            low, high, force = patch
            q = force / (high - low) if low <= number < high else 0.0
        load[place] += q * np.array([h / 2, h * h / 12, h / 2, -h * h / 12])
    for node, force in points:
        load[2 * node] += force
    load[1] += end_moment
    fixed = sorted([2 * node for node in held] + [2 * node + 1 for node in turned])
    free = [index for index in range(len(load)) if index not in set(fixed)]
    moved = np.zeros_like(load)
    moved[free] = np.linalg.solve(stiff[np.ix_(free, free)], load[free])
    left = stiff @ moved - load
    return moved[::2], {index: -left[index] for index in fixed}


def moments(moved):
    """Return -EI w'' by central differences inside the beam."""
    return -MODULUS * SECOND * (moved[2:] - 2 * moved[1:-1] + moved[:-2])


# Central differences and the nodes' one-millimetre spacing leave less than 2e-5; solving 1462
# equations of condition 1e12 leaves about 1e-5. 2e-4 covers both and is a hundredth of the 2 % that
# a wrong constant makes.
CLOSE = 2e-4


def test_pinned_under_an_even_load():
    moved, reactions = solve(length=SPAN, held=[0, PARTS], line=LINE)
    assert beams.pinned_uniform_sag_mm(line_load_n_mm=LINE, **BEAM) == pytest.approx(
        moved.max(), rel=CLOSE
    )
    moment = beams.pinned_uniform_moment_n_mm(line_load_n_mm=LINE, span_mm=SPAN)
    assert moment == pytest.approx(moments(moved).max(), rel=CLOSE)
    reaction = beams.pinned_uniform_reaction_n(line_load_n_mm=LINE, span_mm=SPAN)
    assert reaction == pytest.approx(reactions[0], rel=CLOSE)


@pytest.mark.parametrize("at", [AT, SPAN - AT, 365.0])
def test_pinned_under_a_point_load(at):
    moved, reactions = solve(length=SPAN, held=[0, PARTS], points=[(round(at), LOAD)])
    place = {"load_n": LOAD, "at_mm": at}
    assert beams.pinned_point_sag_mm(**place, **BEAM) == pytest.approx(moved.max(), rel=CLOSE)
    assert beams.pinned_point_sag_under_load_mm(**place, **BEAM) == pytest.approx(
        moved[round(at)], rel=CLOSE
    )
    near, far = beams.pinned_point_reactions_n(span_mm=SPAN, **place)
    assert (near, far) == pytest.approx((reactions[0], reactions[2 * PARTS]), rel=CLOSE)
    # the curvature at the load itself is smeared over two elements: 1/190 of the moment at most
    assert beams.pinned_point_moment_n_mm(span_mm=SPAN, **place) == pytest.approx(
        reactions[0] * at, rel=CLOSE
    )


def test_pinned_under_a_patch_at_midspan():
    half = PATCH / 2.0
    moved, reactions = solve(length=SPAN, held=[0, PARTS], patch=(365.0 - half, 365.0 + half, LOAD))
    assert beams.pinned_patch_sag_mm(load_n=LOAD, patch_mm=PATCH, **BEAM) == pytest.approx(
        moved.max(), rel=CLOSE
    )
    expected = reactions[0] * 365.0 - LOAD / PATCH * half**2 / 2.0
    assert beams.pinned_patch_moment_n_mm(
        load_n=LOAD, patch_mm=PATCH, span_mm=SPAN
    ) == pytest.approx(expected, rel=CLOSE)


def test_a_patch_of_no_length_is_a_point_and_of_full_length_an_even_load():
    full = beams.pinned_patch_sag_mm(load_n=LOAD, patch_mm=SPAN, **BEAM)
    assert full == pytest.approx(beams.pinned_uniform_sag_mm(line_load_n_mm=LOAD / SPAN, **BEAM))
    none = beams.pinned_patch_sag_mm(load_n=LOAD, patch_mm=0.0, **BEAM)
    assert none == pytest.approx(beams.pinned_point_sag_mm(load_n=LOAD, at_mm=365.0, **BEAM))


def test_built_in_at_both_ends():
    ends = [0, PARTS]
    moved, reactions = solve(length=SPAN, held=ends, turned=ends, line=LINE)
    assert beams.fixed_uniform_sag_mm(line_load_n_mm=LINE, **BEAM) == pytest.approx(
        moved.max(), rel=CLOSE
    )
    assert beams.fixed_uniform_moment_n_mm(line_load_n_mm=LINE, span_mm=SPAN) == pytest.approx(
        abs(reactions[1]), rel=CLOSE
    )


@pytest.mark.parametrize("at", [AT, SPAN - AT])
def test_built_in_at_both_ends_under_a_point_load(at):
    ends = [0, PARTS]
    moved, reactions = solve(length=SPAN, held=ends, turned=ends, points=[(round(at), LOAD)])
    assert beams.fixed_point_sag_under_load_mm(load_n=LOAD, at_mm=at, **BEAM) == pytest.approx(
        moved[round(at)], rel=CLOSE
    )
    assert beams.fixed_point_moment_n_mm(load_n=LOAD, at_mm=at, span_mm=SPAN) == pytest.approx(
        max(abs(reactions[1]), abs(reactions[2 * PARTS + 1])), rel=CLOSE
    )


def test_cantilever():
    moved, reactions = solve(length=SPAN, held=[0], turned=[0], line=LINE)
    assert beams.cantilever_uniform_sag_mm(line_load_n_mm=LINE, **BEAM) == pytest.approx(
        moved[-1], rel=CLOSE
    )
    assert beams.cantilever_uniform_moment_n_mm(line_load_n_mm=LINE, span_mm=SPAN) == pytest.approx(
        abs(reactions[1]), rel=CLOSE
    )
    moved, reactions = solve(length=SPAN, held=[0], turned=[0], points=[(190, LOAD)])
    assert beams.cantilever_point_sag_mm(load_n=LOAD, at_mm=AT, **BEAM) == pytest.approx(
        moved[-1], rel=CLOSE
    )
    assert beams.cantilever_point_moment_n_mm(load_n=LOAD, at_mm=AT, span_mm=SPAN) == pytest.approx(
        abs(reactions[1]), rel=CLOSE
    )


def test_two_equal_spans():
    half = 400.0
    beam = BEAM | {"span_mm": half}
    moved, reactions = solve(length=2 * half, held=[0, 400, 800], line=LINE)
    assert beams.two_span_uniform_sag_mm(line_load_n_mm=LINE, **beam) == pytest.approx(
        moved.max(), rel=4e-4
    )  # 184.6 is the exact 184.65 cut off
    outer, middle = beams.two_span_uniform_reactions_n(line_load_n_mm=LINE, span_mm=half)
    assert outer == pytest.approx(reactions[0], rel=CLOSE)
    assert middle == pytest.approx(reactions[800], rel=CLOSE)
    hog = LINE * half**2 / 2 - reactions[0] * half
    assert beams.two_span_uniform_moment_n_mm(line_load_n_mm=LINE, span_mm=half) == pytest.approx(
        hog, rel=CLOSE
    )


def test_two_equal_spans_with_a_load_amid_one():
    half = 400.0
    beam = BEAM | {"span_mm": half}
    moved, reactions = solve(length=2 * half, held=[0, 400, 800], points=[(200, LOAD)])
    assert beams.two_span_point_sag_mm(load_n=LOAD, **beam) == pytest.approx(moved[200], rel=CLOSE)
    under, over = beams.two_span_point_moments_n_mm(load_n=LOAD, span_mm=half)
    assert under == pytest.approx(reactions[0] * 200.0, rel=CLOSE)
    assert over == pytest.approx(-reactions[1600] * half, rel=CLOSE)


def test_pinned_and_turned_at_one_end():
    moved, _ = solve(length=SPAN, held=[0, PARTS], end_moment=7000.0)
    assert beams.pinned_end_moment_sag_mm(moment_n_mm=7000.0, **BEAM) == pytest.approx(
        np.abs(moved).max(), rel=CLOSE
    )


@given(factor=st.floats(0.2, 5.0))
@settings(max_examples=25, deadline=None)
def test_sag_grows_with_the_fourth_power_of_span_under_a_line_load(factor):
    stretched = BEAM | {"span_mm": SPAN * factor}
    for sag in (
        beams.pinned_uniform_sag_mm,
        beams.fixed_uniform_sag_mm,
        beams.cantilever_uniform_sag_mm,
        beams.two_span_uniform_sag_mm,
    ):
        base = sag(line_load_n_mm=LINE, **BEAM)
        assert sag(line_load_n_mm=LINE, **stretched) == pytest.approx(base * factor**4)


@given(share=st.floats(0.0, 1.0))
@settings(max_examples=40, deadline=None)
def test_a_point_load_weighs_the_same_from_either_end_and_most_at_midspan(share):
    for sag in (beams.pinned_point_sag_mm, beams.pinned_point_sag_under_load_mm):
        here = sag(load_n=LOAD, at_mm=SPAN * share, **BEAM)
        assert here == pytest.approx(
            sag(load_n=LOAD, at_mm=SPAN * (1.0 - share), **BEAM), rel=1e-9, abs=1e-9
        )
        assert here <= sag(load_n=LOAD, at_mm=SPAN / 2.0, **BEAM) * (1.0 + 1e-12)
    near, far = beams.pinned_point_reactions_n(load_n=LOAD, at_mm=SPAN * share, span_mm=SPAN)
    assert near + far == pytest.approx(LOAD)


EVERY = [name for name in beams.__all__ if name.islower()]
ARGUMENTS = {
    "line_load_n_mm": LINE,
    "load_n": LOAD,
    "at_mm": AT,
    "patch_mm": PATCH,
    "moment_n_mm": 7000.0,
    **BEAM,
}


@pytest.mark.parametrize("name", EVERY)
def test_nonsense_is_refused(name, refuses_nonsense):
    function = getattr(beams, name)
    arguments = {key: ARGUMENTS[key] for key in function.__annotations__ if key in ARGUMENTS}
    refuses_nonsense(function, arguments)
    for key in arguments:
        with pytest.raises(OutOfRangeError):
            function(**(arguments | {key: -1.0}))
    if "at_mm" in arguments:
        with pytest.raises(OutOfRangeError):
            function(**(arguments | {"at_mm": SPAN * 1.001}))
        function(**(arguments | {"at_mm": SPAN}))
