"""An independent model of a plate: conforming Bogner-Fox-Schmit elements by scikit-fem.

Bicubic elements for the orthotropic Kirchhoff plate, told only the elastic constants, the supports
and the load; the series under test is never consulted.
"""

import numpy as np
from skfem import Basis, BilinearForm, ElementQuadBFS, LinearForm, MeshQuad, condense, solve
from skfem.helpers import dd

from stowright.formulas import plates_navier

CELLS = 20


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


def middle_of(model, cell):
    """Return the middle of the cell in a column and row."""
    return (
        float(model.xs[cell[0]] + model.xs[cell[0] + 1]) / 2.0,
        float(model.ys[cell[1]] + model.ys[cell[1] + 1]) / 2.0,
    )
