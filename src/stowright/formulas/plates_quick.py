"""Navier's series cut short: the middle of a plate on four edges, for trying many plates quickly.

The first waves of the series of ``plates_navier``, a small array of them. Under an even load the
moments are within 2 % of the greater one; under a patch in the middle they come out a little low,
by the waves left out, so that what already fails here fails in the whole series too.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.plates_navier import PlateResponse, SimplySupportedPlate
from stowright.formulas.sources import Source

__all__ = ["SOURCES", "middle_under_patch", "middle_under_uniform"]

type _Row = NDArray[np.float64]

# Odd waves each way; even ones are nil in the middle.
WAVES: Final = np.array((1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21))
_SQUARES: Final = (math.pi * WAVES) ** 2
_ONES: Final = np.ones(len(WAVES))
#: What an even load gives each wave: 1 / m, its sign the wave's own in the middle.
_EVEN: Final = np.where(WAVES % 4 == 1, 1.0, -1.0) / WAVES

_NAVIER: Final = Source(
    text="Navier series, Timoshenko & Woinowsky-Krieger, ch. 11, its first waves",
    standing="derived",
)
SOURCES: Final = {name: _NAVIER for name in __all__ if name.islower()}


def _summed(it: SimplySupportedPlate, load: float, along: _Row, across: _Row) -> PlateResponse:
    """Sum the waves, each with its share of the load along either side."""
    wave_x, wave_y = _SQUARES / it.side_x_mm**2, _SQUARES / it.side_y_mm**2
    mixed = it.rigidity_cross_n_mm + 2.0 * it.rigidity_twist_n_mm
    twisted = 2.0 * mixed * wave_x[:, None] * wave_y
    stiff = it.rigidity_x_n_mm * (wave_x * wave_x)[:, None] + twisted
    stiff += it.rigidity_y_n_mm * (wave_y * wave_y)
    each = along[:, None] * across / stiff
    rows = each.dot(_ONES)
    curve_x, curve_y = float(rows.dot(wave_x)), float(_ONES.dot(each).dot(wave_y))
    cross = it.rigidity_cross_n_mm
    return PlateResponse(
        deflection_mm=load * float(rows.dot(_ONES)),
        moment_x_n=load * (it.rigidity_x_n_mm * curve_x + cross * curve_y),
        moment_y_n=load * (it.rigidity_y_n_mm * curve_y + cross * curve_x),
    )


def middle_under_uniform(it: SimplySupportedPlate, *, pressure_n_mm2: float) -> PlateResponse:
    """Return deflection and moments amid a plate under an even load.

    q_mn = 16 q / (pi^2 m n), waves up to 21.

    Source: Timoshenko & Woinowsky-Krieger, ch. 11. Standing: derived.

    Raises:
        OutOfRangeError: If the pressure is negative.
    """
    require_not_negative(pressure_n_mm2=pressure_n_mm2)
    return _summed(it, 16.0 * pressure_n_mm2 / math.pi**2, _EVEN, _EVEN)


def middle_under_patch(
    it: SimplySupportedPlate, *, load_n: float, patch_x_mm: float, patch_y_mm: float
) -> PlateResponse:
    """Return deflection and moments amid a plate under a patch in its middle.

    q_mn = 16 P / (pi^2 m n u v) sin(m pi u / 2a) sin(n pi v / 2b), waves up to 21.

    Source: Timoshenko & Woinowsky-Krieger, ch. 11. Standing: derived.

    Raises:
        OutOfRangeError: If the load is negative or a side of the patch not above zero.
    """
    require_not_negative(load_n=load_n)
    require_positive(patch_x_mm=patch_x_mm, patch_y_mm=patch_y_mm)
    half = math.pi / 2.0
    along = np.sin(WAVES * (half * patch_x_mm / it.side_x_mm)) / (WAVES * patch_x_mm)
    across = np.sin(WAVES * (half * patch_y_mm / it.side_y_mm)) / (WAVES * patch_y_mm)
    return _summed(it, 16.0 * load_n / math.pi**2, along, across)
