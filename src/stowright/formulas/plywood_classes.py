"""EN 636 marks and the scope of EN 12369-2: what a stamp on plywood says, and if it may count."""

from __future__ import annotations

import re
from typing import Final, NamedTuple

from stowright.errors import UnknownNameError, require_positive
from stowright.formulas.ranges import require_at_least
from stowright.formulas.sources import Source

__all__ = [
    "SOURCES",
    "ClassValues",
    "class_values",
    "highest_service_class",
    "in_scope_of_en_12369_2",
]

_GUIDE: Final = Source(
    text="EN 12369-2 scope (2011 and 2025 editions, catalogue text); EN 636 by a specifiers' guide",
    standing="published",
)
SOURCES: Final = {
    "in_scope_of_en_12369_2": _GUIDE,
    "highest_service_class": Source(
        text="EN 1995-1-1, Table 3.2: EN 636-1 class 1, -2 classes 1 and 2, -3 all",
        standing="public restatement",
    ),
    "class_values": Source(
        text="EN 12369-2: F is the characteristic strength, E x 100 the mean modulus",
        standing="from memory",
    ),
}

_MARK: Final = re.compile(r"F(\d+)/(\d+)\s+E(\d+)/(\d+)")


class ClassValues(NamedTuple):
    """What an EN 636 mark stands for. [N/mm2].

    Attributes:
        strength_0_n_mm2: Characteristic bending strength along the face grain.
        strength_90_n_mm2: Across it.
        modulus_0_n_mm2: Mean modulus along the face grain.
        modulus_90_n_mm2: Across it.
    """

    strength_0_n_mm2: float
    strength_90_n_mm2: float
    modulus_0_n_mm2: float
    modulus_90_n_mm2: float


def in_scope_of_en_12369_2(
    *, layers: int, thickness_mm: float, veneer_ratio: float, density_kg_m3: float
) -> bool:
    """Say whether a plywood lies in the scope of the characteristic values.

    At least 5 layers and 6 mm, veneer thicknesses of both directions no more than 2.5 apart as a
    ratio, mean density 350 to 750 kg/m3. Three plies, bendy and imbalanced boards are
    non-structural.

    Source: EN 12369-2, scope. Standing: published.

    Raises:
        OutOfRangeError: If there is no layer, the ratio is below 1 or a number is not above zero.
    """
    require_at_least(low=1.0, layers=layers, veneer_ratio=veneer_ratio)
    require_positive(thickness_mm=thickness_mm, density_kg_m3=density_kg_m3)
    return (
        layers >= 5
        and thickness_mm >= 6.0
        and veneer_ratio <= 2.5
        and 350.0 <= density_kg_m3 <= 750.0
    )


def highest_service_class(*, part: int) -> int:
    """Return the dampest service class that EN 636-1, -2 or -3 boards may be used in.

    The part's own number.

    Source: EN 1995-1-1, Table 3.2. Standing: public restatement.

    Raises:
        UnknownNameError: If EN 636 has no such part.
    """
    if part not in {1, 2, 3}:
        raise UnknownNameError("part of EN 636", str(part), ("1", "2", "3"))
    return part


def class_values(mark: str) -> ClassValues:
    """Return what a mark like F10/20 E30/40 stands for. [N/mm2].

    F along/across: characteristic bending strength; E along/across x 100: mean modulus.

    Source: EN 12369-2. Standing: from memory.

    Raises:
        UnknownNameError: If the text is no such mark.
    """
    found = _MARK.fullmatch(mark.strip())
    if found is None:
        raise UnknownNameError("EN 636 mark", mark, ("F10/20 E30/40",))
    f_0, f_90, e_0, e_90 = (float(number) for number in found.groups())
    return ClassValues(
        strength_0_n_mm2=f_0,
        strength_90_n_mm2=f_90,
        modulus_0_n_mm2=100.0 * e_0,
        modulus_90_n_mm2=100.0 * e_90,
    )
