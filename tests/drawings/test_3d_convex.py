"""Bulk answers about convex faces. Outside check: shapely, pair by pair."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.drawings.convex import clipped_runs, convex_rings, rings_overlap

places = st.integers(-100_000, 100_000).map(lambda k: k / 1000.0)


@st.composite
def convex_polygons(draw):
    corners = draw(st.lists(st.tuples(places, places), min_size=3, max_size=8))
    hull = shapely.MultiPoint(corners).convex_hull
    if hull.area < 1.0:
        hull = shapely.box(*corners[0], corners[0][0] + 10.0, corners[0][1] + 7.0)
    return hull


def ring_of(polygon):
    ring = np.array(polygon.exterior.coords)[:-1]
    rings, fits = convex_rings([[ring]])
    assert fits.all()
    return rings


@settings(max_examples=150, deadline=None)
@given(convex_polygons(), st.tuples(places, places), st.tuples(places, places))
def test_clipping_agrees_with_shapely(polygon, start, end):
    start, end = np.array(start), np.array(end)
    length = np.hypot(*(end - start))
    if length < 1e-3:
        return
    low, high = clipped_runs(start[None], (end - start)[None], ring_of(polygon))
    inside = max(float(high[0] - low[0]), 0.0) * length
    expected = shapely.LineString([start, end]).intersection(polygon).length
    # a line along a side may count or not: shapely's own answer there is rounding too
    if shapely.LineString([start, end]).intersection(polygon.exterior).length < 1e-6:
        assert inside == pytest.approx(expected, abs=1e-6)


@settings(max_examples=150, deadline=None)
@given(convex_polygons(), convex_polygons())
def test_overlap_agrees_with_shapely(one, other):
    found = bool(rings_overlap(ring_of(one), ring_of(other), least=0.05)[0])
    shared = one.intersection(other)
    if shared.area == 0.0:
        assert not found
    # an overlap that stays when one is shrunk by the least depth is one for sure
    if one.buffer(-0.06).intersects(other):
        assert found


def test_lines_along_a_side_and_beside_it():
    square = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]])
    rings, _ = convex_rings([[square]] * 3)
    start = np.array([[-5.0, 0.0], [-5.0, 1e-3], [-5.0, -1e-3]])
    low, high = clipped_runs(start, np.array([[20.0, 0.0]] * 3), rings)
    assert low[:2] == pytest.approx([0.25, 0.25])
    assert high[:2] == pytest.approx([0.75, 0.75])
    assert low[2] >= high[2]


def test_what_is_not_convex_is_left_to_general_geometry():
    notched = np.array([[0, 0], [10, 0], [10, 10], [6, 10], [6, 6], [4, 6], [4, 10], [0, 10.0]])
    holed = [np.array([[0, 0], [9, 0], [9, 9], [0, 9.0]]), np.array([[3, 3], [3, 6], [6, 6.0]])]
    round_ = np.array([[np.cos(a), np.sin(a)] for a in np.linspace(0, 2 * np.pi, 20)[:-1]])
    clockwise = np.array([[0.0, 0.0], [0.0, 4.0], [3.0, 0.0]])
    _, fits = convex_rings([[notched], holed, [round_], [clockwise]])
    assert fits.tolist() == [False, False, False, True]


def test_the_sense_of_a_ring_does_not_matter():
    square = np.array([[0.0, 0.0], [0.0, 10.0], [10.0, 10.0], [10.0, 0.0]])
    rings, _ = convex_rings([[square], [square[::-1]]])
    start = np.full((2, 2), -5.0)
    low, high = clipped_runs(start, np.full((2, 2), 20.0), rings)
    assert low == pytest.approx([0.25, 0.25])
    assert high == pytest.approx([0.75, 0.75])
