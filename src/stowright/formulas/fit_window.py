"""The chance that a sliding fit works at both of its ends, with its sideways run-out.

A drawer runs when the play of its two sides together lies inside a window at the face *and* at the
back. Some terms shift both ends (a sheet's thickness), some only one (a panel's cut); run-out adds
to the play on one side what it takes from the other, and both sides have to stay inside half the
window. Two routes that have to agree: sums of independent terms as distributions on a fine grid,
and a seeded Monte Carlo of whole builds. Terms are those of ``tolerance_stack``.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from stowright.errors import OutOfRangeError, require_not_negative
from stowright.formulas.ranges import require_at_least, require_finite
from stowright.formulas.sources import Source
from stowright.formulas.tolerance_stack import Shape, Term

__all__ = [
    "SOURCES",
    "EndSample",
    "FitStack",
    "Spread",
    "centred_probability",
    "runs_probability",
    "sample_builds",
    "shifted_probabilities",
]

type Array = NDArray[np.float64]

# Width of a cell of the grid. [mm]
CELL: Final = 0.005
# Reach of a normal term on the grid, in its half-widths of two standard deviations.
NORMAL_REACH: Final = 2.5

_EXACT: Final = Source(text="sums of independent terms by convolution", standing="derived")
SOURCES: Final = {
    "runs_probability": _EXACT,
    "shifted_probabilities": _EXACT,
    "centred_probability": _EXACT,
    "sample_builds": Source(
        text="seeded Monte Carlo of independent terms, ends and sides judged build by build",
        standing="derived",
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FitStack:
    """What makes up the play of a sliding fit.

    Attributes:
        face_mm, back_mm: Mean play of both sides together at either end. [mm].
        low_mm, high_mm: The window of that play; the upper end may be infinite. [mm].
        shared: Terms that shift both ends alike.
        at_face, at_back: Terms of one end alone.
        sideways: Run-out at the back: what one side gains and the other loses.
    """

    face_mm: float
    back_mm: float
    low_mm: float
    high_mm: float
    shared: tuple[Term, ...] = ()
    at_face: tuple[Term, ...] = ()
    at_back: tuple[Term, ...] = ()
    sideways: tuple[Term, ...] = ()


class Spread(NamedTuple):
    """How a size came out over many builds. [mm]."""

    mean_mm: float
    standard_mm: float
    low_mm: float
    high_mm: float


class EndSample(NamedTuple):
    """What many simulated builds found.

    Attributes:
        inside: Part of the builds that run at both ends. [-].
        face: Part inside the window at the face. [-].
        back: Part inside it at the back, run-out included. [-].
        inside_error: Standard error of ``inside``. [-].
        face_spread, back_spread: Play at either end; low and high leave 5 of 100 outside each.
    """

    inside: float
    face: float
    back: float
    inside_error: float
    face_spread: Spread
    back_spread: Spread


def _check(stack: FitStack) -> None:
    require_finite(face_mm=stack.face_mm, back_mm=stack.back_mm)
    if not stack.low_mm < stack.high_mm:
        raise OutOfRangeError("high_mm", stack.high_mm, "above low_mm")
    for term in (*stack.shared, *stack.at_face, *stack.at_back, *stack.sideways):
        require_not_negative(half_width_mm=term.half_width_mm)
        require_finite(sensitivity=term.sensitivity)


def runs_probability(stack: FitStack) -> float:
    """Return the chance that a build runs at the face and at the back. [-].

    P = sum over x of p(x) F(x) B(x): p the distribution of what both ends share, F and B the chance
    that face and back lie in the window given x; at the back both sides, play/2 +- run-out, have to
    lie in half the window.

    Source: sums of independent terms by convolution. Standing: derived.

    Raises:
        OutOfRangeError: If a width is negative, a number is no number or the window has no inside.
    """
    return shifted_probabilities(stack, shifts_mm=(0.0,))[0]


def shifted_probabilities(stack: FitStack, *, shifts_mm: tuple[float, ...]) -> tuple[float, ...]:
    """Return the chance that a build runs for each of several changes of its mean play. [-].

    As ``runs_probability``, the play at both ends larger by each shift in turn.

    Source: sums of independent terms by convolution. Standing: derived.

    Raises:
        OutOfRangeError: If a width is negative, a number is no number or the window has no inside.
    """
    return _shifted(stack, shifts_mm)


@lru_cache(maxsize=1024)
def _shifted(stack: FitStack, shifts_mm: tuple[float, ...]) -> tuple[float, ...]:
    """Work the chances out; kept, since alike drawers ask alike."""
    _check(stack)
    require_finite(**{f"shift_{n}": shift for n, shift in enumerate(shifts_mm)})
    shared, at_face = _masses(stack.shared), _masses(stack.at_face)
    offsets = CELL * (np.arange(len(shared)) - len(shared) // 2)
    found = []
    for shift in shifts_mm:
        face = _inside(at_face, stack.face_mm + shift + offsets, stack)
        back = _centred(stack.at_back, stack.sideways, stack.back_mm + shift + offsets, stack)
        found.append(min(1.0, max(0.0, float(np.sum(shared * face * back)))))
    return tuple(found)


def centred_probability(stack: FitStack) -> float:
    """Return the chance that both sides at the back lie in half the window. [-].

    P(low <= play - 2 |run-out| and play + 2 |run-out| <= high): the gap left and right of a front.

    Source: sums of independent terms by convolution. Standing: derived.

    Raises:
        OutOfRangeError: If a width is negative, a number is no number or the window has no inside.
    """
    return _both_sides(stack)


@lru_cache(maxsize=1024)
def _both_sides(stack: FitStack) -> float:
    """Work the chance out; kept, since alike fronts ask alike."""
    _check(stack)
    terms = (*stack.shared, *stack.at_back)
    found = _centred(terms, stack.sideways, np.array([stack.back_mm]), stack)
    return min(1.0, max(0.0, float(found[0])))


@lru_cache(maxsize=256)
def _masses(terms: tuple[Term, ...]) -> Array:
    """Return the distribution of a sum of terms on the grid: an odd row, zero in its middle."""
    rows = [_one(term.reach_mm, term.shape) for term in terms if term.reach_mm > 0.0]
    if not rows:
        return np.ones(1)
    size = sum(len(row) - 1 for row in rows) + 1
    room = 1 << (size - 1).bit_length()
    product = np.fft.rfft(rows[0], room)
    for row in rows[1:]:
        product = product * np.fft.rfft(row, room)
    found: Array = np.clip(np.fft.irfft(product, room)[:size], 0.0, None)
    found.setflags(write=False)
    return found


@lru_cache(maxsize=256)
def _one(reach_mm: float, shape: Shape) -> Array:
    """Return one term's chances cell by cell."""
    wide = reach_mm * NORMAL_REACH if shape == "normal" else reach_mm
    half = math.ceil(wide / CELL)
    edges = CELL * (np.arange(2 * half + 2) - half - 0.5) / reach_mm
    if shape == "even":
        below = np.clip((edges + 1.0) / 2.0, 0.0, 1.0)
    elif shape == "triangular":
        tail = np.maximum(1.0 - np.abs(edges), 0.0) ** 2 / 2.0
        below = np.where(edges < 0.0, tail, 1.0 - tail)
    else:
        below = np.array([math.erf(edge * math.sqrt(2.0)) for edge in edges])
        below = (below - below[0]) / (below[-1] - below[0])
    cells: Array = np.diff(below)
    cells.setflags(write=False)
    return cells


def _below(cells: Array, at_mm: NDArray[np.floating]) -> Array:
    """Return the chance that a sum on the grid lies below each of several places."""
    edges = CELL * (np.arange(len(cells) + 1) - len(cells) / 2.0)
    sums = np.concatenate(([0.0], np.cumsum(cells)))
    found: Array = np.interp(at_mm, edges, sums, left=0.0, right=1.0)
    return found


def _inside(own: Array, centre_mm: NDArray[np.floating], stack: FitStack) -> Array:
    """Return the chance that centre + own lies in the window, for each centre."""
    return _below(own, stack.high_mm - centre_mm) - _below(own, stack.low_mm - centre_mm)


def _centred(
    terms: tuple[Term, ...],
    sideways: tuple[Term, ...],
    centre_mm: NDArray[np.floating],
    stack: FitStack,
) -> Array:
    """Return the chance that both sides stay in half the window, for each centre."""
    own, runout = _masses(terms), _masses(sideways)
    if len(runout) == 1:
        return _inside(own, centre_mm, stack)
    half = len(own) // 2
    steps = np.arange(-half, len(centre_mm) + half)
    play = centre_mm[0] + CELL * steps
    room = np.minimum(play - stack.low_mm, stack.high_mm - play) / 2.0
    chance = np.where(room > 0.0, 2.0 * _below(runout, np.maximum(room, 0.0)) - 1.0, 0.0)
    room_for = 1 << (len(chance) - 1).bit_length()
    product = np.fft.rfft(chance, room_for) * np.fft.rfft(own, room_for)
    whole: Array = np.fft.irfft(product, room_for)
    return whole[len(own) - 1 : len(chance)]


@lru_cache(maxsize=64)
def _draws(place: int, shape: Shape, builds: int, seed: int) -> Array:
    """Return seeded draws of a term of half-width one; kept, so that only sums are left to do."""
    random = np.random.Generator(np.random.PCG64(np.random.SeedSequence((seed, place))))
    drawn: Array
    if shape == "normal":
        drawn = random.standard_normal(builds) / 2.0
    elif shape == "triangular":
        drawn = random.uniform(-1.0, 1.0, (2, builds)).mean(axis=0)
    else:
        drawn = random.uniform(-1.0, 1.0, builds)
    drawn.setflags(write=False)
    return drawn


def sample_builds(stack: FitStack, *, builds: int = 100_000, seed: int = 20_260_101) -> EndSample:
    """Return what many simulated builds give; the same seed gives the same builds.

    Source: seeded Monte Carlo of independent terms, ends and sides judged build by build.
    Standing: derived.

    Raises:
        OutOfRangeError: If a width is negative, a number is no number, the window has no inside or
            there are fewer than two builds.
    """
    return _sampled(stack, builds, seed)


@lru_cache(maxsize=256)
def _sampled(stack: FitStack, builds: int, seed: int) -> EndSample:
    """Make the builds; kept, since alike drawers ask alike."""
    _check(stack)
    require_at_least(low=2.0, builds=builds)
    groups = (stack.shared, stack.at_face, stack.at_back, stack.sideways)
    sums, place = [], 0
    for terms in groups:
        total = np.zeros(builds)
        for term in terms:
            total += term.reach_mm * _draws(place, term.shape, builds, seed)
            place += 1
        sums.append(total)
    face_mm = stack.face_mm + sums[0] + sums[1]
    back_mm = stack.back_mm + sums[0] + sums[2]
    runout = 2.0 * np.abs(sums[3])
    at_face = (face_mm >= stack.low_mm) & (face_mm <= stack.high_mm)
    at_back = (back_mm - runout >= stack.low_mm) & (back_mm + runout <= stack.high_mm)
    inside = float(np.count_nonzero(at_face & at_back)) / builds
    return EndSample(
        inside=inside,
        face=float(np.count_nonzero(at_face)) / builds,
        back=float(np.count_nonzero(at_back)) / builds,
        inside_error=math.sqrt(inside * (1.0 - inside) / builds),
        face_spread=_spread(face_mm),
        back_spread=_spread(back_mm),
    )


def _spread(sizes_mm: Array) -> Spread:
    """Return mean, standard deviation and the places that 5 of 100 lie below and above."""
    cut = len(sizes_mm) // 20
    ordered = np.partition(sizes_mm, (cut, len(sizes_mm) - 1 - cut))
    return Spread(
        mean_mm=float(sizes_mm.mean()),
        standard_mm=float(sizes_mm.std(ddof=1)),
        low_mm=float(ordered[cut]),
        high_mm=float(ordered[len(sizes_mm) - 1 - cut]),
    )
