"""Short tongues of a sheet that stand in slots: what they bear, and what shears at their roots."""

from __future__ import annotations

from typing import Final

from stowright.errors import require_positive
from stowright.formulas.sources import Source

__all__ = ["SOURCES", "root_shear_n", "wall_bearing_n"]

SOURCES: Final = {
    "wall_bearing_n": Source(text="statics, even pressure over the wall", standing="derived"),
    "root_shear_n": Source(
        text="shear in a rectangle, strength of materials; planar shear on flat plies",
        standing="derived",
    ),
}


def wall_bearing_n(*, length_mm: float, depth_mm: float, strength_n_mm2: float) -> float:
    """Return what a wall of a slot bears. [N].

    R = l h f_c

    Source: statics, the pressure taken as even over the wall. Standing: derived.

    Args:
        length_mm: Length l of the wall, of all tabs together. [mm]
        depth_mm: How deep h the tabs reach in. [mm]
        strength_n_mm2: Compression strength f_c of the wall in the plane of its sheet. [N/mm2]

    Raises:
        OutOfRangeError: If one of them is not above zero.
    """
    require_positive(length_mm=length_mm, depth_mm=depth_mm, strength_n_mm2=strength_n_mm2)
    return length_mm * depth_mm * strength_n_mm2


def root_shear_n(*, length_mm: float, thickness_mm: float, strength_n_mm2: float) -> float:
    """Return what tabs carry at their roots before their plies slide. [N].

    R = 2/3 l t f_r, from the greatest shear stress in a rectangle, tau = 3 V / (2 A).

    Source: strength of materials (any textbook of beams); planar shear as in a beam on flat plies.
    Standing: derived.

    Args:
        length_mm: Length l of all tabs together. [mm]
        thickness_mm: Thickness t of the tabbed sheet. [mm]
        strength_n_mm2: Planar (rolling) shear strength f_r of that sheet. [N/mm2]

    Raises:
        OutOfRangeError: If one of them is not above zero.
    """
    require_positive(length_mm=length_mm, thickness_mm=thickness_mm, strength_n_mm2=strength_n_mm2)
    return 2.0 / 3.0 * length_mm * thickness_mm * strength_n_mm2
