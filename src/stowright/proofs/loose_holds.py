"""What small holds that have no rating of their own take, as working loads."""

from __future__ import annotations

from stowright.formulas.ec5_design import k_mod, partial_factor
from stowright.formulas.ec5_lateral import (
    bolt_yield_moment_n_mm,
    embedment_plywood_n_mm2,
    steel_plate_shear,
)

__all__ = ["BRACKET_N"]

#: What a metal angle holds: two screws of 4.2 in each leg, light ply of 12 mm, EN 1995-1-1 (8.9),
#: as a working load: k_mod R_k/1.3, divided by 1.5. [N]
BRACKET_N = (
    2.0
    * steel_plate_shear(
        embedment_n_mm2=embedment_plywood_n_mm2(diameter_mm=4.2, density_kg_m3=350.0),
        thickness_mm=12.0,
        diameter_mm=4.2,
        yield_moment_n_mm=bolt_yield_moment_n_mm(diameter_mm=4.2, tensile_strength_n_mm2=600.0),
        plate_mm=2.0,
    ).resistance_n
    * k_mod(service_class=2, duration="instantaneous")
    / partial_factor(what="connection")
    / 1.5
)
