"""Metric bolts and inch-gauge screws: ISO 273, ISO 898-1, ISO 3506-1, ASME B18.6.1."""

from __future__ import annotations

import math
from typing import Final, Literal, NamedTuple

from stowright.errors import OutOfRangeError, require_not_negative, require_positive
from stowright.formulas.ranges import require_at_least, require_between
from stowright.formulas.sources import Source

__all__ = [
    "BOLT_CLASSES",
    "CLEARANCE_MM",
    "COARSE_PITCH_MM",
    "SOURCES",
    "STAINLESS_CLASSES",
    "TIGHTENING_N_M",
    "BoltClass",
    "Fit",
    "clearance_hole_mm",
    "coarse_pitch_mm",
    "gauge_diameter_mm",
    "gauge_diameter_range_mm",
    "insert_nut_protrusion_mm",
    "pilot_mm",
    "preload_n",
    "stress_area_mm2",
    "tightening_torque_n_mm",
    "washer_least_diameter_mm",
    "washer_least_thickness_mm",
]

type Fit = Literal["fine", "medium", "coarse"]


class BoltClass(NamedTuple):
    """Strengths of a property class, as used in EN 1993-1-8 design and for preload. [N/mm2].

    Attributes:
        yield_n_mm2: Nominal yield or 0.2 % proof strength.
        tensile_n_mm2: Nominal tensile strength.
        proof_n_mm2: Proof load stress; 0 where none was seen.
    """

    yield_n_mm2: float
    tensile_n_mm2: float
    proof_n_mm2: float


COARSE_PITCH_MM: Final = {5: 0.8, 6: 1.0, 8: 1.25, 10: 1.5, 12: 1.75}
CLEARANCE_MM: Final[dict[int, dict[Fit, float]]] = {
    5: {"fine": 5.3, "medium": 5.5, "coarse": 5.8},
    6: {"fine": 6.4, "medium": 6.6, "coarse": 7.0},
    8: {"fine": 8.4, "medium": 9.0, "coarse": 10.0},
    10: {"fine": 10.5, "medium": 11.0, "coarse": 12.0},
    12: {"fine": 13.0, "medium": 13.5, "coarse": 14.5},
}
# 8.8 is the class for d up to 16 mm.
BOLT_CLASSES: Final = {
    "4.6": BoltClass(yield_n_mm2=240.0, tensile_n_mm2=400.0, proof_n_mm2=0.0),
    "8.8": BoltClass(yield_n_mm2=640.0, tensile_n_mm2=800.0, proof_n_mm2=580.0),
    "10.9": BoltClass(yield_n_mm2=900.0, tensile_n_mm2=1000.0, proof_n_mm2=830.0),
}
STAINLESS_CLASSES: Final = {
    "50": BoltClass(yield_n_mm2=210.0, tensile_n_mm2=500.0, proof_n_mm2=0.0),
    "70": BoltClass(yield_n_mm2=450.0, tensile_n_mm2=700.0, proof_n_mm2=0.0),
    "80": BoltClass(yield_n_mm2=600.0, tensile_n_mm2=800.0, proof_n_mm2=0.0),
}
# Steel on steel, coarse thread, friction about 0.14 [N m]; plywood and bare sheet need much less.
TIGHTENING_N_M: Final = {
    "8.8": {5: 5.9, 6: 10.0, 8: 25.0, 10: 49.0, 12: 85.0},
    "10.9": {5: 8.7, 6: 15.0, 8: 36.0, 10: 72.0, 12: 125.0},
}

_GAUGE: Final = Source(text="ASME B18.6.1 gauge formula", standing="public restatement")
_TIMBER_WASHER: Final = Source(
    text="EN 1995-1-1, 10.4.3, washers on timber", standing="from memory"
)
SOURCES: Final = {
    "gauge_diameter_mm": _GAUGE,
    "gauge_diameter_range_mm": _GAUGE,
    "coarse_pitch_mm": Source(text="ISO 261 coarse pitches", standing="from memory"),
    "stress_area_mm2": Source(
        text="ISO 898-1 stress area, reproduces the tabulated M12 84.3 mm2", standing="from memory"
    ),
    "clearance_hole_mm": Source(
        text="ISO 273 clearance holes, two public tables agree", standing="public restatement"
    ),
    "preload_n": Source(text="F = 0.75 Sp As", standing="from memory"),
    "tightening_torque_n_mm": Source(
        text="T = K F d, K about 0.2 dry; 25.5 N m for M8 8.8 against 25 in a machine manual",
        standing="from memory",
    ),
    "pilot_mm": Source(
        text="two thirds of the shank in a plywood face, between charts that disagree",
        standing="judgement",
    ),
    "washer_least_diameter_mm": _TIMBER_WASHER,
    "washer_least_thickness_mm": _TIMBER_WASHER,
    "insert_nut_protrusion_mm": Source(
        text="at least one full thread past the insert", standing="from memory"
    ),
}


def gauge_diameter_mm(*, gauge: int) -> float:
    """Return the nominal shank diameter of an inch-gauge screw. [mm].

    0.060 + 0.013 N inches.

    Range: gauges 0 to 24.
    Source: ASME B18.6.1. Standing: public restatement.

    Raises:
        OutOfRangeError: If the gauge is outside the range.
    """
    require_between(low=0, high=24, gauge=gauge)
    return (0.060 + 0.013 * gauge) * 25.4


def gauge_diameter_range_mm(*, gauge: int) -> tuple[float, float]:
    """Return least and greatest shank diameter of an inch-gauge screw. [mm].

    Nominal -0.18 and +0.10.

    Source: ASME B18.6.1. Standing: public restatement.

    Raises:
        OutOfRangeError: If the gauge is outside 0 to 24.
    """
    nominal_mm = gauge_diameter_mm(gauge=gauge)
    return nominal_mm - 0.18, nominal_mm + 0.10


def coarse_pitch_mm(*, size: int) -> float:
    """Return the coarse pitch of M5, M6, M8, M10 or M12. [mm].

    Source: ISO 261. Standing: from memory.

    Raises:
        OutOfRangeError: If the size is another one.
    """
    return COARSE_PITCH_MM[_known(size)]


def clearance_hole_mm(*, size: int, fit: Fit = "medium") -> float:
    """Return the clearance hole of M5, M6, M8, M10 or M12. [mm].

    Source: ISO 273. Standing: public restatement.

    Raises:
        OutOfRangeError: If the size is another one.
    """
    return CLEARANCE_MM[_known(size)][fit]


def _known(size: int) -> int:
    """Return a thread size, or refuse it."""
    if size not in COARSE_PITCH_MM:
        raise OutOfRangeError("size", size, "5, 6, 8, 10 or 12")
    return size


def stress_area_mm2(*, diameter_mm: float, pitch_mm: float) -> float:
    """Return the tensile stress area of a metric thread. [mm2].

    A_s = pi/4 (d - 0.9382 P)^2.

    Source: ISO 898-1. Standing: from memory.

    Raises:
        OutOfRangeError: If a size is not above zero or the pitch leaves no core.
    """
    require_positive(diameter_mm=diameter_mm, pitch_mm=pitch_mm)
    core_mm = diameter_mm - 0.9382 * pitch_mm
    require_positive(core_mm=core_mm)
    return math.pi / 4.0 * core_mm**2


def preload_n(*, proof_n_mm2: float, stress_area_mm2: float) -> float:
    """Return the usual preload of a bolt. [N].

    F = 0.75 Sp As.

    Source: practice. Standing: from memory.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(proof_n_mm2=proof_n_mm2, stress_area_mm2=stress_area_mm2)
    return 0.75 * proof_n_mm2 * stress_area_mm2


def tightening_torque_n_mm(
    *, preload_n: float, diameter_mm: float, nut_factor: float = 0.2
) -> float:
    """Return the torque that gives a preload, steel on steel. [N mm].

    T = K F d.

    Source: practice. Standing: from memory.

    Raises:
        OutOfRangeError: If the diameter or the factor is not above zero or the preload is negative.
    """
    require_positive(diameter_mm=diameter_mm, nut_factor=nut_factor)
    require_not_negative(preload_n=preload_n)
    return nut_factor * preload_n * diameter_mm


def pilot_mm(*, shank_mm: float) -> float:
    """Return a pilot hole for a wood screw into a plywood face. [mm].

    2/3 of the shank.

    Source: between charts that disagree. Standing: judgement.

    Raises:
        OutOfRangeError: If the shank is not above zero.
    """
    require_positive(shank_mm=shank_mm)
    return shank_mm * 2.0 / 3.0


def washer_least_diameter_mm(*, bolt_mm: float) -> float:
    """Return the least diameter (or side) of a washer on timber. [mm].

    3 d.

    Source: EN 1995-1-1, 10.4.3. Standing: from memory.

    Raises:
        OutOfRangeError: If the bolt is not above zero.
    """
    require_positive(bolt_mm=bolt_mm)
    return 3.0 * bolt_mm


def washer_least_thickness_mm(*, bolt_mm: float) -> float:
    """Return the least thickness of a washer on timber. [mm].

    0.3 d.

    Source: EN 1995-1-1, 10.4.3. Standing: from memory.

    Raises:
        OutOfRangeError: If the bolt is not above zero.
    """
    require_positive(bolt_mm=bolt_mm)
    return 0.3 * bolt_mm


def insert_nut_protrusion_mm(*, pitch_mm: float, threads: float = 1.0) -> float:
    """Return how far a bolt must show past an insert lock nut. [mm].

    One full thread (ISO 2320's own test fixture has 3 to 5 pitches).

    Source: shop practice. Standing: from memory.

    Raises:
        OutOfRangeError: If the pitch is not above zero or fewer than one thread is asked for.
    """
    require_positive(pitch_mm=pitch_mm)
    require_at_least(low=1.0, threads=threads)
    return threads * pitch_mm
