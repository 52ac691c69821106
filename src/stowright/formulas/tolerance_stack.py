"""How a fit comes out when each of its terms varies: a sum of independent terms.

fit = nominal + sum of (sensitivity x deviation). Each deviation has mean zero (a known bias belongs
into the nominal value) and a shape: even over +- its half-width, triangular over it, or normal with
the half-width taken as two standard deviations. A term that enters twice (one sheet's thickness in
both sides) is given once with the sum of its sensitivities.

Two routes that have to agree: the exact distribution of the sum, from the product of the terms'
characteristic functions, and a seeded Monte Carlo.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from stowright.errors import OutOfRangeError, require_not_negative
from stowright.formulas.ranges import require_at_least, require_finite
from stowright.formulas.sources import Source

__all__ = [
    "SOURCES",
    "BuildSample",
    "Shape",
    "Share",
    "Term",
    "monte_carlo",
    "ranked_shares",
    "standard_deviation_mm",
    "window_probability",
    "window_probability_if_normal",
    "worst_case_mm",
]

type Shape = Literal["even", "triangular", "normal"]

# Waves of the Fourier sum: with two even terms the distribution is then within 1e-6.
WAVES: Final = 4096
# Half a period of that sum, in standard deviations, beyond the bounded terms' reach.
TAIL: Final = 8.0

_EXACT: Final = Source(
    text="linear propagation of independent terms, characteristic functions", standing="derived"
)
SOURCES: Final = {name: _EXACT for name in __all__ if name.islower()}


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One thing that varies.

    Attributes:
        name: What it is, for the ranking. half_width_mm: How far it may be out, either way; two
        standard deviations of a normal one. [mm]. sensitivity: What one millimetre of it does to
        the fit; the sign does not matter to the spread. shape: How it is spread over its range.
    """

    name: str
    half_width_mm: float
    sensitivity: float = 1.0
    shape: Shape = "even"

    @property
    def reach_mm(self) -> float:
        """Largest effect on the fit (two standard deviations of a normal term). [mm]."""
        return abs(self.sensitivity) * self.half_width_mm

    @property
    def variance_mm2(self) -> float:
        """Variance of its effect on the fit. [mm2]."""
        return self.reach_mm**2 / {"even": 3.0, "triangular": 6.0, "normal": 4.0}[self.shape]


class Share(NamedTuple):
    """What one term contributes to the variance of the fit.

    Attributes:
        name: The term.
        share: Its part of the whole variance. [-].
        standard_mm: Standard deviation of its effect. [mm].
    """

    name: str
    share: float
    standard_mm: float


class BuildSample(NamedTuple):
    """What a Monte Carlo of many builds found.

    Attributes:
        mean_mm: Mean fit. [mm].
        standard_mm: Standard deviation of the fit. [mm].
        inside: Part of the builds inside the window. [-].
        low_mm: Fit that 5 of 100 builds are below. [mm].
        high_mm: Fit that 5 of 100 builds are above. [mm].
        inside_error: Standard error of ``inside``. [-].
    """

    mean_mm: float
    standard_mm: float
    inside: float
    low_mm: float
    high_mm: float
    inside_error: float


def _require_terms(terms: Sequence[Term]) -> None:
    """Refuse widths and sensitivities that are no numbers."""
    for term in terms:
        require_not_negative(half_width_mm=term.half_width_mm)
        require_finite(sensitivity=term.sensitivity)


def _require_window(low_mm: float, high_mm: float) -> None:
    """Refuse a window without an inside; either end may be infinite."""
    if not low_mm < high_mm:
        raise OutOfRangeError("high_mm", high_mm, "above low_mm")


def standard_deviation_mm(*, terms: Sequence[Term]) -> float:
    """Return the standard deviation of the fit, whatever the shapes. [mm].

    sqrt(sum of variances): h^2/3 even, h^2/6 triangular, h^2/4 normal (h two standard deviations).

    Source: linear propagation of independent terms. Standing: derived.

    Raises:
        OutOfRangeError: If a width is negative or a number not finite.
    """
    _require_terms(terms)
    return math.sqrt(math.fsum(term.variance_mm2 for term in terms))


def worst_case_mm(*, terms: Sequence[Term]) -> float:
    """Return how far the fit is out when every term is at its worst. [mm].

    Sum of |sensitivity| x half-width.

    Source: linear propagation. Standing: derived.

    Raises:
        OutOfRangeError: If a width is negative or a number not finite.
    """
    _require_terms(terms)
    return math.fsum(term.reach_mm for term in terms)


def ranked_shares(*, terms: Sequence[Term]) -> tuple[Share, ...]:
    """Return each term's part of the variance, largest first; equal ones in the order given.

    Source: linear propagation of independent terms. Standing: derived.

    Raises:
        OutOfRangeError: If a width is negative or a number not finite.
    """
    whole = standard_deviation_mm(terms=terms) ** 2
    shares = (
        Share(
            name=term.name,
            share=term.variance_mm2 / whole if whole else 0.0,
            standard_mm=math.sqrt(term.variance_mm2),
        )
        for term in terms
    )
    return tuple(sorted(shares, key=lambda share: -share.share))


def window_probability_if_normal(
    *, nominal_mm: float, terms: Sequence[Term], low_mm: float, high_mm: float
) -> float:
    """Return the chance that the fit lies in a window if the sum is taken to be normal. [-].

    Phi((high - nominal)/s) - Phi((low - nominal)/s). Good for many like terms; the exact one is
    better.

    Source: linear propagation of independent terms. Standing: derived.

    Raises:
        OutOfRangeError: If a width is negative, a number is no number or the window has no inside.
    """
    require_finite(nominal_mm=nominal_mm)
    _require_window(low_mm, high_mm)
    spread_mm = standard_deviation_mm(terms=terms)
    if spread_mm == 0.0:
        return float(low_mm <= nominal_mm <= high_mm)
    scale = spread_mm * math.sqrt(2.0)
    below_high = math.erf((high_mm - nominal_mm) / scale)
    return (below_high - math.erf((low_mm - nominal_mm) / scale)) / 2.0


def window_probability(
    *, nominal_mm: float, terms: Sequence[Term], low_mm: float, high_mm: float
) -> float:
    """Return the chance that the fit lies in a window, for the terms' true shapes. [-].

    The distribution of the sum is a Fourier sum whose coefficients are the product of the terms'
    characteristic functions: sin(h t)/(h t) even, its square at half the width triangular, exp(-s^2
    t^2/2) normal.

    Source: characteristic functions. Standing: derived.

    Raises:
        OutOfRangeError: If a width is negative, a number is no number or the window has no inside.
    """
    require_finite(nominal_mm=nominal_mm)
    _require_window(low_mm, high_mm)
    _require_terms(terms)
    moving = [term for term in terms if term.reach_mm > 0.0]
    if not moving:
        return float(low_mm <= nominal_mm <= high_mm)
    below = _distribution(moving, (low_mm - nominal_mm, high_mm - nominal_mm))
    return min(1.0, max(0.0, below[1] - below[0]))


def _distribution(terms: Sequence[Term], at_mm: tuple[float, float]) -> tuple[float, float]:
    """Return the chance that the sum of deviations lies below each of two places."""
    bounded_mm = math.fsum(term.reach_mm for term in terms if term.shape != "normal")
    normal_mm2 = math.fsum(term.variance_mm2 for term in terms if term.shape == "normal")
    half_mm = bounded_mm + TAIL * math.sqrt(normal_mm2)
    orders = 1.0 + np.arange(WAVES, dtype=np.float64)
    turn = np.pi / half_mm * orders
    weight = np.exp(-normal_mm2 / 2.0 * turn**2)
    for term in terms:
        if term.shape == "even":
            weight *= np.sinc(term.reach_mm / np.pi * turn)
        elif term.shape == "triangular":
            weight *= np.sinc(term.reach_mm / 2.0 / np.pi * turn) ** 2
    weight /= np.pi * orders
    return _below(weight, turn, at_mm[0], half_mm), _below(weight, turn, at_mm[1], half_mm)


def _below(
    weight: NDArray[np.float64], turn: NDArray[np.float64], at_mm: float, half_mm: float
) -> float:
    """Sum the series at a place: 1/2 + x/2L + sum of weight sin(turn x)."""
    if abs(at_mm) >= half_mm:
        return float(at_mm > 0.0)
    return 0.5 + at_mm / (2.0 * half_mm) + float(weight @ np.sin(turn * at_mm))


def monte_carlo(
    *,
    nominal_mm: float,
    terms: Sequence[Term],
    low_mm: float,
    high_mm: float,
    builds: int = 100_000,
    seed: int = 20_260_101,
) -> BuildSample:
    """Return what many simulated builds give; the same seed gives the same builds.

    Source: seeded Monte Carlo of independent terms. Standing: derived.

    Raises:
        OutOfRangeError: If a width is negative, a number is no number, the window has no inside or
        there
            are fewer than two builds.
    """
    require_finite(nominal_mm=nominal_mm)
    _require_window(low_mm, high_mm)
    _require_terms(terms)
    require_at_least(low=2.0, builds=builds)
    random = np.random.Generator(np.random.PCG64(seed))
    fit = np.full(builds, nominal_mm)
    for term in terms:
        fit += _draw(random, term, builds)
    inside = float(np.count_nonzero((fit >= low_mm) & (fit <= high_mm))) / builds
    low, high = np.quantile(fit, (0.05, 0.95))
    return BuildSample(
        mean_mm=float(fit.mean()),
        standard_mm=float(fit.std(ddof=1)),
        inside=inside,
        low_mm=float(low),
        high_mm=float(high),
        inside_error=math.sqrt(inside * (1.0 - inside) / builds),
    )


def _draw(random: np.random.Generator, term: Term, builds: int) -> NDArray[np.float64]:
    """Draw one term's effect for each build."""
    reach_mm = term.reach_mm
    if term.shape == "normal":
        return random.standard_normal(builds) * (reach_mm / 2.0)
    first = random.uniform(-reach_mm, reach_mm, builds)
    if term.shape == "triangular":
        return (first + random.uniform(-reach_mm, reach_mm, builds)) / 2.0
    return first
