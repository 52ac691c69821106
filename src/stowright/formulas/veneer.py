"""Layered veneer model: a plywood's stiffness and strength from its plies.

Plies alternate in direction and the faces lie along the sheet's face grain ("0"); the cross plies
are "90". Heights are measured from the middle of the thickness, so the lay-up should be balanced.
Moduli and bending strengths come out as *apparent* values that go with the full section t^3/12; the
effective second moment is the other convention, which goes with the modulus of the parallel plies.
Never use both at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise
from typing import Final, NamedTuple

from stowright.errors import OutOfRangeError, require_positive
from stowright.formulas.ranges import require_between
from stowright.formulas.sources import Source

__all__ = [
    "SOURCES",
    "EffectiveSection",
    "LayupStiffness",
    "ShearFactors",
    "apparent_bending",
    "apparent_compression_n_mm2",
    "effective_section",
    "ply_thicknesses_mm",
    "rolling_shear_factors",
    "second_moments_mm3",
]

_MODEL: Final = Source(
    text=(
        "layered veneer model; reproduces the birch compression strengths 27.7 and 24.3 N/mm2"
        " printed in Porteous & Kermani, Structural Timber Design to Eurocode 5 (2007), Table 1.9"
    ),
    standing="derived",
)
SOURCES: Final = {
    "ply_thicknesses_mm": _MODEL,
    "second_moments_mm3": _MODEL,
    "apparent_bending": _MODEL,
    "apparent_compression_n_mm2": _MODEL,
    "effective_section": Source(
        text=(
            "parallel plies plus 0.03 of the cross plies; matches a published formwork sheet"
            " within 0.5 %"
        ),
        standing="derived",
    ),
    "rolling_shear_factors": Source(
        text="shear flow V S / I over the plies outside a cross ply", standing="derived"
    ),
}


class LayupStiffness(NamedTuple):
    """Apparent bending values that go with t^3/12 of the whole thickness.

    Attributes:
        thickness_mm: Whole thickness. [mm].
        modulus_0_n_mm2: Modulus for a span along the face grain. [N/mm2].
        modulus_90_n_mm2: Modulus for a span across the face grain. [N/mm2].
        strength_0_n_mm2: Bending strength for a span along the face grain. [N/mm2].
        strength_90_n_mm2: Bending strength for a span across the face grain. [N/mm2].
    """

    thickness_mm: float
    modulus_0_n_mm2: float
    modulus_90_n_mm2: float
    strength_0_n_mm2: float
    strength_90_n_mm2: float


class EffectiveSection(NamedTuple):
    """Section values per millimetre of width that go with the modulus of the parallel plies.

    Attributes:
        second_moment_0_mm3: For a span along the face grain. [mm4/mm].
        second_moment_90_mm3: For a span across the face grain. [mm4/mm].
        section_modulus_0_mm2: For a span along the face grain. [mm3/mm].
        section_modulus_90_mm2: For a span across the face grain. [mm3/mm].
    """

    second_moment_0_mm3: float
    second_moment_90_mm3: float
    section_modulus_0_mm2: float
    section_modulus_90_mm2: float


class ShearFactors(NamedTuple):
    """S / I of the parallel plies: rolling shear stress = V / b times the factor.

    Attributes:
        along_per_mm: For a span along the face grain. [1/mm].
        across_per_mm: For a span across the face grain. [1/mm].
    """

    along_per_mm: float
    across_per_mm: float


def _require_odd(plies: int) -> None:
    """Refuse a count that cannot alternate from face to face."""
    if plies < 3 or plies % 2 == 0:
        raise OutOfRangeError("plies", plies, "an odd number from three up")


def ply_thicknesses_mm(*, plies: int, veneer_mm: float, sanding_mm: float) -> tuple[float, ...]:
    """Return the plies of an all-veneer board from face to face. [mm].

    All plies have the veneer's thickness; each face loses the sanding.

    Source: layered veneer model. Standing: derived.

    Raises:
        OutOfRangeError: If the count is even or below three, or the sanding takes the whole face.
    """
    require_positive(veneer_mm=veneer_mm)
    require_between(low=0.0, high=veneer_mm, sanding_mm=sanding_mm)
    _require_odd(plies)
    face = veneer_mm - sanding_mm
    require_positive(face_mm=face)
    return (face, *[veneer_mm] * (plies - 2), face)


def _levels_mm(ply_mm: Sequence[float]) -> list[float]:
    """Return the faces of all plies, measured from the middle of the thickness."""
    _require_odd(len(ply_mm))
    for ply in ply_mm:
        require_positive(ply_mm=ply)
    half = sum(ply_mm) / 2.0
    return [level - half for level in accumulate(ply_mm, initial=0.0)]


def second_moments_mm3(*, ply_mm: Sequence[float]) -> tuple[float, float, float]:
    """Return I, I0 and I90 per millimetre of width. [mm4/mm].

    I = t^3 / 12; I0 and I90 = sum of (z2^3 - z1^3) / 3 over the plies along and across.

    Source: layered veneer model. Standing: derived.

    Raises:
        OutOfRangeError: If the plies are fewer than three or even in number, or one is not above
        zero.
    """
    levels = _levels_mm(ply_mm)
    each = [(top**3 - bottom**3) / 3.0 for bottom, top in pairwise(levels)]
    return sum(each), sum(each[::2]), sum(each[1::2])


def apparent_bending(
    *, ply_mm: Sequence[float], veneer_modulus_n_mm2: float, veneer_strength_n_mm2: float
) -> LayupStiffness:
    """Return moduli and bending strengths that go with the full thickness.

    E0 = Ev I0/I, E90 = Ev I90/I, f0 = fv I0/I, f90 = fv (I90/I) t / (t - 2 t_face).

    Source: layered veneer model. Standing: derived (birch constants Ev 17500, fv 70: from memory).

    Raises:
        OutOfRangeError: If a ply, the modulus or the strength is not above zero.
    """
    require_positive(
        veneer_modulus_n_mm2=veneer_modulus_n_mm2, veneer_strength_n_mm2=veneer_strength_n_mm2
    )
    whole, along, across = second_moments_mm3(ply_mm=ply_mm)
    thickness = sum(ply_mm)
    inner = thickness - ply_mm[0] - ply_mm[-1]
    return LayupStiffness(
        thickness_mm=thickness,
        modulus_0_n_mm2=veneer_modulus_n_mm2 * along / whole,
        modulus_90_n_mm2=veneer_modulus_n_mm2 * across / whole,
        strength_0_n_mm2=veneer_strength_n_mm2 * along / whole,
        strength_90_n_mm2=veneer_strength_n_mm2 * across / whole * thickness / inner,
    )


def apparent_compression_n_mm2(
    *, ply_mm: Sequence[float], veneer_strength_n_mm2: float
) -> tuple[float, float]:
    """Return in-plane strengths along and across the face grain. [N/mm2].

    f_c,0 = fv A0/A and f_c,90 = fv A90/A: only the plies along the force count.

    Source: layered veneer model. Standing: derived (birch fv 52: from memory).

    Raises:
        OutOfRangeError: If a ply or the strength is not above zero.
    """
    require_positive(veneer_strength_n_mm2=veneer_strength_n_mm2)
    _levels_mm(ply_mm)
    whole = sum(ply_mm)
    return (
        veneer_strength_n_mm2 * sum(ply_mm[::2]) / whole,
        veneer_strength_n_mm2 * sum(ply_mm[1::2]) / whole,
    )


def effective_section(*, ply_mm: Sequence[float], cross_factor: float = 0.03) -> EffectiveSection:
    """Return I_eff and Z per millimetre of width, for use with the parallel plies' modulus.

    I_eff = I_parallel + k I_cross; Z = I_parallel / distance to the outermost parallel fibre.

    Source: practice of Australian plywood data sheets, found by inverting one. Standing: derived.

    Raises:
        OutOfRangeError: If a ply is not above zero or the factor is outside 0 to 1.
    """
    require_between(low=0.0, high=1.0, cross_factor=cross_factor)
    _, along, across = second_moments_mm3(ply_mm=ply_mm)
    half = sum(ply_mm) / 2.0
    return EffectiveSection(
        second_moment_0_mm3=along + cross_factor * across,
        second_moment_90_mm3=across + cross_factor * along,
        section_modulus_0_mm2=along / half,
        section_modulus_90_mm2=across / (half - max(ply_mm[0], ply_mm[-1])),
    )


def _static_moment_mm2(ply_mm: Sequence[float], *, first: int) -> float:
    """Return the moment of the parallel plies above the cross ply nearest to the middle."""
    levels = _levels_mm(ply_mm)
    moments = [abs(top**2 - bottom**2) / 2.0 for bottom, top in pairwise(levels)]
    return sum(moments[first : len(ply_mm) // 2 : 2])


def rolling_shear_factors(*, ply_mm: Sequence[float]) -> ShearFactors:
    """Return S / I for the cross ply nearest to the middle, for either span direction. [1/mm].

    tau_r = V S / (I b): S is the static moment of the parallel plies outside that cross ply, I that
    of all parallel plies; cross plies carry no bending.

    Source: shear flow in a layered section. Standing: derived.

    Raises:
        OutOfRangeError: If the plies are fewer than three or even in number, or one is not above
        zero.
    """
    _, along, across = second_moments_mm3(ply_mm=ply_mm)
    return ShearFactors(
        along_per_mm=_static_moment_mm2(ply_mm, first=0) / along,
        across_per_mm=_static_moment_mm2(ply_mm, first=1) / across,
    )
