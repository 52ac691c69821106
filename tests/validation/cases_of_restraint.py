"""Check cases of load restraint with their printed answers, as data.

One list serves the tests and the tables on the theory pages (``scripts/theory_tables.py``).
``said`` is the number in the source or, for the worked examples, by hand.
"""

from collections.abc import Callable
from dataclasses import dataclass

from stowright.formulas import anchorage, equipment_anchors_asce7, restraint, slopes
from stowright.formulas import bolts_en1993_1_8 as bolts
from stowright.formulas import pull_over_aisi as aisi
from stowright.formulas import spreader_plate as spreader
from stowright.formulas import thin_sheet_en1993_1_3 as sheet
from stowright.formulas.tipping import MassAt, moments_n_mm
from stowright.proofs.loose import hold_demand_n

__all__ = ["TABLES", "Row"]


#: Sources print three or four figures: half a per cent.
FIGURES = 0.005


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One comparison. ``within`` is the greatest difference allowed, in the row's unit."""

    what: str
    source: str
    said: float
    found: float
    unit: str
    within: float


def _row(*, what: str, source: str, printed: float, unit: str, got: Callable[[], float]) -> Row:
    within = FIGURES * abs(printed)
    return Row(what=what, source=source, said=printed, found=got(), unit=unit, within=within)


_EC8 = "EN 1993-1-8 worked sheet, M20"
_EC3 = "EN 1993-1-3, Tables 8.2 and 8.4"
_ASCE = "ASCE 7-22 ch. 13 worked example"
_HAND = "worked example, statics by hand"
_A = {"mass_kg": 80.0, "push": 0.8, "height_mm": 550.0, "arm_mm": 225.0}
_ROWS = (50.0, 50.0, 400.0, 400.0)


def _moment(lift: float = 0.0) -> float:
    return anchorage.net_overturning_moment_n_mm(**_A, lift=lift)


def _far_row(lift: float = 0.0) -> float:
    return anchorage.far_row_tension_n(moment_n_mm=_moment(lift), bolts=2, distance_mm=400.0)


def _elastic(index: int) -> float:
    return anchorage.elastic_bolt_tensions_n(moment_n_mm=_moment(), distances_mm=_ROWS)[index]


def _torsion() -> float:
    group = anchorage.bolt_group_shears_n(
        bolts_mm=[(400.0, 300.0), (400.0, -300.0), (-400.0, 300.0), (-400.0, -300.0)],
        force_x_n=0.0,
        force_y_n=0.5 * 150.0 * 9.81,
        at_x_mm=100.0,
        at_y_mm=0.0,
    )
    return max(bolt.resultant_n for bolt in group)


def _shear(strength: float) -> float:
    return bolts.shear_n(tensile_strength_n_mm2=strength, area_mm2=245.0, alpha_v=0.6)


def _bearing(t: float) -> float:
    return sheet.bearing_n(sheet_strength_n_mm2=270.0, diameter_mm=8.0, thickness_mm=t, end_mm=24.0)


def _through(washer: float, *, repeated: bool) -> float:
    return sheet.pull_through_n(
        washer_mm=washer, thickness_mm=0.8, sheet_strength_n_mm2=270.0, repeated=repeated
    )


def _force(name: str, way: restraint.Direction) -> float:
    fraction = restraint.rule_set(name).fraction(way)
    return restraint.restraint_force_n(mass_kg=120.0, fraction=fraction)


def _tips_at(mass: MassAt) -> float:
    """Return the slope from which a free body tips, by halving."""
    low, high = 0.0, 45.0
    for _ in range(60):
        middle = (low + high) / 2.0
        tips = moments_n_mm([mass], angle_deg=middle).over_n_mm > 0.0
        low, high = (low, middle) if tips else (middle, high)
    return low


def _over(mass: MassAt) -> float:
    return moments_n_mm([mass]).over_n_mm / 1000.0


_AISI = {"washer_mm": 16.0, "thickness_mm": 0.8, "sheet_strength_n_mm2": 270.0}
_EQUIPMENT = {
    "push_n": 1800.0,
    "height_mm": 18.0,
    "tension_anchors": 2,
    "row_spacing_mm": 24.0,
}
_PLATE = {"side_mm": 60.0, "thickness_mm": 3.0, "washer_mm": 16.0}

_RESTRAINT = (
    _row(
        what="M20 4.6 shear F_v,Rd",
        source=_EC8,
        printed=47_040.0,
        unit="N",
        got=lambda: _shear(400.0),
    ),
    _row(
        what="M20 8.8 shear F_v,Rd",
        source=_EC8,
        printed=94_080.0,
        unit="N",
        got=lambda: _shear(800.0),
    ),
    _row(
        what="M20 4.6 tension F_t,Rd",
        source=_EC8,
        printed=70_560.0,
        unit="N",
        got=lambda: bolts.tension_n(tensile_strength_n_mm2=400.0, stress_area_mm2=245.0),
    ),
    _row(
        what="punching, d_m 30, t 8, f_u 360",
        source=_EC8,
        printed=130_288.0,
        unit="N",
        got=lambda: bolts.punching_n(
            mean_diameter_mm=30.0, thickness_mm=8.0, plate_strength_n_mm2=360.0
        ),
    ),
    _row(
        what="M8 8.8, V 3 kN with T 4 kN",
        source="EN 1993-1-8, Table 3.4, by hand",
        printed=0.349,
        unit="-",
        got=lambda: bolts.shear_tension_utilisation(
            shear_n=3000.0,
            shear_resistance_n=14_054.0,
            tension_n=4000.0,
            tension_resistance_n=21_082.0,
        ),
    ),
    _row(
        what="bearing M8 in 0.8 mm, f_u 270",
        source=_EC3,
        printed=2958.0,
        unit="N",
        got=lambda: _bearing(0.8),
    ),
    _row(
        what="bearing M8 in 1.0 mm, f_u 270",
        source=_EC3,
        printed=3974.0,
        unit="N",
        got=lambda: _bearing(1.0),
    ),
    _row(
        what="pull-through 0.8 mm, d_w 16, static",
        source=_EC3,
        printed=2765.0,
        unit="N",
        got=lambda: _through(16.0, repeated=False),
    ),
    _row(
        what="pull-through 0.8 mm, d_w 24, repeated",
        source=_EC3,
        printed=2074.0,
        unit="N",
        got=lambda: _through(24.0, repeated=True),
    ),
    _row(
        what="pull-over 0.8 mm, d_w 16, nominal",
        source="AISI S100, evaluation report",
        printed=5184.0,
        unit="N",
        got=lambda: aisi.pull_over_nominal_n(**_AISI),
    ),
    _row(
        what="pull-over 0.8 mm, d_w 16, allowable",
        source="AISI S100, evaluation report",
        printed=1728.0,
        unit="N",
        got=lambda: aisi.pull_over_allowable_n(**_AISI),
    ),
    _row(
        what="equipment on four anchors, overturning",
        source=_ASCE,
        printed=675.0,
        unit="lb",
        got=lambda: equipment_anchors_asce7.overturning_tension_n(**_EQUIPMENT),
    ),
    _row(
        what="equipment on four anchors, net",
        source=_ASCE,
        printed=375.0,
        unit="lb",
        got=lambda: equipment_anchors_asce7.net_anchor_tension_n(
            **_EQUIPMENT, uplift_n=600.0, weight_n=3000.0, anchors=4
        ),
    ),
    _row(what="A: far row, simple", source=_HAND, printed=210.9, unit="N", got=_far_row),
    _row(
        what="A: far row with 0.2 g up",
        source=_HAND,
        printed=255.1,
        unit="N",
        got=lambda: _far_row(0.2),
    ),
    _row(
        what="A: far bolts, elastic", source=_HAND, printed=207.7, unit="N", got=lambda: _elastic(3)
    ),
    _row(
        what="A: near bolts, elastic",
        source=_HAND,
        printed=25.96,
        unit="N",
        got=lambda: _elastic(0),
    ),
    _row(
        what="A: shear of one bolt",
        source=_HAND,
        printed=156.96,
        unit="N",
        got=lambda: anchorage.sliding_force_n(mass_kg=80.0, push=0.8) / 4.0,
    ),
    _row(
        what="A: tips free-standing at",
        source=_HAND,
        printed=0.4091,
        unit="g",
        got=lambda: anchorage.tip_threshold(arm_mm=225.0, height_mm=550.0),
    ),
    _row(
        what="B: shear of one bolt",
        source=_HAND,
        printed=294.3,
        unit="N",
        got=lambda: anchorage.sliding_force_n(mass_kg=150.0, push=0.8) / 4.0,
    ),
    _row(what="C: worst bolt with torsion", source=_HAND, printed=214.5, unit="N", got=_torsion),
    _row(
        what="60 x 60 x 3 plate at 2 kN, d_w 16",
        source=_HAND,
        printed=89.6,
        unit="N/mm2",
        got=lambda: spreader.bending_stress_n_mm2(**_PLATE, tension_n=2000.0),
    ),
    _row(
        what="120 kg forward, au-light",
        source="NTC light guide 2018, 80 %",
        printed=941.8,
        unit="N",
        got=lambda: _force("au-light", "forward"),
    ),
    _row(
        what="120 kg forward, us-393-wll",
        source="49 CFR 393.102(a)(2), 0.435",
        printed=512.1,
        unit="N",
        got=lambda: _force("us-393-wll", "forward"),
    ),
    _row(
        what="120 kg sideways, vdi-2000",
        source="VDI 2700-16 in ESV 09-0008, 0.7",
        printed=824.0,
        unit="N",
        got=lambda: _force("vdi-2000", "side"),
    ),
    _row(
        what="100 kg at 0.8 g, friction 0.2, 0.2 g up",
        source=_HAND,
        printed=627.8,
        unit="N",
        got=lambda: anchorage.sliding_force_n(mass_kg=100.0, push=0.8, friction=0.2, lift=0.2),
    ),
)
_TIPPING = (
    _row(
        what="drawer of 40 kg held on 20 %",
        source=_HAND,
        printed=76.96,
        unit="N",
        got=lambda: slopes.latch_demand_n(
            mass_kg=40.0, fraction=0.0, angle_deg=slopes.grade_angle_deg(grade_percent=20.0)
        ),
    ),
    _row(
        what="slope at which a block of x 100, h 200 tips",
        source="atan(x/h), statics by hand",
        printed=26.565,
        unit="degrees",
        got=lambda: _tips_at(MassAt(mass_kg=10.0, at_mm=100.0, up_mm=200.0)),
    ),
    _row(
        what="15 kg of drawer 500 mm outside the edge",
        source=_HAND,
        printed=73.575,
        unit="N m",
        got=lambda: _over(MassAt(mass_kg=15.0, at_mm=-500.0, up_mm=150.0)),
    ),
    _row(
        what="hold of 20 kg on a tray, 0.9 g",
        source="F = a m g, by hand",
        printed=176.58,
        unit="N",
        got=lambda: hold_demand_n(restraint.rule_set("light-envelope"), mass_kg=20.0)[0],
    ),
)
TABLES = {"restraint": list(_RESTRAINT), "loose-and-tipping": list(_TIPPING)}
