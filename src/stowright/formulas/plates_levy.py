"""Orthotropic plate on two opposite knife edges, other edges free or supported: Levy's series.

The edges x = 0 and x = a are supported; y = 0 and y = b are each free or supported. For each half
wave k = m pi / a along x the deflection is W(y) sin(k x) with::

    Dy W'''' - 2 H k^2 W'' + Dx k^4 W = q_m(y),   H = D1 + 2 Dxy

solved in closed form: the patch on an endless strip plus four decaying exponentials that meet the
conditions at both edges. A free edge has My = 0 and no edge force; a supported one W = My = 0. With
both edges supported it is Navier's plate again, found by another route. Use it for loads at or near
a free edge, where a whole plate supported all round would flatter the part.

Conventions (axes, signs, units) are those of ``plates_navier``, which makes the plate.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.plates_navier import PlateResponse, SimplySupportedPlate
from stowright.formulas.ranges import require_between
from stowright.formulas.sources import Source

__all__ = ["SOURCES", "patch_response", "uniform_response"]

type _Complex = NDArray[np.complex128]
type _Real = NDArray[np.float64]

MODES: Final = 160
# Equal roots (H^2 = Dx Dy, the isotropic plate) have another closed form; they are kept apart by
# this much.
ROOT_GAP: Final = 1e-6

_LEVY: Final = Source(
    text=(
        "Levy's method, Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, ch. 6 and 11;"
        " worked out here, checked against Navier's series and finite elements"
    ),
    standing="derived",
)
SOURCES: Final = {name: _LEVY for name in __all__ if name.islower()}


class _Waves(NamedTuple):
    """One row per half wave: k, the two roots, and what each root adds under a unit line load."""

    wave: _Real
    roots: _Complex
    parts: _Complex


def _waves(it: SimplySupportedPlate) -> _Waves:
    """Return roots r with positive real part of Dy r^4 - 2 H k^2 r^2 + Dx k^4, and their shares."""
    wave = np.pi / it.side_x_mm * (1.0 + np.arange(MODES, dtype=np.float64))
    mixed = it.rigidity_cross_n_mm + 2.0 * it.rigidity_twist_n_mm
    gap = mixed**2 - it.rigidity_x_n_mm * it.rigidity_y_n_mm
    least = ROOT_GAP * mixed * mixed
    gap = gap if abs(gap) > least else least
    spread = np.emath.sqrt(gap)
    squares = np.array([mixed + spread, mixed - spread], dtype=np.complex128)
    unit = np.sqrt(squares / it.rigidity_y_n_mm)
    roots = (wave[:, np.newaxis] * unit).astype(np.complex128)
    apart = 2.0 * it.rigidity_y_n_mm * (roots[:, :1] ** 2 - roots[:, 1:] ** 2)
    parts = (np.array([-1.0, 1.0]) / (roots * apart)).astype(np.complex128)
    return _Waves(wave=wave, roots=roots, parts=parts)


def _beside_patch(waves: _Waves, low_mm: float, high_mm: float, at_mm: float) -> _Complex:
    """Return W and three derivatives beside a unit load from low to high on an endless strip."""
    side = 1.0 if at_mm >= high_mm else -1.0
    gap_mm = at_mm - high_mm if side > 0.0 else low_mm - at_mm
    drop = np.exp(-waves.roots * gap_mm) - np.exp(-waves.roots * (gap_mm + high_mm - low_mm))
    each = waves.parts / waves.roots * drop
    return np.array([np.sum(each * (-side * waves.roots) ** order, axis=1) for order in range(4)])


def _under_patch(waves: _Waves, low_mm: float, high_mm: float, at_mm: float) -> _Complex:
    """Return W and its second derivative within a unit load from low to high, endless strip."""
    near = np.exp(-waves.roots * (at_mm - low_mm))
    far = np.exp(-waves.roots * (high_mm - at_mm))
    each = waves.parts / waves.roots
    sag = np.sum(each * (2.0 - near - far), axis=1)
    bend = np.sum(-each * waves.roots**2 * (near + far), axis=1)
    return np.array([sag, bend])


def _decaying(waves: _Waves, side_mm: float, at_mm: float) -> _Complex:
    """Return derivatives 0 to 3 of the four exponentials at a place; [derivative, wave, term]."""
    up = np.exp(-waves.roots * at_mm)
    down = np.exp(-waves.roots * (side_mm - at_mm))
    return np.array(
        [
            np.concatenate([(-waves.roots) ** order * up, waves.roots**order * down], axis=1)
            for order in range(4)
        ]
    )


def _edge_conditions(
    it: SimplySupportedPlate, wave: _Real, shape: _Complex, *, free: bool
) -> tuple[_Complex, _Complex]:
    """Return the two expressions that vanish at an edge, scaled to like size."""
    k2 = (wave**2).reshape(-1, *[1] * (shape.ndim - 2))
    if not free:
        return shape[0] * k2, shape[2]
    cross, twist = it.rigidity_cross_n_mm, it.rigidity_twist_n_mm
    along = it.rigidity_y_n_mm
    moment = shape[2] - cross / along * k2 * shape[0]
    force = (shape[3] - (cross + 4.0 * twist) / along * k2 * shape[1]) / np.sqrt(k2)
    return moment, force


def _profile(
    it: SimplySupportedPlate,
    *,
    free: tuple[bool, bool],
    loaded_mm: tuple[float, float],
    at_mm: float,
) -> tuple[_Real, _Real, _Real]:
    """Return k, W and W'' of every half wave at a place, for a unit load over the loaded length."""
    waves = _waves(it)
    side_mm = it.side_y_mm
    rows: list[_Complex] = []
    sums: list[_Complex] = []
    for edge_mm, is_free in zip((0.0, side_mm), free, strict=True):
        rows += _edge_conditions(it, waves.wave, _decaying(waves, side_mm, edge_mm), free=is_free)
        sums += _edge_conditions(
            it, waves.wave, _beside_patch(waves, *loaded_mm, edge_mm), free=is_free
        )
    terms = np.linalg.solve(np.stack(rows, axis=1), -np.stack(sums, axis=1)[..., np.newaxis])
    here = _decaying(waves, side_mm, at_mm)
    if loaded_mm[0] < at_mm < loaded_mm[1]:
        patch = _under_patch(waves, *loaded_mm, at_mm)
    else:
        patch = _beside_patch(waves, *loaded_mm, at_mm)[::2]
    sag = patch[0] + np.sum(here[0] * terms[..., 0], axis=1)
    bend = patch[1] + np.sum(here[2] * terms[..., 0], axis=1)
    return waves.wave, sag.real, bend.real


def _middle_or(at_mm: float | None, side_mm: float, name: str) -> float:
    """Return a place on a side, the middle when none is given."""
    if at_mm is None:
        return side_mm / 2.0
    require_between(low=0.0, high=side_mm, **{name: at_mm})
    return at_mm


def patch_response(
    it: SimplySupportedPlate,
    *,
    free_low: bool,
    free_high: bool,
    load_n: float,
    patch_x_mm: float,
    patch_y_mm: float,
    centre_x_mm: float | None = None,
    centre_y_mm: float | None = None,
    at_x_mm: float | None = None,
    at_y_mm: float | None = None,
) -> PlateResponse:
    """Return deflection and moments at a point under a load spread over a rectangle.

    ``free_low`` says that the edge y = 0 is free, ``free_high`` that y = b is. Load P [N], patch u
    x v [mm], its centre (default: the plate's centre), the point looked at (default: the patch's
    centre).

    Source: Levy's method, Timoshenko & Woinowsky-Krieger, ch. 6 and 11. Standing: derived.

    Raises:
        OutOfRangeError: If the load is negative, the patch overhangs the plate or the point lies
        off it.
    """
    require_not_negative(load_n=load_n)
    require_positive(patch_x_mm=patch_x_mm, patch_y_mm=patch_y_mm)
    over_x_mm = _middle_or(centre_x_mm, it.side_x_mm, "centre_x_mm")
    over_y_mm = _middle_or(centre_y_mm, it.side_y_mm, "centre_y_mm")
    room_x_mm = 2.0 * min(over_x_mm, it.side_x_mm - over_x_mm)
    room_y_mm = 2.0 * min(over_y_mm, it.side_y_mm - over_y_mm)
    require_between(low=0.0, high=room_x_mm, patch_x_mm=patch_x_mm)
    require_between(low=0.0, high=room_y_mm, patch_y_mm=patch_y_mm)
    x_mm = over_x_mm if at_x_mm is None else _middle_or(at_x_mm, it.side_x_mm, "at_x_mm")
    y_mm = over_y_mm if at_y_mm is None else _middle_or(at_y_mm, it.side_y_mm, "at_y_mm")
    half_mm = patch_y_mm / 2.0
    wave, sag, bend = _profile(
        it,
        free=(free_low, free_high),
        loaded_mm=(over_y_mm - half_mm, over_y_mm + half_mm),
        at_mm=y_mm,
    )
    load = 4.0 * load_n / (it.side_x_mm * patch_x_mm * patch_y_mm) / wave
    each = load * np.sin(wave * over_x_mm) * np.sin(wave * patch_x_mm / 2.0) * np.sin(wave * x_mm)
    moment_x = it.rigidity_x_n_mm * wave**2 * sag - it.rigidity_cross_n_mm * bend
    moment_y = it.rigidity_cross_n_mm * wave**2 * sag - it.rigidity_y_n_mm * bend
    return PlateResponse(
        deflection_mm=float(each @ sag),
        moment_x_n=float(each @ moment_x),
        moment_y_n=float(each @ moment_y),
    )


def uniform_response(
    it: SimplySupportedPlate,
    *,
    free_low: bool,
    free_high: bool,
    pressure_n_mm2: float,
    at_x_mm: float | None = None,
    at_y_mm: float | None = None,
) -> PlateResponse:
    """Return deflection and moments at a point (the centre by default) under an even load.

    The patch that covers the plate. The worst place is often the middle of a free edge.

    Source: Levy's method, Timoshenko & Woinowsky-Krieger, ch. 6 and 11. Standing: derived.

    Raises:
        OutOfRangeError: If the pressure is negative or the point lies off the plate.
    """
    require_not_negative(pressure_n_mm2=pressure_n_mm2)
    return patch_response(
        it,
        free_low=free_low,
        free_high=free_high,
        load_n=pressure_n_mm2 * it.side_x_mm * it.side_y_mm,
        patch_x_mm=it.side_x_mm,
        patch_y_mm=it.side_y_mm,
        at_x_mm=at_x_mm,
        at_y_mm=at_y_mm,
    )
