"""Published or independently worked numbers for fit, vehicle, people and keeping: one table each.

The tests hold every row; ``scripts/theory_tables.py`` prints the same rows into ``docs/theory``. A
row is what it is, who says so, what is said, what the program finds, how far they may be apart.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from stowright.formulas import axles, handling, movement, panel_tolerances, slopes, squareness, tape
from stowright.formulas.fit_window import FitStack, runs_probability, sample_builds
from stowright.formulas.tolerance_stack import Term, standard_deviation_mm

__all__ = ["TABLES", "Row"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One comparison. ``within`` is the greatest difference allowed, in the row's unit."""

    what: str
    source: str
    said: float
    found: float
    unit: str
    within: float

    @property
    def apart(self) -> float:
        """What the program finds less what is said."""
        return self.found - self.said


def _row(what: str, source: str, said: float, found: float, unit: str, within: float) -> Row:
    return Row(what=what, source=source, said=said, found=found, unit=unit, within=within)


def _tolerance() -> list[Row]:
    directive = "Directive 2014/32/EU, Annex X, table in a trade note"
    rows = [
        _row(
            f"tape class {kind}, {metres:g} m, error limit",
            directive,
            said,
            tape.max_permissible_error_mm(tape_class=kind, length_mm=1000.0 * metres),
            "mm",
            1e-9,
        )
        for kind, metres, said in (
            ("I", 3.0, 0.4),
            ("II", 3.0, 0.9),
            ("III", 3.0, 1.8),
            ("II", 5.0, 1.3),
            ("II", 1.45, 0.7),
            ("III", 10.0, 4.6),
        )
    ]
    for nominal, least, most in ((12.0, -0.76, 0.56), (18.0, -0.94, 0.74)):
        limits = panel_tolerances.sanded_thickness_limits(nominal_mm=nominal)
        sheet = f"sanded sheet {nominal:g} mm"
        rows += [
            _row(
                f"{sheet}, below",
                "EN 315 formula, a mill's table",
                least,
                limits.least_mm - nominal,
                "mm",
                1e-9,
            ),
            _row(
                f"{sheet}, above",
                "EN 315 formula, a mill's table",
                most,
                limits.greatest_mm - nominal,
                "mm",
                1e-9,
            ),
        ]
    run_out = squareness.runout_from_diagonals_mm(
        width_mm=500.0, depth_mm=1200.0, difference_mm=1.0
    )
    lean = squareness.diagonal_difference_mm(width_mm=1200.0, height_mm=900.0, lean=1e-3)
    rows += [
        _row(
            "opening 500, runner 12.7: widest drawer",
            "a runner maker's note",
            474.2,
            500.0 - 2.0 * 12.9,
            "mm",
            1e-9,
        ),
        _row(
            "opening 500, runner 12.7: narrowest drawer",
            "a runner maker's note",
            473.6,
            500.0 - 2.0 * 13.2,
            "mm",
            1e-9,
        ),
        _row(
            "run-out at the back, 500 x 1200, 1 mm of diagonals",
            "worked by hand",
            1.3,
            run_out,
            "mm",
            0.005,
        ),
        _row("diagonals of 1200 x 900 leaning 1 mm/m", "worked by hand", 1.44, lean, "mm", 0.005),
        *_chances(),
    ]
    return rows


def _term(half: float, shape: str = "even", sensitivity: float = 1.0) -> Term:
    return Term(name="t", half_width_mm=half, sensitivity=sensitivity, shape=shape)


def _chances() -> list[Row]:
    normal = FitStack(
        face_mm=0.0, back_mm=0.0, low_mm=-0.5, high_mm=0.5, shared=(_term(1.0, "normal"),)
    )
    triangle = FitStack(
        face_mm=0.0, back_mm=0.0, low_mm=-1.0, high_mm=1.0, at_back=(_term(1.0), _term(1.0))
    )
    drawer = FitStack(
        face_mm=39.0,
        back_mm=39.0,
        low_mm=38.6,
        high_mm=40.2,
        shared=(_term(0.3, sensitivity=2.0), _term(0.5), _term(0.75)),
        at_face=(_term(0.25), _term(0.1)),
        at_back=(_term(0.25), _term(0.1)),
        sideways=(_term(0.3),),
    )
    spread = standard_deviation_mm(terms=(_term(0.5), _term(0.5), _term(0.5), _term(0.5)))
    return [
        _row(
            "one standard deviation of a normal term",
            "tables of the normal law",
            0.682689,
            runs_probability(normal),
            "chance",
            2e-3,
        ),
        _row(
            "two even terms of 1 within 1",
            "triangle by hand",
            0.75,
            runs_probability(triangle),
            "chance",
            1e-3,
        ),
        _row(
            "four even terms of 0.5, standard deviation",
            "0.5 x 2 / sqrt 3",
            1.0 / math.sqrt(3.0),
            spread,
            "mm",
            1e-9,
        ),
        _row(
            "a drawer with run-out, exact against 100 000 builds",
            "seeded Monte Carlo",
            sample_builds(drawer).inside,
            runs_probability(drawer),
            "chance",
            5e-3,
        ),
    ]


def _vehicle() -> list[Row]:
    start = axles.AxleMasses(front_kg=1150.0, rear_kg=850.0)
    items = [(150.0, 1400.0), (150.0, 2250.0), (60.0, 3100.0), (200.0, 3300.0), (150.0, 4500.0)]
    loaded = axles.axle_masses_kg(start=start, items=items, wheelbase_mm=3200.0)
    hand = "worked example by hand, five items"
    rows = [
        _row("front axle of the worked example", hand, 1213.594, loaded.front_kg, "kg", 1e-3),
        _row("rear axle of the worked example", hand, 1496.406, loaded.rear_kg, "kg", 1e-3),
        _row("total of the worked example", hand, 2710.0, loaded.total_kg, "kg", 1e-9),
    ]
    for mass, behind, base, rear, front in (
        (150.0, 3600.0, 3200.0, 169.0, -19.0),
        (150.0, 3750.0, 2850.0, 197.0, -47.0),
    ):
        change = axles.axle_change_kg(mass_kg=mass, behind_front_mm=behind, wheelbase_mm=base)
        said = "trade study, whole kilograms"
        rows += [
            _row(
                f"{mass:g} kg at {behind:g} of {base:g}: rear",
                said,
                rear,
                change.rear_kg,
                "kg",
                0.5,
            ),
            _row(
                f"{mass:g} kg at {behind:g} of {base:g}: front",
                said,
                front,
                change.front_kg,
                "kg",
                0.5,
            ),
        ]
    text = axles.axle_change_kg(mass_kg=10_000.0, behind_front_mm=120.0, wheelbase_mm=150.0)
    ratio = axles.ball_overhang_ratio(ball_mass_kg=270.0, rear_gain_kg=417.0)
    rows += [
        _row("10 000 at 120 of 150: rear", "textbook check", 8000.0, text.rear_kg, "lb", 1e-6),
        _row(
            "ball 270 kg, rear axle 1233 to 1650 kg: o / L",
            "weighed, touring magazine",
            0.544,
            ratio,
            "-",
            5e-4,
        ),
    ]
    return rows


def _people() -> list[Row]:
    filters = "HSE INDG143 / L23, close to the body"
    rows = [
        _row(
            f"lifting filter, {zone}, {person}",
            filters,
            said,
            handling.lift_filter_kg(zones=(zone,), reach="close", person=person),
            "kg",
            1e-9,
        )
        for zone, man, woman in (
            ("above shoulder", 10.0, 7.0),
            ("shoulder", 20.0, 13.0),
            ("elbow", 25.0, 16.0),
            ("knuckle", 20.0, 13.0),
            ("lower leg", 10.0, 7.0),
        )
        for person, said in (("man", man), ("woman", woman))
    ]
    push = "HSE push and pull filter, older edition"
    rows += [
        _row(
            f"to start, {who}",
            push,
            said,
            handling.push_filter_n(person=who, moving=False),
            "N",
            0.5,
        )
        for who, said in (("man", 196.0), ("woman", 147.0))
    ]
    grade = slopes.grade_angle_deg(grade_percent=20.0)
    hand = "statics by hand, 40 kg"
    rows += [
        _row(
            "20 % grade, no friction",
            hand,
            76.96,
            slopes.push_uphill_n(mass_kg=40.0, angle_deg=grade, friction=0.0),
            "N",
            0.01,
        ),
        _row(
            "10 degrees, friction 0.01",
            hand,
            72.00,
            slopes.push_uphill_n(mass_kg=40.0, angle_deg=10.0),
            "N",
            0.01,
        ),
        _row(
            "latch at 0.5 g",
            hand,
            196.2,
            slopes.latch_demand_n(mass_kg=40.0, fraction=0.5),
            "N",
            0.1,
        ),
    ]
    return rows


def _keeping() -> list[Row]:
    damp = movement.damp_change_mm(length_mm=1200.0, humidity_from=40.0, humidity_to=80.0)
    heat = movement.heat_change_mm(length_mm=2000.0, kelvin=40.0)
    square = panel_tolerances.out_of_square_mm(length_mm=1220.0)
    bent = panel_tolerances.diagonal_allowance_mm(longest_edge_mm=2438.4)
    return [
        _row(
            "1200 mm from 40 to 80 % humidity", "plywood association figure", 0.96, damp, "mm", 1e-9
        ),
        _row("2 m, 40 K warmer", "thermal movement of plywood", 0.49, heat, "mm", 0.005),
        _row(
            "edge of 1220 mm out of square, a mill's 2 mm/m",
            "a mill's table",
            2.4,
            square,
            "mm",
            0.05,
        ),
        _row(
            "diagonals of an 8 x 4 ft sheet",
            "US PS 1-09, comparison by an association",
            3.17,
            bent,
            "mm",
            0.005,
        ),
    ]


#: Rows by the page that prints them.
TABLES: dict[str, list[Row]] = {
    "tolerance": _tolerance(),
    "vehicle": _vehicle(),
    "people-and-danger": _people(),
    "keeping": _keeping(),
}
