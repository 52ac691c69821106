"""Orthotropic plate on four knife edges: Navier's double sine series.

::

    Dx w,xxxx + 2 H w,xxyy + Dy w,yyyy = q
    w = sum_m sum_n q_mn sin(m pi x/a) sin(n pi y/b) / D_mn
    D_mn = pi^4 [ Dx (m/a)^4 + 2 H (m n / (a b))^2 + Dy (n/b)^4 ]

The load coefficients of an even load and of a rectangular patch are products of a factor in m and a
factor in n, so a response is one vector-matrix-vector product. The matrices 1 / D_mn depend on the
plate alone and are kept for the plates used last.

x runs from 0 to a, y from 0 to b. Moments are per unit width [N mm/mm = N]; the moment "x" bends
the plate in the x direction, so its stress is 6 Mx / t^2 along x. Moments under a true point load
are infinite: always give a patch for stress.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.ranges import require_between, require_finite
from stowright.formulas.sources import Source

__all__ = [
    "SOURCES",
    "PlateResponse",
    "SimplySupportedPlate",
    "bending_stress_n_mm2",
    "edge_reactions_uniform_n_mm",
    "patch_response",
    "plate",
    "point_deflection_mm",
    "uniform_response",
]

type _Row = NDArray[np.float64]

MODES: Final = 160  # each way; the moment under a patch of a/30 is then within 0.3 % of the limit

_NAVIER: Final = Source(
    text=(
        "Navier series for the orthotropic plate, Timoshenko & Woinowsky-Krieger, Theory of"
        " Plates and Shells, ch. 11; formula from memory, checked against published isotropic"
        " tables, the beam limit and finite elements"
    ),
    standing="derived",
)
SOURCES: Final = {name: _NAVIER for name in __all__ if name.islower()}


@dataclass(frozen=True, slots=True, kw_only=True)
class SimplySupportedPlate:
    """Sides and rigidities of a rectangular plate; make it with ``plate``.

    Attributes:
        side_x_mm: a. [mm].
        side_y_mm: b. [mm].
        rigidity_x_n_mm: Dx = Ex t^3 / [12 (1 - nu_xy nu_yx)]. [N mm].
        rigidity_y_n_mm: Dy, likewise. [N mm].
        rigidity_cross_n_mm: D1 = nu_yx Dx. [N mm].
        rigidity_twist_n_mm: Dxy = G t^3 / 12. [N mm].
    """

    side_x_mm: float
    side_y_mm: float
    rigidity_x_n_mm: float
    rigidity_y_n_mm: float
    rigidity_cross_n_mm: float
    rigidity_twist_n_mm: float


class PlateResponse(NamedTuple):
    """What happens at one point of the plate.

    Attributes:
        deflection_mm: w, in the direction of the load. [mm].
        moment_x_n: Mx = -(Dx w,xx + D1 w,yy), positive when the loaded face is squeezed. [N mm/mm].
        moment_y_n: My = -(Dy w,yy + D1 w,xx). [N mm/mm].
    """

    deflection_mm: float
    moment_x_n: float
    moment_y_n: float


class _Kernels(NamedTuple):
    """Matrices that turn load factors into deflection and moments; [m, n]."""

    deflection: _Row
    moment_x: _Row
    moment_y: _Row
    orders: _Row


def plate(
    *,
    side_x_mm: float,
    side_y_mm: float,
    thickness_mm: float,
    modulus_x_n_mm2: float,
    modulus_y_n_mm2: float,
    shear_modulus_n_mm2: float,
    poisson_xy: float = 0.0,
) -> SimplySupportedPlate:
    """Return a plate from its sides, thickness and elastic constants.

    Dx = Ex t^3 / [12 (1 - nu_xy nu_yx)], Dy likewise, D1 = nu_yx Dx, Dxy = G t^3 / 12, nu_yx =
    nu_xy Ey / Ex. Sides [mm], moduli [N/mm2]. The moduli go with the full t^3/12. For plywood nu is
    small: 0 is safe. A side that runs along the face grain takes the modulus along the grain.

    Range: t up to about a quarter of the short side; deflection up to about t/2 (beyond it the
    linear result is too large, hence safe).
    Source: Timoshenko & Woinowsky-Krieger, ch. 11. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero, or nu_xy nu_yx reaches 1.
    """
    require_positive(
        side_x_mm=side_x_mm,
        side_y_mm=side_y_mm,
        thickness_mm=thickness_mm,
        modulus_x_n_mm2=modulus_x_n_mm2,
        modulus_y_n_mm2=modulus_y_n_mm2,
        shear_modulus_n_mm2=shear_modulus_n_mm2,
    )
    require_not_negative(poisson_xy=poisson_xy)
    poisson_yx = poisson_xy * modulus_y_n_mm2 / modulus_x_n_mm2
    coupling = 1.0 - poisson_xy * poisson_yx
    require_positive(one_less_product_of_poisson_ratios=coupling)
    cubed = thickness_mm**3 / 12.0
    return SimplySupportedPlate(
        side_x_mm=side_x_mm,
        side_y_mm=side_y_mm,
        rigidity_x_n_mm=modulus_x_n_mm2 * cubed / coupling,
        rigidity_y_n_mm=modulus_y_n_mm2 * cubed / coupling,
        rigidity_cross_n_mm=poisson_yx * modulus_x_n_mm2 * cubed / coupling,
        rigidity_twist_n_mm=shear_modulus_n_mm2 * cubed,
    )


@lru_cache(maxsize=64)
def _kernels(it: SimplySupportedPlate, *, odd_only: bool) -> _Kernels:
    """Build the matrices of a plate; an even load excites odd orders only."""
    orders = np.arange(1.0, MODES + 1.0)
    if odd_only:
        orders = orders[::2]
    wave_x2 = np.square(np.pi / it.side_x_mm * orders)[:, np.newaxis]
    wave_y2 = np.square(np.pi / it.side_y_mm * orders)[np.newaxis, :]
    mixed = it.rigidity_cross_n_mm + 2.0 * it.rigidity_twist_n_mm
    stiffness = (
        it.rigidity_x_n_mm * wave_x2**2
        + 2.0 * mixed * wave_x2 * wave_y2
        + it.rigidity_y_n_mm * wave_y2**2
    )
    deflection = 1.0 / stiffness
    return _Kernels(
        deflection=deflection,
        moment_x=(it.rigidity_x_n_mm * wave_x2 + it.rigidity_cross_n_mm * wave_y2) * deflection,
        moment_y=(it.rigidity_y_n_mm * wave_y2 + it.rigidity_cross_n_mm * wave_x2) * deflection,
        orders=orders,
    )


def _response(kernels: _Kernels, load: float, row_x: _Row, row_y: _Row) -> PlateResponse:
    """Sum the series: load times (row_x, matrix, row_y) for each matrix."""
    return PlateResponse(
        deflection_mm=float(load * (row_x @ kernels.deflection @ row_y)),
        moment_x_n=float(load * (row_x @ kernels.moment_x @ row_y)),
        moment_y_n=float(load * (row_y @ (row_x @ kernels.moment_y))),
    )


def _middle_or(at_mm: float | None, side_mm: float, name: str) -> float:
    """Return a place on a side, the middle when none is given."""
    if at_mm is None:
        return side_mm / 2.0
    require_between(low=0.0, high=side_mm, **{name: at_mm})
    return at_mm


def uniform_response(
    it: SimplySupportedPlate,
    *,
    pressure_n_mm2: float,
    at_x_mm: float | None = None,
    at_y_mm: float | None = None,
) -> PlateResponse:
    """Return deflection and moments at a point (the centre by default) under an even load.

    q_mn = 16 q / (pi^2 m n) for m, n odd. Pressure [N/mm2], place [mm].

    Source: Timoshenko & Woinowsky-Krieger, ch. 11. Standing: derived.

    Raises:
        OutOfRangeError: If the pressure is negative or the point lies off the plate.
    """
    require_not_negative(pressure_n_mm2=pressure_n_mm2)
    x_mm = _middle_or(at_x_mm, it.side_x_mm, "at_x_mm")
    y_mm = _middle_or(at_y_mm, it.side_y_mm, "at_y_mm")
    kernels = _kernels(it, odd_only=True)
    orders = kernels.orders
    row_x = np.sin((np.pi * x_mm / it.side_x_mm) * orders) / orders
    row_y = np.sin((np.pi * y_mm / it.side_y_mm) * orders) / orders
    return _response(kernels, 16.0 * pressure_n_mm2 / np.pi**2, row_x, row_y)


def _patch_row(
    orders: _Row, *, side_mm: float, centre_mm: float, patch_mm: float, at_mm: float
) -> _Row:
    """Return sin(m pi c/s) sin(m pi u/2s) sin(m pi x/s) / (m u) for each order m."""
    turn = np.pi / side_mm * orders
    return (
        np.sin(turn * centre_mm)
        * np.sin(turn * patch_mm / 2.0)
        * np.sin(turn * at_mm)
        / (orders * patch_mm)
    )


def patch_response(
    it: SimplySupportedPlate,
    *,
    load_n: float,
    patch_x_mm: float,
    patch_y_mm: float,
    centre_x_mm: float | None = None,
    centre_y_mm: float | None = None,
    at_x_mm: float | None = None,
    at_y_mm: float | None = None,
) -> PlateResponse:
    """Return deflection and moments at a point under a load spread over a rectangle.

    q_mn = 16 P / (pi^2 m n u v) sin(m pi xi/a) sin(n pi eta/b) sin(m pi u/2a) sin(n pi v/2b). Load
    P [N], patch u x v [mm], its centre (xi, eta) [mm] (default: the plate's centre), the point
    looked at (default: the patch's centre).

    Source: Timoshenko & Woinowsky-Krieger, ch. 11. Standing: derived.

    Raises:
        OutOfRangeError: If the load is negative, the patch overhangs the plate or the point lies
        off it.
    """
    require_not_negative(load_n=load_n)
    require_positive(patch_x_mm=patch_x_mm, patch_y_mm=patch_y_mm)
    over_x_mm = _middle_or(centre_x_mm, it.side_x_mm, "centre_x_mm")
    over_y_mm = _middle_or(centre_y_mm, it.side_y_mm, "centre_y_mm")
    require_between(
        low=0.0, high=2.0 * min(over_x_mm, it.side_x_mm - over_x_mm), patch_x_mm=patch_x_mm
    )
    require_between(
        low=0.0, high=2.0 * min(over_y_mm, it.side_y_mm - over_y_mm), patch_y_mm=patch_y_mm
    )
    x_mm = over_x_mm if at_x_mm is None else _middle_or(at_x_mm, it.side_x_mm, "at_x_mm")
    y_mm = over_y_mm if at_y_mm is None else _middle_or(at_y_mm, it.side_y_mm, "at_y_mm")
    kernels = _kernels(it, odd_only=False)
    return _response(
        kernels,
        16.0 * load_n / np.pi**2,
        _patch_row(
            kernels.orders,
            side_mm=it.side_x_mm,
            centre_mm=over_x_mm,
            patch_mm=patch_x_mm,
            at_mm=x_mm,
        ),
        _patch_row(
            kernels.orders,
            side_mm=it.side_y_mm,
            centre_mm=over_y_mm,
            patch_mm=patch_y_mm,
            at_mm=y_mm,
        ),
    )


def point_deflection_mm(
    it: SimplySupportedPlate,
    *,
    load_n: float,
    centre_x_mm: float | None = None,
    centre_y_mm: float | None = None,
) -> float:
    """Return the deflection under a point load. [mm].

    q_mn = (4 P / (a b)) sin(m pi xi/a) sin(n pi eta/b); the place (xi, eta) is the plate's centre
    by default.

    Source: Timoshenko & Woinowsky-Krieger, ch. 11. Standing: derived.

    Raises:
        OutOfRangeError: If the load is negative or the point lies off the plate.
    """
    require_not_negative(load_n=load_n)
    x_mm = _middle_or(centre_x_mm, it.side_x_mm, "centre_x_mm")
    y_mm = _middle_or(centre_y_mm, it.side_y_mm, "centre_y_mm")
    kernels = _kernels(it, odd_only=False)
    row_x = np.square(np.sin((np.pi * x_mm / it.side_x_mm) * kernels.orders))
    row_y = np.square(np.sin((np.pi * y_mm / it.side_y_mm) * kernels.orders))
    spread = 4.0 * load_n / (it.side_x_mm * it.side_y_mm)
    return float(spread * (row_x @ kernels.deflection @ row_y))


def bending_stress_n_mm2(*, moment_n: float, thickness_mm: float) -> float:
    """Return the surface stress of a plate from its moment per unit width. [N/mm2].

    sigma = 6 M / t^2, M [N mm/mm], t [mm].

    Source: Timoshenko & Woinowsky-Krieger, ch. 11. Standing: derived.

    Raises:
        OutOfRangeError: If the thickness is not above zero or the moment not finite.
    """
    require_positive(thickness_mm=thickness_mm)
    require_finite(moment_n=moment_n)
    return 6.0 * moment_n / thickness_mm**2


def edge_reactions_uniform_n_mm(
    it: SimplySupportedPlate, *, pressure_n_mm2: float
) -> tuple[float, float]:
    """Return the reactions per length at the middle of edge x = 0 and of edge y = 0. [N/mm].

    Vx = -[Dx w,xxx + (H + 2 Dxy) w,xyy] at x = 0, y = b/2; Vy likewise. The slow part of the
    series, which is the reaction q a/2 of a strip, is summed in closed form.

    Source: Timoshenko & Woinowsky-Krieger, ch. 11. Standing: derived.

    Raises:
        OutOfRangeError: If the pressure is negative.
    """
    require_not_negative(pressure_n_mm2=pressure_n_mm2)
    kernels = _kernels(it, odd_only=True)
    orders = kernels.orders
    mixed = it.rigidity_cross_n_mm + 4.0 * it.rigidity_twist_n_mm
    wave_x2 = np.square(np.pi / it.side_x_mm * orders)[:, np.newaxis]
    wave_y2 = np.square(np.pi / it.side_y_mm * orders)[np.newaxis, :]
    share_x = (it.rigidity_x_n_mm * wave_x2 + mixed * wave_y2) * wave_x2 * kernels.deflection
    share_y = (it.rigidity_y_n_mm * wave_y2 + mixed * wave_x2) * wave_y2 * kernels.deflection
    swing = np.resize([1.0, -1.0], len(orders)) / orders
    swing[-1] /= 2.0  # the mean of the last two partial sums of an alternating series
    squares = 1.0 / np.square(orders)
    lost_x = float(squares @ (share_x - 1.0) @ swing)
    lost_y = float(swing @ (share_y - 1.0) @ squares)
    scale = 16.0 * pressure_n_mm2 / np.pi**3
    return (
        it.side_x_mm * (pressure_n_mm2 / 2.0 + scale * lost_x),
        it.side_y_mm * (pressure_n_mm2 / 2.0 + scale * lost_y),
    )
