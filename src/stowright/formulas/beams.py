"""Straight beams and strips of one material: deflection, moment, shear.

Loads push one way and are given as zero or more. Line loads [N/mm], point loads [N], spans [mm],
moduli [N/mm2], second moments [mm4]; deflections come out in mm, moments in N mm, forces in N.
Shear deflection is left out, which holds for span over depth of 10 and more.
"""

from __future__ import annotations

import math
from typing import Final

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.ranges import require_between
from stowright.formulas.sources import Source

__all__ = [
    "SOURCES",
    "cantilever_point_moment_n_mm",
    "cantilever_point_sag_mm",
    "cantilever_uniform_moment_n_mm",
    "cantilever_uniform_sag_mm",
    "fixed_point_moment_n_mm",
    "fixed_point_sag_under_load_mm",
    "fixed_uniform_moment_n_mm",
    "fixed_uniform_sag_mm",
    "pinned_end_moment_sag_mm",
    "pinned_patch_moment_n_mm",
    "pinned_patch_sag_mm",
    "pinned_point_moment_n_mm",
    "pinned_point_reactions_n",
    "pinned_point_sag_mm",
    "pinned_point_sag_under_load_mm",
    "pinned_uniform_moment_n_mm",
    "pinned_uniform_reaction_n",
    "pinned_uniform_sag_mm",
    "two_span_point_moments_n_mm",
    "two_span_point_sag_mm",
    "two_span_uniform_moment_n_mm",
    "two_span_uniform_reactions_n",
    "two_span_uniform_sag_mm",
]

_TABLES: Final = Source(
    text="textbook beam tables (Euler-Bernoulli), checked by integration", standing="derived"
)
SOURCES: Final = {name: _TABLES for name in __all__ if name.islower()}


def _require_beam(*, span_mm: float, modulus_n_mm2: float, second_moment_mm4: float) -> None:
    """Refuse a beam that is not there."""
    require_positive(
        span_mm=span_mm, modulus_n_mm2=modulus_n_mm2, second_moment_mm4=second_moment_mm4
    )


def pinned_uniform_sag_mm(
    *, line_load_n_mm: float, span_mm: float, modulus_n_mm2: float, second_moment_mm4: float
) -> float:
    """Return the largest deflection of a beam on two pins under an even load. [mm].

    w = 5 q L^4 / (384 E I), at midspan.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    _require_beam(span_mm=span_mm, modulus_n_mm2=modulus_n_mm2, second_moment_mm4=second_moment_mm4)
    require_not_negative(line_load_n_mm=line_load_n_mm)
    return 5.0 * line_load_n_mm * span_mm**4 / (384.0 * modulus_n_mm2 * second_moment_mm4)


def pinned_uniform_moment_n_mm(*, line_load_n_mm: float, span_mm: float) -> float:
    """Return the largest moment of a beam on two pins under an even load. [N mm].

    M = q L^2 / 8, at midspan.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    require_positive(span_mm=span_mm)
    require_not_negative(line_load_n_mm=line_load_n_mm)
    return line_load_n_mm * span_mm**2 / 8.0


def pinned_uniform_reaction_n(*, line_load_n_mm: float, span_mm: float) -> float:
    """Return the reaction at each end of a beam on two pins under an even load. [N].

    R = q L / 2.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    require_positive(span_mm=span_mm)
    require_not_negative(line_load_n_mm=line_load_n_mm)
    return line_load_n_mm * span_mm / 2.0


def pinned_point_sag_mm(
    *, load_n: float, span_mm: float, at_mm: float, modulus_n_mm2: float, second_moment_mm4: float
) -> float:
    """Return the largest deflection of a beam on two pins under a point load anywhere. [mm].

    w = P b (L^2 - b^2)^1.5 / (9 sqrt(3) L E I), b the shorter distance from the load to a pin; P
    L^3 / (48 E I) at midspan.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero, a load is negative or a place
            is off the beam.
    """
    _require_beam(span_mm=span_mm, modulus_n_mm2=modulus_n_mm2, second_moment_mm4=second_moment_mm4)
    require_not_negative(load_n=load_n)
    require_between(low=0.0, high=span_mm, at_mm=at_mm)
    short_mm = min(at_mm, span_mm - at_mm)
    shape = short_mm * math.sqrt((span_mm**2 - short_mm**2) ** 3) / (9.0 * math.sqrt(3.0) * span_mm)
    return load_n * shape / (modulus_n_mm2 * second_moment_mm4)


def pinned_point_sag_under_load_mm(
    *, load_n: float, span_mm: float, at_mm: float, modulus_n_mm2: float, second_moment_mm4: float
) -> float:
    """Return the deflection under a point load of a beam on two pins. [mm].

    w = P a^2 b^2 / (3 L E I).

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero, a load is negative or a place
            is off the beam.
    """
    _require_beam(span_mm=span_mm, modulus_n_mm2=modulus_n_mm2, second_moment_mm4=second_moment_mm4)
    require_not_negative(load_n=load_n)
    require_between(low=0.0, high=span_mm, at_mm=at_mm)
    other_mm = span_mm - at_mm
    shape = (at_mm * other_mm) ** 2 / (3.0 * span_mm)
    return load_n * shape / (modulus_n_mm2 * second_moment_mm4)


def pinned_point_moment_n_mm(*, load_n: float, span_mm: float, at_mm: float) -> float:
    """Return the moment under a point load of a beam on two pins. [N mm].

    M = P a b / L; P L / 4 at midspan.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero, a load is negative or a place
            is off the beam.
    """
    require_positive(span_mm=span_mm)
    require_not_negative(load_n=load_n)
    require_between(low=0.0, high=span_mm, at_mm=at_mm)
    return load_n * at_mm * (span_mm - at_mm) / span_mm


def pinned_point_reactions_n(*, load_n: float, span_mm: float, at_mm: float) -> tuple[float, float]:
    """Return the reactions at the end where `at` is counted from and at the other. [N].

    R1 = P b / L, R2 = P a / L.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero, a load is negative or a place
            is off the beam.
    """
    require_positive(span_mm=span_mm)
    require_not_negative(load_n=load_n)
    require_between(low=0.0, high=span_mm, at_mm=at_mm)
    far_n = load_n * at_mm / span_mm
    return load_n - far_n, far_n


def pinned_patch_sag_mm(
    *,
    load_n: float,
    span_mm: float,
    patch_mm: float,
    modulus_n_mm2: float,
    second_moment_mm4: float,
) -> float:
    """Return the midspan sag of a pinned beam under a load spread about midspan. [mm].

    w = P (8 L^3 - 4 L c^2 + c^3) / (384 E I).

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero, a load is negative or a place
            is off the beam.
    """
    _require_beam(span_mm=span_mm, modulus_n_mm2=modulus_n_mm2, second_moment_mm4=second_moment_mm4)
    require_not_negative(load_n=load_n)
    require_between(low=0.0, high=span_mm, patch_mm=patch_mm)
    shape = (8.0 * span_mm**3 - 4.0 * span_mm * patch_mm**2 + patch_mm**3) / 384.0
    return load_n * shape / (modulus_n_mm2 * second_moment_mm4)


def pinned_patch_moment_n_mm(*, load_n: float, span_mm: float, patch_mm: float) -> float:
    """Return the midspan moment of a pinned beam under a load spread about midspan. [N mm].

    M = P (2 L - c) / 8.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero, a load is negative or a place
            is off the beam.
    """
    require_positive(span_mm=span_mm)
    require_not_negative(load_n=load_n)
    require_between(low=0.0, high=span_mm, patch_mm=patch_mm)
    return load_n * (2.0 * span_mm - patch_mm) / 8.0


def fixed_uniform_sag_mm(
    *, line_load_n_mm: float, span_mm: float, modulus_n_mm2: float, second_moment_mm4: float
) -> float:
    """Return the largest deflection of a beam built in at both ends under an even load. [mm].

    w = q L^4 / (384 E I), at midspan.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    _require_beam(span_mm=span_mm, modulus_n_mm2=modulus_n_mm2, second_moment_mm4=second_moment_mm4)
    require_not_negative(line_load_n_mm=line_load_n_mm)
    return line_load_n_mm * span_mm**4 / (384.0 * modulus_n_mm2 * second_moment_mm4)


def fixed_uniform_moment_n_mm(*, line_load_n_mm: float, span_mm: float) -> float:
    """Return the largest moment of a beam built in at both ends under an even load. [N mm].

    M = q L^2 / 12, at the ends.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    require_positive(span_mm=span_mm)
    require_not_negative(line_load_n_mm=line_load_n_mm)
    return line_load_n_mm * span_mm**2 / 12.0


def fixed_point_sag_under_load_mm(
    *, load_n: float, span_mm: float, at_mm: float, modulus_n_mm2: float, second_moment_mm4: float
) -> float:
    """Return the deflection under a point load of a beam built in at both ends. [mm].

    w = P a^3 b^3 / (3 L^3 E I); P L^3 / (192 E I) at midspan.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero, a load is negative or a place
            is off the beam.
    """
    _require_beam(span_mm=span_mm, modulus_n_mm2=modulus_n_mm2, second_moment_mm4=second_moment_mm4)
    require_not_negative(load_n=load_n)
    require_between(low=0.0, high=span_mm, at_mm=at_mm)
    shape = (at_mm * (span_mm - at_mm)) ** 3 / (3.0 * span_mm**3)
    return load_n * shape / (modulus_n_mm2 * second_moment_mm4)


def fixed_point_moment_n_mm(*, load_n: float, span_mm: float, at_mm: float) -> float:
    """Return the largest moment of a beam built in at both ends under a point load. [N mm].

    M = P a b^2 / L^2 at the nearer end (a <= b); P L / 8 at midspan.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero, a load is negative or a place
            is off the beam.
    """
    require_positive(span_mm=span_mm)
    require_not_negative(load_n=load_n)
    require_between(low=0.0, high=span_mm, at_mm=at_mm)
    near_mm = min(at_mm, span_mm - at_mm)
    return load_n * near_mm * (span_mm - near_mm) ** 2 / span_mm**2


def cantilever_uniform_sag_mm(
    *, line_load_n_mm: float, span_mm: float, modulus_n_mm2: float, second_moment_mm4: float
) -> float:
    """Return the largest deflection of a cantilever under an even load. [mm].

    w = q L^4 / (8 E I), at the tip.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    _require_beam(span_mm=span_mm, modulus_n_mm2=modulus_n_mm2, second_moment_mm4=second_moment_mm4)
    require_not_negative(line_load_n_mm=line_load_n_mm)
    return line_load_n_mm * span_mm**4 / (8.0 * modulus_n_mm2 * second_moment_mm4)


def cantilever_uniform_moment_n_mm(*, line_load_n_mm: float, span_mm: float) -> float:
    """Return the largest moment of a cantilever under an even load. [N mm].

    M = q L^2 / 2, at the root.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    require_positive(span_mm=span_mm)
    require_not_negative(line_load_n_mm=line_load_n_mm)
    return line_load_n_mm * span_mm**2 / 2.0


def cantilever_point_sag_mm(
    *, load_n: float, span_mm: float, at_mm: float, modulus_n_mm2: float, second_moment_mm4: float
) -> float:
    """Return the tip deflection of a cantilever under a point load `at` from the root. [mm].

    w = P a^2 (3 L - a) / (6 E I); P L^3 / (3 E I) at the tip.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero, a load is negative or a place
            is off the beam.
    """
    _require_beam(span_mm=span_mm, modulus_n_mm2=modulus_n_mm2, second_moment_mm4=second_moment_mm4)
    require_not_negative(load_n=load_n)
    require_between(low=0.0, high=span_mm, at_mm=at_mm)
    shape = at_mm**2 * (3.0 * span_mm - at_mm) / 6.0
    return load_n * shape / (modulus_n_mm2 * second_moment_mm4)


def cantilever_point_moment_n_mm(*, load_n: float, span_mm: float, at_mm: float) -> float:
    """Return the root moment of a cantilever under a point load `at` from the root. [N mm].

    M = P a.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero, a load is negative or a place
            is off the beam.
    """
    require_positive(span_mm=span_mm)
    require_not_negative(load_n=load_n)
    require_between(low=0.0, high=span_mm, at_mm=at_mm)
    return load_n * at_mm


def two_span_uniform_sag_mm(
    *, line_load_n_mm: float, span_mm: float, modulus_n_mm2: float, second_moment_mm4: float
) -> float:
    """Return the largest deflection of a beam over two equal spans under an even load. [mm].

    w = q L^4 / (184.6 E I), 0.42 L from an outer support (tables round to 185). L is one span.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    _require_beam(span_mm=span_mm, modulus_n_mm2=modulus_n_mm2, second_moment_mm4=second_moment_mm4)
    require_not_negative(line_load_n_mm=line_load_n_mm)
    return line_load_n_mm * span_mm**4 / (184.6 * modulus_n_mm2 * second_moment_mm4)


def two_span_uniform_moment_n_mm(*, line_load_n_mm: float, span_mm: float) -> float:
    """Return the largest moment of a beam over two equal spans under an even load. [N mm].

    M = q L^2 / 8, over the middle support. L is one span.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    require_positive(span_mm=span_mm)
    require_not_negative(line_load_n_mm=line_load_n_mm)
    return line_load_n_mm * span_mm**2 / 8.0


def two_span_uniform_reactions_n(*, line_load_n_mm: float, span_mm: float) -> tuple[float, float]:
    """Return outer and middle reactions of two equal spans, even load. [N].

    R1 = 3 q L / 8, R2 = 10 q L / 8.

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    require_positive(span_mm=span_mm)
    require_not_negative(line_load_n_mm=line_load_n_mm)
    return 0.375 * line_load_n_mm * span_mm, 1.25 * line_load_n_mm * span_mm


def two_span_point_sag_mm(
    *, load_n: float, span_mm: float, modulus_n_mm2: float, second_moment_mm4: float
) -> float:
    """Return the deflection under a load at the middle of one of two equal spans. [mm].

    w = 23 P L^3 / (1536 E I).

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    _require_beam(span_mm=span_mm, modulus_n_mm2=modulus_n_mm2, second_moment_mm4=second_moment_mm4)
    require_not_negative(load_n=load_n)
    return 23.0 * load_n * span_mm**3 / (1536.0 * modulus_n_mm2 * second_moment_mm4)


def two_span_point_moments_n_mm(*, load_n: float, span_mm: float) -> tuple[float, float]:
    """Return moments under a load amid one of two spans and over the middle support. [N mm].

    M1 = 13 P L / 64, M2 = 3 P L / 32 (the support moment is hogging, given without sign).

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    require_positive(span_mm=span_mm)
    require_not_negative(load_n=load_n)
    return 13.0 * load_n * span_mm / 64.0, 3.0 * load_n * span_mm / 32.0


def pinned_end_moment_sag_mm(
    *, moment_n_mm: float, span_mm: float, modulus_n_mm2: float, second_moment_mm4: float
) -> float:
    """Return the largest deflection of a beam on two pins turned by a moment at one end. [mm].

    w = M L^2 / (9 sqrt(3) E I).

    Source: textbook beam tables. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    _require_beam(span_mm=span_mm, modulus_n_mm2=modulus_n_mm2, second_moment_mm4=second_moment_mm4)
    require_not_negative(moment_n_mm=moment_n_mm)
    return moment_n_mm * span_mm**2 / (9.0 * math.sqrt(3.0) * modulus_n_mm2 * second_moment_mm4)
