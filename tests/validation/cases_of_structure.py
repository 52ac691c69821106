"""Published or independently worked numbers for plates, beams, joints, runners and latches.

The tests hold every row; ``scripts/theory_tables.py`` prints the same rows into ``docs/theory``.
P, B, L, S, N, J and R name the check cases of the handbook of plywood, all recomputed there apart
from this program; 0.5 % or the rounding of the last printed place is allowed unless a row says so.
"""

from __future__ import annotations

import sys
from pathlib import Path

from cases_of_use import Row

sys.path.insert(0, str(Path(__file__).parents[1] / "formulas"))

from plate_elements import CELLS, FiniteElements, middle_of
from plate_elements import plate as element_plate

from stowright.formulas import (
    beams,
    ec5_axial,
    ec5_design,
    ec5_lateral,
    plates_levy,
    plates_navier,
    plates_roark,
    plates_timoshenko,
    racking,
    runners,
    screw_tests_e830,
    sections,
    slopes,
    veneer,
    wood_handbook,
)

__all__ = ["TABLES"]

ROARK = "Roark 7th ed., Table 11.4"
TIMOSHENKO = "Timoshenko & Woinowsky-Krieger, Table 8"
NAVIER = "handbook, Navier's series apart from this program"
ELEMENTS = "finite elements (Bogner-Fox-Schmit, scikit-fem)"
EC5 = "EN 1995-1-1, worked from the clauses"
WOOD = "USDA Wood Handbook, ch. 8"
HALF = 0.005


def _row(what: str, source: str, said: float, found: float, unit: str, share: float = HALF) -> Row:
    """Return a row that may be apart by a share of what is said."""
    return Row(
        what=what, source=source, said=said, found=found, unit=unit, within=abs(said) * share
    )


def _isotropic(a: float, b: float) -> plates_navier.SimplySupportedPlate:
    return plates_navier.plate(
        side_x_mm=a,
        side_y_mm=b,
        thickness_mm=18.0,
        modulus_x_n_mm2=9000.0,
        modulus_y_n_mm2=9000.0,
        shear_modulus_n_mm2=9000.0 / 2.6,
        poisson_xy=0.3,
    )


def _orthotropic(
    a: float, b: float, t: float, e_0: float, e_90: float, g: float
) -> plates_navier.SimplySupportedPlate:
    return plates_navier.plate(
        side_x_mm=a,
        side_y_mm=b,
        thickness_mm=t,
        modulus_x_n_mm2=e_0,
        modulus_y_n_mm2=e_90,
        shear_modulus_n_mm2=g,
    )


def _stress(moment: float, t: float) -> float:
    return plates_navier.bending_stress_n_mm2(moment_n=moment, thickness_mm=t)


def _isotropic_rows() -> list[Row]:
    square = plates_navier.uniform_response(_isotropic(600.0, 600.0), pressure_n_mm2=0.005)
    longer = plates_navier.uniform_response(_isotropic(600.0, 900.0), pressure_n_mm2=0.005)
    point = plates_navier.point_deflection_mm(_isotropic(600.0, 600.0), load_n=1000.0)
    sides = {"pressure_n_mm2": 0.005, "short_mm": 600.0, "long_mm": 600.0}
    rigidity = 9000.0 * 18.0**3 / (12.0 * (1.0 - 0.09))
    clamped = plates_timoshenko.clamped_uniform_sag_mm(**sides, rigidity_n_mm=rigidity)
    edge = plates_timoshenko.clamped_uniform_edge_moment_n(**sides)
    patch = plates_navier.patch_response(
        _isotropic(600.0, 600.0), load_n=1.0, patch_x_mm=120.0, patch_y_mm=120.0
    )
    return [
        _row("P1 square 600, q 0.005: w", TIMOSHENKO, 0.548, square.deflection_mm, "mm"),
        _row("P1: M", TIMOSHENKO, 86.2, square.moment_x_n, "N"),
        _row("P1: sigma", TIMOSHENKO, 1.596, _stress(square.moment_x_n, 18.0), "N/mm²"),
        _row("P2 600 x 900: w", TIMOSHENKO, 1.041, longer.deflection_mm, "mm"),
        _row("P2: M the short way", TIMOSHENKO, 146.1, longer.moment_x_n, "N"),
        _row("P2: M the long way", TIMOSHENKO, 89.7, longer.moment_y_n, "N"),
        _row("P3 central 1000 N: w", "alpha 0.0116; Roark 0.1267", 0.869, point, "mm"),
        _row("P4 clamped: w", "Timoshenko, Table 35; Roark case 8", 0.1705, clamped, "mm", 0.01),
        _row("P4: edge M", "Timoshenko, Table 35; Roark case 8", 92.3, edge, "N"),
        _row(
            "P5 W on 0.2 a x 0.2 a: sigma t² / W",
            f"{ROARK}-1c, computed",
            1.274,
            6.0 * patch.moment_x_n,
            "-",
        ),
    ]


def _roark_rows() -> list[Row]:
    rows = []
    for ratio, alpha, beta in ((1.0, 0.0444, 0.2874), (2.0, 0.1110, 0.6102)):
        it = _isotropic(600.0, 600.0 * ratio)
        seen = plates_navier.uniform_response(it, pressure_n_mm2=0.005)
        load = 0.005 * 600.0**4 / (9000.0 * 18.0**3)
        rows += [
            _row(f"P6 alpha, a/b {ratio:g}", ROARK, alpha, seen.deflection_mm / load, "-"),
            _row(
                f"beta, a/b {ratio:g}",
                ROARK,
                beta,
                _stress(seen.moment_x_n, 18.0) / (0.005 * 600.0**2 / 18.0**2),
                "-",
            ),
        ]
    endless = plates_navier.uniform_response(_isotropic(600.0, 12_000.0), pressure_n_mm2=0.005)
    rows.append(
        _row(
            "P6 alpha, endless",
            ROARK,
            0.1421,
            endless.deflection_mm / (0.005 * 600.0**4 / (9000.0 * 18.0**3)),
            "-",
        )
    )
    table = plates_roark.case_1a_sag_mm(
        pressure_n_mm2=0.005,
        short_mm=600.0,
        long_mm=900.0,
        thickness_mm=18.0,
        modulus_n_mm2=9000.0,
    )
    rows.append(_row("case 1a at a/b 1.5, between rows: w", TIMOSHENKO, 1.041, table, "mm", 0.01))
    return rows


def _orthotropic_rows() -> list[Row]:
    p7 = _orthotropic(1000.0, 600.0, 17.6, 10048.0, 7452.0, 620.0)
    even = plates_navier.uniform_response(p7, pressure_n_mm2=0.002)
    patch = plates_navier.patch_response(p7, load_n=1000.0, patch_x_mm=100.0, patch_y_mm=100.0)
    p9 = plates_navier.uniform_response(
        _orthotropic(800.0, 800.0, 12.0, 9200.0, 4600.0, 500.0), pressure_n_mm2=0.001
    )
    p10 = plates_navier.uniform_response(
        _orthotropic(600.0, 6000.0, 18.0, 9000.0, 10.0, 1.0), pressure_n_mm2=0.005
    )
    return [
        _row("P7 birch 17.6 mm, 1000 x 600, q 0.002: w", NAVIER, 0.956, even.deflection_mm, "mm"),
        _row("P7: Mx", NAVIER, 35.65, even.moment_x_n, "N"),
        _row("P7: My", NAVIER, 86.2, even.moment_y_n, "N"),
        _row("P7: sigma across", NAVIER, 1.670, _stress(even.moment_y_n, 17.6), "N/mm²"),
        _row("P8 1000 N on 100 x 100: w", NAVIER, 2.253, patch.deflection_mm, "mm"),
        _row("P8: sigma along", NAVIER, 4.88, _stress(patch.moment_x_n, 17.6), "N/mm²"),
        _row("P8: sigma across", NAVIER, 5.69, _stress(patch.moment_y_n, 17.6), "N/mm²"),
        _row("P9 softwood 12 mm, 800 x 800: w", NAVIER, 2.943, p9.deflection_mm, "mm"),
        _row("P9: Mx", NAVIER, 57.8, p9.moment_x_n, "N"),
        _row("P9: My", NAVIER, 27.6, p9.moment_y_n, "N"),
        _row("P10 the beam limit: w", "5 q L⁴ / (384 E I)", 1.9290, p10.deflection_mm, "mm"),
    ]


def _element_rows() -> list[Row]:
    """Compare both series with the elements: grain along and across, patches, a free edge."""
    rows = []
    for along, word in ((True, "along"), (False, "across")):
        model = FiniteElements(element_plate(1.6, along=along))
        spot = model.patch((3, 9), (4, 8), load=800.0)
        sag, moments = model.solve(spot)
        x, y = float(model.xs[6]), float(model.ys[6])
        seen = plates_navier.patch_response(model.it, **spot, at_x_mm=x, at_y_mm=y)
        what = f"960 x 600, grain {word}, patch aside"
        rows.append(_row(f"{what}: w", ELEMENTS, float(sag(x, y)), seen.deflection_mm, "mm", 0.01))
        x, y = middle_of(model, (5, 5))
        seen = plates_navier.patch_response(model.it, **spot, at_x_mm=x, at_y_mm=y)
        for name, said, found in zip("xy", moments(x, y), seen[1:], strict=True):
            rows.append(_row(f"{what}: M{name}", ELEMENTS, float(said), found, "N", 0.03))
        edges = {"free_low": True, "free_high": False}
        model = FiniteElements(element_plate(0.8, along=along, poisson=0.1), **edges)
        spot = model.patch((8, 12), (0, 4), load=500.0)
        sag, _ = model.solve(spot)
        x = float(model.xs[CELLS // 2])
        seen = plates_levy.patch_response(model.it, **edges, **spot, at_x_mm=x, at_y_mm=0.0)
        rows.append(
            _row(
                f"480 x 600, grain {word}, load at a free edge: w",
                ELEMENTS,
                float(sag(x, 0.0)),
                seen.deflection_mm,
                "mm",
                0.01,
            )
        )
    return rows


#: Cells that a patch covers, and the cell away from its edge at which moments are compared.
SPOTS = {
    "patch amid": ((8, 12), (8, 12), (5, 9)),
    "patch near a corner": ((1, 5), (14, 18), (8, 14)),
}


def _element_grid() -> list[Row]:
    """Compare Navier's series with the elements over aspect ratios, grain directions, patches."""
    rows = []
    for ratio in (0.6, 1.0, 1.6, 2.4):
        for along, word in ((True, "along x"), (False, "along y")):
            model = FiniteElements(element_plate(ratio, along=along))
            for spot_name, (columns, lines, cell) in SPOTS.items():
                spot = model.patch(columns, lines, load=800.0)
                sag, moments = model.solve(spot)
                what = f"a/b {ratio:g}, grain {word}, {spot_name}"
                middle = (columns[0] + columns[1]) // 2, (lines[0] + lines[1]) // 2
                x, y = float(model.xs[middle[0]]), float(model.ys[middle[1]])
                seen = plates_navier.patch_response(model.it, **spot, at_x_mm=x, at_y_mm=y)
                found = seen.deflection_mm
                rows.append(_row(f"{what}: w", ELEMENTS, float(sag(x, y)), found, "mm", 0.01))
                x, y = middle_of(model, cell)
                seen = plates_navier.patch_response(model.it, **spot, at_x_mm=x, at_y_mm=y)
                said = [float(each) for each in moments(x, y)]
                way = max((0, 1), key=lambda each: abs(said[each]))
                name = f"{what}: M{'xy'[way]} away from its edge"
                rows.append(_row(name, ELEMENTS, said[way], seen[1 + way], "N", 0.03))
    return rows


def _veneer_rows() -> list[Row]:
    rows = []
    for plies, e_0, e_90, f_0 in (
        (9, 10719.0, 6781.0, 42.9),
        (13, 10048.0, 7452.0, 40.2),
        (17, 9717.0, 7783.0, 38.9),
    ):
        ply = veneer.ply_thicknesses_mm(plies=plies, veneer_mm=1.4, sanding_mm=0.3)
        seen = veneer.apparent_bending(
            ply_mm=ply, veneer_modulus_n_mm2=17500.0, veneer_strength_n_mm2=70.0
        )
        source = "handbook L1, layered veneers"
        rows += [
            _row(f"birch, {plies} plies: E0", source, e_0, seen.modulus_0_n_mm2, "N/mm²"),
            _row(f"birch, {plies} plies: E90", source, e_90, seen.modulus_90_n_mm2, "N/mm²"),
            _row(f"birch, {plies} plies: f0", source, f_0, seen.strength_0_n_mm2, "N/mm²"),
        ]
    ply = veneer.ply_thicknesses_mm(plies=9, veneer_mm=1.4, sanding_mm=0.3)
    along, across = veneer.apparent_compression_n_mm2(ply_mm=ply, veneer_strength_n_mm2=52.0)
    source = "Porteous & Kermani (2007), Table 1.9"
    rows += [
        _row("L2 birch 12 mm: f_c,0", source, 27.7, along, "N/mm²"),
        _row("L2 birch 12 mm: f_c,90", source, 24.3, across, "N/mm²"),
    ]
    return rows


def _beams() -> list[Row]:
    second = sections.rectangle_second_moment_mm4(width_mm=100.0, depth_mm=18.0)
    beam = {"modulus_n_mm2": 9000.0, "second_moment_mm4": second}
    strip = sections.rectangle_second_moment_mm4(width_mm=1000.0, depth_mm=17.6)
    b2 = beams.pinned_uniform_sag_mm(
        line_load_n_mm=1.0, span_mm=800.0, modulus_n_mm2=10048.0, second_moment_mm4=strip
    )
    final = ec5_design.final_deflection_mm(
        permanent_mm=b2, variable_mm=0.0, creep=ec5_design.k_def(service_class=2), quasi_permanent=0
    )
    thin = sections.rectangle_second_moment_mm4(width_mm=1000.0, depth_mm=12.0)
    b3 = beams.pinned_uniform_sag_mm(
        line_load_n_mm=2.0, span_mm=500.0, modulus_n_mm2=9200.0, second_moment_mm4=thin
    )
    moment = beams.pinned_uniform_moment_n_mm(line_load_n_mm=2.0, span_mm=500.0)
    stress = sections.bending_stress_n_mm2(
        moment_n_mm=moment,
        section_modulus_mm3=sections.rectangle_section_modulus_mm3(width_mm=1000.0, depth_mm=12.0),
    )
    strength = {
        duration: ec5_design.design_strength_n_mm2(
            characteristic_n_mm2=23.0,
            strength_factor=ec5_design.k_mod(service_class=2, duration=duration),
            material_factor=ec5_design.partial_factor(what="plywood"),
        )
        for duration in ("short", "permanent")
    }
    tables = "textbook beam tables"
    return [
        _row(
            "B1 100 x 18, L 600, 200 N amid, on pins: w",
            tables,
            2.058,
            beams.pinned_point_sag_mm(load_n=200.0, span_mm=600.0, at_mm=300.0, **beam),
            "mm",
        ),
        _row(
            "B1 built in at both ends: w",
            tables,
            0.514,
            beams.fixed_point_sag_under_load_mm(load_n=200.0, span_mm=600.0, at_mm=300.0, **beam),
            "mm",
        ),
        _row(
            "B1 cantilever, at the tip: w",
            tables,
            32.92,
            beams.cantilever_point_sag_mm(load_n=200.0, span_mm=600.0, at_mm=600.0, **beam),
            "mm",
        ),
        _row("B2 birch 17.6 mm, L 800, 1 kPa: w", tables, 1.168, b2, "mm"),
        _row("B2 permanent, class 2, final: w", "EN 1995-1-1 2.2.3", 2.337, final, "mm"),
        _row("B3 softwood 12 mm, L 500, 2 kPa: w", tables, 1.229, b3, "mm"),
        _row("B3: sigma", tables, 2.604, stress, "N/mm²"),
        _row(
            "B3: f_md short",
            "Porteous & Kermani (2007), Tables 2.3, 2.4",
            17.25,
            strength["short"],
            "N/mm²",
        ),
        _row(
            "B3: f_md permanent",
            "Porteous & Kermani (2007), Tables 2.3, 2.4",
            11.5,
            strength["permanent"],
            "N/mm²",
        ),
        _row(
            "two spans, q: M over the middle over q L²",
            tables,
            0.125,
            beams.two_span_uniform_moment_n_mm(line_load_n_mm=1.0, span_mm=1.0),
            "-",
        ),
        _row(
            "two spans, q: w E I over q L⁴",
            tables,
            1.0 / 185.0,
            beams.two_span_uniform_sag_mm(
                line_load_n_mm=1.0, span_mm=1.0, modulus_n_mm2=1.0, second_moment_mm4=1.0
            ),
            "-",
        ),
        _row(
            "back 545 x 15, push 300 N: shear",
            "v = H / (b t) by hand",
            0.036697,
            racking.back_shear_stress_n_mm2(push_n=300.0, width_mm=545.0, thickness_mm=15.0),
            "N/mm²",
            1e-4,
        ),
    ]


def _joints() -> list[Row]:
    rows = [
        _row(
            f"{name} screw pulled, G {g}, D {d}, L {length}",
            WOOD,
            said,
            wood_handbook.screw_withdrawal_n(
                specific_gravity=g, diameter_mm=d, penetration_mm=length
            ),
            "N",
        )
        for name, g, d, length, said in (
            ("S1", 0.50, 4.17, 20.0, 2257.0),
            ("S2", 0.45, 3.51, 12.0, 923.0),
            ("S3", 0.62, 4.83, 15.0, 3015.0),
            ("S4", 0.70, 0.164 * 25.4, 25.4, 5612.0),
        )
    ]
    rows += [
        _row(
            f"{name} screw pulled (8.38), d {d:g}, l {length:g}, rho {rho:g}",
            EC5,
            said,
            ec5_axial.screw_withdrawal_n(diameter_mm=d, penetration_mm=length, density_kg_m3=rho),
            "N",
        )
        for name, d, length, rho, said in (
            ("S6", 6.0, 36.0, 350.0, 2607.0),
            ("S7", 8.0, 50.0, 410.0, 6121.0),
        )
    ]
    rows.append(
        _row(
            "N1 nail pulled, G 0.5, D 2.87, L 25",
            WOOD,
            686.0,
            wood_handbook.nail_withdrawal_n(
                specific_gravity=0.5, diameter_mm=2.87, penetration_mm=25.0
            ),
            "N",
        )
    )
    rows += [
        _row(
            f"N3 nail head, rho {rho:g}",
            EC5,
            said,
            ec5_axial.nail_head_strength_n_mm2(density_kg_m3=rho),
            "N/mm²",
            1e-3,
        )
        for rho, said in ((350.0, 8.575), (410.0, 11.77))
    ]
    ply = ec5_lateral.embedment_plywood_n_mm2(diameter_mm=3.0, density_kg_m3=630.0)
    wood = ec5_lateral.embedment_timber_n_mm2(
        diameter_mm=3.0, density_kg_m3=320.0, predrilled=False
    )
    j1 = ec5_lateral.single_shear(
        embedment_1_n_mm2=ply,
        embedment_2_n_mm2=wood,
        thickness_1_mm=12.0,
        penetration_2_mm=38.0,
        diameter_mm=3.0,
        yield_moment_n_mm=ec5_lateral.bolt_yield_moment_n_mm(
            diameter_mm=3.0, tensile_strength_n_mm2=600.0
        ),
    )
    rows += [
        _row(f"J1 nail, ply on timber: mode {mode}", f"{EC5} (8.6)", said, j1.modes_n[mode], "N")
        for mode, said in (
            ("a", 1794.0),
            ("b", 2152.0),
            ("c", 855.0),
            ("d", 692.0),
            ("e", 951.0),
            ("f", 825.0),
        )
    ]
    both = ec5_lateral.embedment_plywood_n_mm2(diameter_mm=2.86, density_kg_m3=410.0)
    screw = ec5_lateral.bolt_yield_moment_n_mm(diameter_mm=2.86, tensile_strength_n_mm2=600.0)
    for name, axial, limit, said in (("J2", 0.0, 0.0, 605.0), ("J3", 400.0, 1.0, 705.0)):
        found = ec5_lateral.single_shear(
            embedment_1_n_mm2=both,
            embedment_2_n_mm2=both,
            thickness_1_mm=12.0,
            penetration_2_mm=18.0,
            diameter_mm=2.86,
            yield_moment_n_mm=screw,
            axial_n=axial,
            rope_limit=limit,
        )
        rows.append(
            _row(
                f"{name} screw, ply on ply, rope {axial:g} N",
                f"{EC5} (8.6)",
                said,
                found.resistance_n,
                "N",
            )
        )
    for rho, said in ((630.0, 636.0), (410.0, 414.0)):
        thin = ec5_lateral.steel_plate_shear(
            embedment_n_mm2=ec5_lateral.embedment_plywood_n_mm2(
                diameter_mm=2.86, density_kg_m3=rho
            ),
            thickness_mm=11.0,
            diameter_mm=2.86,
            yield_moment_n_mm=screw,
            plate_mm=1.2,
        )
        rows.append(
            _row(
                f"J4 thin steel on 11 mm ply, rho {rho:g}",
                f"{EC5} (8.9)",
                said,
                thin.resistance_n,
                "N",
            )
        )
    bolt = ec5_lateral.bolt_yield_moment_n_mm(diameter_mm=6.0, tensile_strength_n_mm2=800.0)
    for name, rho, thin_n, thick_n in (
        ("J5", 630.0, 2345.0, 4545.0),
        ("J6", 410.0, 1526.0, 3592.0),
    ):
        for word, plate_mm, said in (("thin", 3.0, thin_n), ("thick", 6.0, thick_n)):
            found = ec5_lateral.steel_plate_shear(
                embedment_n_mm2=ec5_lateral.embedment_bolted_plywood_n_mm2(
                    diameter_mm=6.0, density_kg_m3=rho
                ),
                thickness_mm=15.0,
                diameter_mm=6.0,
                yield_moment_n_mm=bolt,
                plate_mm=plate_mm,
            )
            rows.append(
                _row(
                    f"{name} M6 8.8, {word} steel on 15 mm ply",
                    f"{EC5} (8.9), (8.10)",
                    said,
                    found.resistance_n,
                    "N",
                )
            )
    note = "association Technical Note E830 (2011), Table 1"
    rows += [
        _row(
            f"tapping #{gauge}, {depth:g} mm of thread, on steel",
            note,
            said,
            screw_tests_e830.steel_to_plywood_ultimate_n(
                kind="tapping", gauge=gauge, penetration_mm=depth
            ),
            "N",
            1e-3,
        )
        for gauge, depth, said in ((8, 12.7, 2068.0), (12, 12.7, 2980.0), (8, 19.0, 2624.0))
    ]
    return rows


def _runners() -> list[Row]:
    window = runners.drawer_width_window(opening_mm=500.0, runner_thickness_mm=12.7)
    r2 = runners.end_reactions_n(load_n=300.0, arm_mm=350.0, overlap_mm=250.0)
    slope = slopes.grade_angle_deg(grade_percent=20.0)
    note = "a component maker's installation note"
    statics = "statics by hand"
    return [
        _row("R1 opening 500, runner 12.7: least box", note, 473.6, window.least_mm, "mm", 1e-9),
        _row("R1: greatest box", note, 474.2, window.greatest_mm, "mm", 1e-9),
        _row("R2 W 300, e 350, s 250: front", statics, 720.0, r2.front_up_n, "N", 1e-9),
        _row("R2: rear", statics, 420.0, r2.rear_down_n, "N", 1e-9),
        _row(
            "R3 kitchen test, floor 0.6 x 0.9 m",
            "kitchen cabinet test, 718 Pa",
            388.0,
            runners.floor_test_load_n(width_mm=600.0, length_mm=900.0),
            "N",
        ),
        _row(
            "dynamic over static, class 50 lb",
            "Architectural Woodwork Standards, App. B",
            0.60,
            runners.dynamic_share_of_static(static_lb=50),
            "-",
            1e-9,
        ),
        _row(
            "40 kg at 0.5 g: latch",
            "restraint handbook, check 16",
            196.2,
            slopes.latch_demand_n(mass_kg=40.0, fraction=0.5),
            "N",
            1e-3,
        ),
        _row(
            "40 kg at 0.8 g: latch",
            "restraint handbook, check 16",
            313.9,
            slopes.latch_demand_n(mass_kg=40.0, fraction=0.8),
            "N",
            1e-3,
        ),
        _row(
            "40 kg on 20 %: latch",
            "restraint handbook, check 16",
            76.96,
            slopes.latch_demand_n(mass_kg=40.0, fraction=0.0, angle_deg=slope),
            "N",
            1e-3,
        ),
        _row(
            "40 kg up 10 degrees, mu 0.01",
            "restraint handbook, check 16",
            72.00,
            slopes.push_uphill_n(mass_kg=40.0, angle_deg=10.0),
            "N",
            1e-3,
        ),
    ]


TABLES: dict[str, list[Row]] = {
    "plates": [
        *_isotropic_rows(),
        *_roark_rows(),
        *_orthotropic_rows(),
        *_element_rows(),
        *_element_grid(),
        *_veneer_rows(),
    ],
    "beams-and-carcass": _beams(),
    "joints": _joints(),
    "runners-and-latches": _runners(),
}
