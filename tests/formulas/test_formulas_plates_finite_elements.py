"""Plates against an independent finite-element model: Bogner-Fox-Schmit elements by scikit-fem.

Conforming bicubic elements for the orthotropic Kirchhoff plate. The model is told only the elastic
constants, the supports and the load; the series under test is never consulted. Patches cover whole
cells, so that the mesh carries them exactly. Deflections are compared at nodes, within 1 %; moments
as the mean over a cell against the value at its middle (0.1 % apart at this fineness), within 3 %
away from the patch's edge.
"""

import pytest
from plate_elements import CELLS, FiniteElements, middle_of, plate

from stowright.formulas import plates_levy, plates_navier

# Share of the larger moment below which a small one is judged on the larger one's scale.
SMALL = 0.01


def compare(model, spot, series, *, nodes, cells):
    """Hold the series against the model at nodes and at the middles of cells."""
    deflection, moments = model.solve(spot)
    largest = max(max(map(abs, moments(*middle_of(model, cell)))) for cell in cells)
    for column, row in nodes:
        x, y = float(model.xs[column]), float(model.ys[row])
        assert series(x, y).deflection_mm == pytest.approx(deflection(x, y), rel=0.01)
    for cell in cells:
        x, y = middle_of(model, cell)
        close = pytest.approx(moments(x, y), rel=0.03, abs=SMALL * largest)
        assert series(x, y)[1:] == close


GRAIN = pytest.mark.parametrize("along", [True, False], ids=["grain along x", "grain along y"])


@GRAIN
@pytest.mark.parametrize("ratio", [0.6, 1.0, 1.6, 2.4])
def test_even_load(ratio, along):
    model = FiniteElements(plate(ratio, along=along))
    spot = model.patch((0, CELLS), (0, CELLS), load=700.0)
    area = model.it.side_x_mm * model.it.side_y_mm

    def series(x, y):
        return plates_navier.uniform_response(
            model.it, pressure_n_mm2=700.0 / area, at_x_mm=x, at_y_mm=y
        )

    compare(model, spot, series, nodes=[(10, 10), (4, 7)], cells=[(9, 9), (4, 12), (2, 3)])


PATCHES = {
    "small, amid": ((9, 11), (9, 11)),
    "large, aside": ((3, 9), (4, 8)),
    "near a corner": ((1, 5), (14, 18)),
}


@GRAIN
@pytest.mark.parametrize("ratio", [0.6, 1.0, 2.0])
@pytest.mark.parametrize("place", PATCHES)
def test_patch(ratio, along, place):
    model = FiniteElements(plate(ratio, along=along))
    columns, rows = PATCHES[place]
    spot = model.patch(columns, rows, load=800.0)
    middle = (columns[0] + columns[1]) // 2, (rows[0] + rows[1]) // 2

    def series(x, y):
        return plates_navier.patch_response(model.it, **spot, at_x_mm=x, at_y_mm=y)

    away = [(min(18, columns[1] + 3), rows[0]), (columns[0], max(1, rows[0] - 4))]
    compare(model, spot, series, nodes=[middle, (12, 6)], cells=away)


@GRAIN
def test_a_finer_mesh_meets_the_moment_under_the_patch(along):
    model = FiniteElements(plate(1.0, along=along))
    spot = model.patch((6, 12), (7, 13), load=800.0)
    _, moments = model.solve(spot)
    x, y = middle_of(model, (9, 10))
    seen = plates_navier.patch_response(model.it, **spot, at_x_mm=x, at_y_mm=y)
    assert seen[1:] == pytest.approx(moments(x, y), rel=0.03)


@GRAIN
@pytest.mark.parametrize(("free_low", "free_high"), [(True, True), (True, False)])
@pytest.mark.parametrize("ratio", [0.8, 1.6])
def test_free_edges(along, free_low, free_high, ratio):
    edges = {"free_low": free_low, "free_high": free_high}
    model = FiniteElements(plate(ratio, along=along, poisson=0.1), **edges)
    spot = model.patch((8, 12), (0, 4), load=500.0)

    def series(x, y):
        return plates_levy.patch_response(model.it, **edges, **spot, at_x_mm=x, at_y_mm=y)

    compare(
        model,
        spot,
        series,
        nodes=[(10, 0), (10, 2), (4, 0), (10, 12)],
        cells=[(9, 8), (4, 2), (9, 1)],
    )


@GRAIN
def test_even_load_with_a_free_edge(along):
    edges = {"free_low": False, "free_high": True}
    model = FiniteElements(plate(1.3, along=along, poisson=0.1), **edges)
    spot = model.patch((0, CELLS), (0, CELLS), load=700.0)
    area = model.it.side_x_mm * model.it.side_y_mm

    def series(x, y):
        return plates_levy.uniform_response(
            model.it, **edges, pressure_n_mm2=700.0 / area, at_x_mm=x, at_y_mm=y
        )

    compare(model, spot, series, nodes=[(10, 20), (10, 10)], cells=[(9, 18), (9, 9), (4, 6)])
