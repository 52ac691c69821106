"""Wood glues: EN 204 use classes and what a glue line may be trusted with."""

from __future__ import annotations

from typing import Final, Literal

from stowright.errors import require_positive
from stowright.formulas.sources import Source

__all__ = ["GLUE_LINE_N_MM2", "SOURCES", "USE_CLASSES", "UseClass", "glue_line_n"]

type UseClass = Literal["D1", "D2", "D3", "D4"]

# Design shear of a glue line in plywood, the low end of 0.5 to 1.0: the ply rolls before the glue
# shears.
GLUE_LINE_N_MM2: Final = 0.5
# EN 204, published; none of them says anything about heat, and D1 allows more than 50 C only
# briefly.
USE_CLASSES: Final[dict[UseClass, str]] = {
    "D1": "dry, up to 15 % moisture",
    "D2": "occasional damp, up to 18 % moisture",
    "D3": "frequent short wetting, or outdoors under shelter",
    "D4": "frequent long wetting, or outdoors with a coating",
}

SOURCES: Final = {
    "glue_line_n": Source(
        text="0.5 to 1.0 N/mm2 after k_mod and gamma_M, limited by rolling shear of the ply",
        standing="judgement",
    ),
}


def glue_line_n(*, area_mm2: float, strength_n_mm2: float = GLUE_LINE_N_MM2) -> float:
    """Return the design resistance of a glued area in shear. [N].

    R = A f, f = 0.5 N/mm2. Screws in the same joint are clamps: never add both.

    Source: a choice below the ply's rolling shear. Standing: judgement.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(area_mm2=area_mm2, strength_n_mm2=strength_n_mm2)
    return area_mm2 * strength_n_mm2
