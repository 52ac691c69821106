"""Plates against an independent finite-element model: Bogner-Fox-Schmit elements by scikit-fem.

Conforming bicubic elements for the orthotropic Kirchhoff plate. The model is told only the elastic
constants, the supports and the load; the series under test is never consulted. Patches cover whole
cells, so that the mesh carries them exactly. Deflections are compared at nodes, within 1 %; moments
as the mean over a cell against the value at its middle (0.1 % apart at this fineness), within 3 %
away from the patch's edge.
"""

import numpy as np
import pytest
from skfem import Basis, BilinearForm, ElementQuadBFS, LinearForm, MeshQuad, condense, solve
from skfem.helpers import dd

from stowright.formulas import plates_levy, plates_navier

CELLS = 20
# Share of the larger moment below which a small one is judged on the larger one's scale.
SMALL = 0.01


class FiniteElements:
    """A plate with edges x = 0 and x = a supported, y = 0 and y = b supported or free."""

    def __init__(self, it, *, free_low=False, free_high=False):
        self.it = it
        self.xs = np.linspace(0.0, it.side_x_mm, CELLS + 1)
        self.ys = np.linspace(0.0, it.side_y_mm, CELLS + 1)
        self.mesh = MeshQuad.init_tensor(self.xs, self.ys)
        self.basis = Basis(self.mesh, ElementQuadBFS())
        held = [
            self.basis.get_dofs(lambda x: np.isclose(x[0], 0.0)).all(["u", "u_y"]),
            self.basis.get_dofs(lambda x: np.isclose(x[0], it.side_x_mm)).all(["u", "u_y"]),
        ]
        if not free_low:
            held.append(self.basis.get_dofs(lambda x: np.isclose(x[1], 0.0)).all(["u", "u_x"]))
        if not free_high:
            high = self.basis.get_dofs(lambda x: np.isclose(x[1], it.side_y_mm))
            held.append(high.all(["u", "u_x"]))
        self.fixed = np.unique(np.concatenate(held))
        self.stiffness = self.assemble()

    def assemble(self):
        it = self.it

        @BilinearForm
        def energy(u, v, _):
            left, right = dd(u), dd(v)
            mixed = left[0, 0] * right[1, 1] + left[1, 1] * right[0, 0]
            return (
                it.rigidity_x_n_mm * left[0, 0] * right[0, 0]
                + it.rigidity_y_n_mm * left[1, 1] * right[1, 1]
                + it.rigidity_cross_n_mm * mixed
                + 4.0 * it.rigidity_twist_n_mm * left[0, 1] * right[0, 1]
            )

        return energy.assemble(self.basis)

    def patch(self, columns, rows, *, load):
        """Return the patch that covers these cells, as the series want it told."""
        low_x, high_x = self.xs[columns[0]], self.xs[columns[1]]
        low_y, high_y = self.ys[rows[0]], self.ys[rows[1]]
        return {
            "load_n": load,
            "patch_x_mm": high_x - low_x,
            "patch_y_mm": high_y - low_y,
            "centre_x_mm": (low_x + high_x) / 2.0,
            "centre_y_mm": (low_y + high_y) / 2.0,
        }

    def solve(self, spot):
        """Return functions that give the deflection at a node and the moments of a cell."""
        pressure = spot["load_n"] / (spot["patch_x_mm"] * spot["patch_y_mm"])

        @LinearForm
        def load(v, w):
            inside = np.abs(w.x[0] - spot["centre_x_mm"]) < spot["patch_x_mm"] / 2.0
            inside &= np.abs(w.x[1] - spot["centre_y_mm"]) < spot["patch_y_mm"] / 2.0
            return pressure * inside * v

        moved = solve(*condense(self.stiffness, load.assemble(self.basis), D=self.fixed))
        bends = dd(self.basis.interpolate(moved))
        weights = self.basis.dx / self.basis.dx.sum(axis=1, keepdims=True)
        curved_x, curved_y = ((bends[i, i] * weights).sum(axis=1) for i in (0, 1))
        middles = self.mesh.p[:, self.mesh.t].mean(axis=1)

        def deflection(x, y):
            node = np.argmin((self.mesh.p[0] - x) ** 2 + (self.mesh.p[1] - y) ** 2)
            return moved[self.basis.nodal_dofs[0, node]]

        def moments(x, y):
            cell = np.argmin((middles[0] - x) ** 2 + (middles[1] - y) ** 2)
            it, bend_x, bend_y = self.it, curved_x[cell], curved_y[cell]
            return (
                -(it.rigidity_x_n_mm * bend_x + it.rigidity_cross_n_mm * bend_y),
                -(it.rigidity_y_n_mm * bend_y + it.rigidity_cross_n_mm * bend_x),
            )

        return deflection, moments


def plate(ratio, *, along, poisson=0.05):
    moduli = (9200.0, 4600.0) if along else (4600.0, 9200.0)
    return plates_navier.plate(
        side_x_mm=600.0 * ratio,
        side_y_mm=600.0,
        thickness_mm=12.0,
        modulus_x_n_mm2=moduli[0],
        modulus_y_n_mm2=moduli[1],
        shear_modulus_n_mm2=500.0,
        poisson_xy=poisson,
    )


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


def middle_of(model, cell):
    """Return the middle of the cell in a column and row."""
    return (
        float(model.xs[cell[0]] + model.xs[cell[0] + 1]) / 2.0,
        float(model.ys[cell[1]] + model.ys[cell[1] + 1]) / 2.0,
    )


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
