"""Worked numbers for fitting, moving and measuring, and for the loads that all proofs share.

A row is what it is, who says so, what is said, what the program finds, how far they may be apart.
"""

from __future__ import annotations

import math

from cases_of_use import Row

from stowright.formulas import actions_en1990, platform_loads, slopes, squareness
from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.restraint import restraint_force_n, rule_set

__all__ = ["TABLES"]

GEOMETRY = "corners of the parallelogram, apart from this program"


def _row(what: str, source: str, said: float, found: float, unit: str, within: float) -> Row:
    return Row(what=what, source=source, said=said, found=found, unit=unit, within=within)


def _diagonals(width: float, length: float, lean: float) -> tuple[float, float]:
    """Return both diagonals of a bay whose far end stands so far sideways, from its corners."""
    return math.dist((0.0, 0.0), (width + lean, length)), math.dist((width, 0.0), (lean, length))


def _fit() -> list[Row]:
    rows = []
    for width, length, lean in (
        (1400.0, 1500.0, 6.0),
        (1640.0, 2800.0, -9.0),
        (1100.0, 900.0, 2.5),
    ):
        one, two = _diagonals(width, length, lean)
        found = squareness.bay_skew_mm(mean_width_mm=width, diagonal_1_mm=one, diagonal_2_mm=two)
        what = f"bay {width:g} x {length:g}, diagonals {one:.1f} and {two:.1f}: lean"
        rows.append(_row(what, GEOMETRY, lean, found, "mm", 1e-9))
    one, two = _diagonals(500.0, 1200.0, 2.6)
    rows += [
        _row(
            "opening 500 x 1200 whose back stands 2.6 aside: run-out from its diagonals",
            GEOMETRY,
            2.6,
            squareness.runout_from_diagonals_mm(
                width_mm=500.0, depth_mm=1200.0, difference_mm=one - two
            ),
            "mm",
            0.001,
        ),
        _row(
            "frame 600 x 400 leaning 2 mm/m: difference of its diagonals",
            GEOMETRY,
            _diagonals(600.0, 400.0, 0.8)[0] - _diagonals(600.0, 400.0, 0.8)[1],
            squareness.diagonal_difference_mm(width_mm=600.0, height_mm=400.0, lean=0.002),
            "mm",
            0.001,
        ),
    ]
    return rows


def _loads() -> list[Row]:
    us = rule_set("us-393")
    foot = platform_loads.PATCHES[1]
    shock = {road: actions_en1990.road_shock(road=road) for road in ("sealed", "rough")}
    slope = slopes.grade_angle_deg(grade_percent=20.0)
    factors = {
        load: actions_en1990.load_factor(load=load, capacity_basis="characteristic")
        for load in ("own mass", "contents", "people")
    }
    return [
        _row("g", "standard gravity, CGPM 1901", 9.80665, GRAVITY_M_S2, "m/s²", 0.005),
        _row("own mass, characteristic", "EN 1990, from memory", 1.35, factors["own mass"], "-", 0),
        _row("contents, characteristic", "EN 1990, from memory", 1.5, factors["contents"], "-", 0),
        _row("people, characteristic", "EN 1990, from memory", 1.5, factors["people"], "-", 0),
        _row("20 kg, sealed road", "20 x 2.0 x 9.81", 392.4, 20 * shock["sealed"] * 9.81, "N", 0.1),
        _row("20 kg, rough road", "20 x 3.0 x 9.81", 588.6, 20 * shock["rough"] * 9.81, "N", 0.1),
        _row("a foot", "spec: 1.5 kN on 100 x 100", 1500.0, foot.load_n, "N", 0.0),
        _row("20 % slope", "arctan 0.2", math.degrees(math.atan(0.2)), slope, "degrees", 1e-9),
        _row(
            "100 kg, us-393 forward",
            "49 CFR 393.102: 0.8 g; 0.8 x 100 x 9.81",
            784.8,
            restraint_force_n(mass_kg=100.0, fraction=us.forward),
            "N",
            0.6,
        ),
    ]


TABLES: dict[str, list[Row]] = {"fit-and-travel": _fit(), "loads": _loads()}
