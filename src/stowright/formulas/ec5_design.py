"""EN 1995-1-1 (Eurocode 5): design values and final deflections of plywood."""

from __future__ import annotations

import math
from typing import Final, Literal

from stowright.errors import OutOfRangeError, require_not_negative, require_positive
from stowright.formulas.ranges import require_between
from stowright.formulas.sources import Source

__all__ = [
    "DURATIONS",
    "GAMMA_M",
    "SOURCES",
    "SPAN_OVER_SAG",
    "Duration",
    "design_strength_n_mm2",
    "final_deflection_mm",
    "joint_creep",
    "k_def",
    "k_mod",
    "partial_factor",
]

type Duration = Literal["permanent", "long", "medium", "short", "instantaneous"]

DURATIONS: Final[tuple[Duration, ...]] = ("permanent", "long", "medium", "short", "instantaneous")

_TEXTBOOK: Final = "restated by Porteous & Kermani (2007) and a public transcription"
SOURCES: Final = {
    "k_mod": Source(text=f"EN 1995-1-1, Table 3.1, {_TEXTBOOK}", standing="public restatement"),
    "k_def": Source(text=f"EN 1995-1-1, Table 3.2, {_TEXTBOOK}", standing="public restatement"),
    "partial_factor": Source(
        text=f"EN 1995-1-1, Table 2.3, {_TEXTBOOK}", standing="public restatement"
    ),
    "design_strength_n_mm2": Source(
        text=f"EN 1995-1-1, (2.14), {_TEXTBOOK}", standing="public restatement"
    ),
    "final_deflection_mm": Source(
        text="EN 1995-1-1, 2.2.3, final deformation", standing="from memory"
    ),
    "joint_creep": Source(text="EN 1995-1-1, 2.3.2.2, joints", standing="from memory"),
}

_K_MOD: Final[dict[int, dict[Duration, float]]] = {
    1: {"permanent": 0.60, "long": 0.70, "medium": 0.80, "short": 0.90, "instantaneous": 1.10},
    2: {"permanent": 0.60, "long": 0.70, "medium": 0.80, "short": 0.90, "instantaneous": 1.10},
    3: {"permanent": 0.50, "long": 0.55, "medium": 0.65, "short": 0.70, "instantaneous": 0.90},
}
_K_DEF: Final = {1: 0.80, 2: 1.00, 3: 2.50}
GAMMA_M: Final = {"plywood": 1.2, "connection": 1.3, "accidental": 1.0, "serviceability": 1.0}
# Span over deflection that practice asks of a part, short term; common practice and judgement.
SPAN_OVER_SAG: Final = {"platform": 200.0, "drawer base": 150.0, "shelf": 200.0}


def k_mod(*, service_class: int, duration: Duration) -> float:
    """Return the plywood strength factor for moisture and load duration. [-].

    Durations: permanent > 10 years, long 6 months to 10 years, medium 1 week to 6 months, short
    < 1 week, instantaneous (from memory).

    Source: EN 1995-1-1, Table 3.1. Standing: public restatement.

    Raises:
        OutOfRangeError: If the service class is not 1, 2 or 3.
    """
    return _K_MOD[_known_class(service_class)][duration]


def k_def(*, service_class: int) -> float:
    """Return the plywood creep factor. [-].

    EN 636-1 boards only in class 1, -2 in classes 1 and 2, -3 in all.

    Source: EN 1995-1-1, Table 3.2. Standing: public restatement.

    Raises:
        OutOfRangeError: If the service class is not 1, 2 or 3.
    """
    return _K_DEF[_known_class(service_class)]


def _known_class(service_class: int) -> int:
    """Return the class, or refuse it."""
    if service_class not in _K_DEF:
        raise OutOfRangeError("service_class", service_class, "1, 2 or 3")
    return service_class


def partial_factor(
    *, what: Literal["plywood", "connection", "accidental", "serviceability"]
) -> float:
    """Return gamma_M. [-].

    Plywood 1.2, connections 1.3, accidental and serviceability 1.0.

    Source: EN 1995-1-1, Table 2.3. Standing: public restatement.
    """
    return GAMMA_M[what]


def design_strength_n_mm2(
    *, characteristic_n_mm2: float, strength_factor: float, material_factor: float
) -> float:
    """Return a design strength [N/mm2], or a design resistance [N] from a characteristic one.

    X_d = k_mod X_k / gamma_M (2.14).

    Source: EN 1995-1-1, (2.14). Standing: public restatement.

    Raises:
        OutOfRangeError: If a factor is not above zero or the strength is negative.
    """
    require_not_negative(characteristic_n_mm2=characteristic_n_mm2)
    require_positive(strength_factor=strength_factor, material_factor=material_factor)
    return strength_factor * characteristic_n_mm2 / material_factor


def final_deflection_mm(
    *, permanent_mm: float, variable_mm: float, creep: float, quasi_permanent: float
) -> float:
    """Return the deflection after creep. [mm].

    w_fin = w_G (1 + k_def) + w_Q (1 + psi2 k_def), w_G and w_Q instantaneous parts of the permanent
    and the variable load, psi2 the share of the variable load that stays.

    Source: EN 1995-1-1, 2.2.3. Standing: from memory.

    Raises:
        OutOfRangeError: If a number is negative or psi2 is above 1.
    """
    require_not_negative(permanent_mm=permanent_mm, variable_mm=variable_mm, creep=creep)
    require_between(low=0.0, high=1.0, quasi_permanent=quasi_permanent)
    return permanent_mm * (1.0 + creep) + variable_mm * (1.0 + quasi_permanent * creep)


def joint_creep(*, creep_1: float, creep_2: float) -> float:
    """Return k_def of a joint between two materials. [-].

    k_def = 2 sqrt(k_def,1 k_def,2): doubled, and the geometric mean where the materials differ.

    Source: EN 1995-1-1, 2.3.2.2. Standing: from memory.

    Raises:
        OutOfRangeError: If a factor is negative.
    """
    require_not_negative(creep_1=creep_1, creep_2=creep_2)
    return 2.0 * math.sqrt(creep_1 * creep_2)
