"""Shipped rows against what is published elsewhere; the source stands beside each check."""

from __future__ import annotations

import math

import pytest

from stowright.catalogue import load_catalogue
from stowright.formulas.veneer import (
    apparent_bending,
    apparent_compression_n_mm2,
    ply_thicknesses_mm,
)

SHELF = load_catalogue()


@pytest.mark.parametrize("row", SHELF.materials, ids=lambda row: row.name)
def test_thickness_tolerance_of_sanded_panels(row):
    # EN 315, as restated in GB/T 9846: +(0.2 + 0.03 t) / -(0.4 + 0.03 t).
    assert row.thicker == pytest.approx(0.2 + 0.03 * row.nominal, abs=1e-9)
    assert row.thinner == pytest.approx(0.4 + 0.03 * row.nominal, abs=1e-9)


@pytest.mark.parametrize(
    ("nominal", "thicker", "thinner"),
    [(12, 0.5, 0.7), (15, 0.6, 0.8), (18, 0.7, 0.9), (21, 0.8, 1.0)],
)
def test_thickness_tolerance_against_a_mill_table(nominal, thicker, thinner):
    # A mill's table of the same limits, cut (not rounded) to a tenth.
    row = SHELF.material(f"birch-{nominal}")
    assert math.floor(row.thicker * 10.0 + 1e-9) / 10.0 == thicker
    assert math.floor(row.thinner * 10.0 + 1e-9) / 10.0 == thinner


def test_mass_of_a_sheet_of_birch():
    # Sheet of 18 mm birch 2440 x 1220 at 17.6 mm and 680 kg/m3: 35.6 kg, printed to a tenth.
    row = SHELF.material("birch-18")
    mass = 2.440 * 1.220 * row.thickness / 1000.0 * row.density
    assert mass == pytest.approx(35.6, abs=0.05)


@pytest.mark.parametrize(
    ("nominal", "plies"), [(6, 5), (9, 7), (12, 9), (15, 11), (18, 13), (21, 15), (24, 17)]
)
def test_birch_rows_are_those_of_the_veneer_model(nominal, plies):
    # Layered veneer model, birch constants: plies 1.4, sanded 0.3, E 17500, f_m 70, f_c 52.
    row = SHELF.material(f"birch-{nominal}")
    layup = ply_thicknesses_mm(plies=plies, veneer_mm=1.4, sanding_mm=0.3)
    bending = apparent_bending(
        ply_mm=layup, veneer_modulus_n_mm2=17500.0, veneer_strength_n_mm2=70.0
    )
    along, across = apparent_compression_n_mm2(ply_mm=layup, veneer_strength_n_mm2=52.0)
    assert row.plies == plies
    assert row.layup == pytest.approx(layup, abs=1e-12)
    # The table is printed to 1 N/mm2 for moduli and to 0.1 N/mm2 for strengths.
    assert row.e_along == pytest.approx(bending.modulus_0_n_mm2, abs=0.5)
    assert row.e_across == pytest.approx(bending.modulus_90_n_mm2, abs=0.5)
    assert row.f_along == pytest.approx(bending.strength_0_n_mm2, abs=0.0501)
    assert row.f_across == pytest.approx(bending.strength_90_n_mm2, abs=0.0501)
    assert row.f_compression == pytest.approx(min(along, across), abs=0.0501)


@pytest.mark.parametrize(("nominal", "printed"), [(12, 24.3), (24, 25.1)])
def test_birch_compression_as_printed(nominal, printed):
    # Porteous & Kermani, Structural Timber Design to Eurocode 5 (2007), Table 1.9.
    assert SHELF.material(f"birch-{nominal}").f_compression == printed


@pytest.mark.parametrize(
    ("name", "along", "across", "e_along", "e_across", "compression"),
    [
        ("softwood-12", 23.0, 11.4, 9200.0, 4600.0, 12.0),
        ("softwood-24", 21.6, 12.4, 8700.0, 5000.0, 11.4),
    ],
)
def test_softwood_rows_as_printed(name, along, across, e_along, e_across, compression):
    # Swedish P30 plywood, tables of Porteous & Kermani (2007) as transcribed in public code.
    row = SHELF.material(name)
    assert (row.f_along, row.f_across) == (along, across)
    assert (row.e_along, row.e_across) == (e_along, e_across)
    assert row.f_compression == compression
    assert (row.density_char, row.density, row.g_panel) == (410.0, 460.0, 500.0)
    assert (row.f_panel_shear, row.f_rolling) == (2.9, 0.9)


def test_softwood_between_the_printed_rows_lies_between_them():
    thin, thick = SHELF.material("softwood-12"), SHELF.material("softwood-24")
    for nominal in (15, 18, 21):
        row = SHELF.material(f"softwood-{nominal}")
        part = (nominal - 12.0) / 12.0
        for field in ("e_along", "e_across", "f_along", "f_across", "f_compression"):
            low, high = getattr(thin, field), getattr(thick, field)
            # Strengths are written to 0.01 N/mm2.
            assert getattr(row, field) == pytest.approx(low + part * (high - low), abs=0.0051)


def test_unknown_plywood_takes_the_low_end_of_the_wood_handbook():
    # USDA Wood Handbook FPL-GTR-190 (2010), Table 12-1: plywood E 6.96 GPa, MOR 33.7 MPa; halved.
    for row in SHELF.materials:
        if row.family == "ply":
            assert row.e_along == 6960.0
            assert row.f_along == pytest.approx(33.7 / 2.0, abs=0.051)


@pytest.mark.parametrize(
    ("family", "plies"),
    [
        ("ply", (3, 5, 5, 7, 7, 9, 9)),
        ("hardwood", (5, 7, 9, 11, 13, 15, 17)),
        ("poplar", (5, 5, 7, 7, 9, 11, 13)),
    ],
)
def test_values_across_the_grain_are_those_of_equal_plies(family, plies):
    for nominal, count in zip((6, 9, 12, 15, 18, 21, 24), plies, strict=True):
        row = SHELF.material(f"{family}-{nominal}")
        model = apparent_bending(
            ply_mm=(1.0,) * count, veneer_modulus_n_mm2=1.0, veneer_strength_n_mm2=1.0
        )
        stiff = model.modulus_90_n_mm2 / model.modulus_0_n_mm2
        strong = model.strength_90_n_mm2 / model.strength_0_n_mm2
        assert row.e_across == pytest.approx(row.e_along * stiff, abs=0.51)
        assert row.f_across == pytest.approx(row.f_along * strong, abs=0.051)


@pytest.mark.parametrize(("gauge", "printed"), [(6, 3.51), (8, 4.17), (10, 4.83)])
def test_gauge_diameters(gauge, printed):
    # ASME B18.6.1: diameter in inches = 0.060 + 0.013 N; printed to a hundredth of a millimetre.
    found = [s for s in SHELF.screws if f"-{gauge}g-" in s.name]
    assert {s.kind for s in found} == {"countersunk", "pan"}
    for screw in found:
        assert screw.diameter == pytest.approx((0.060 + 0.013 * gauge) * 25.4, abs=0.001)
        assert screw.diameter == pytest.approx(printed, abs=0.005)


@pytest.mark.parametrize(
    ("thread", "hole", "pitch", "area"),
    [
        ("M5", 5.5, 0.8, 14.2),
        ("M6", 6.6, 1.0, 20.1),
        ("M8", 9.0, 1.25, 36.6),
        ("M10", 11.0, 1.5, 58.0),
    ],
)
def test_bolt_holes_pitches_and_stress_areas(thread, hole, pitch, area):
    # ISO 273 medium series; ISO 898-1 coarse pitches and stress areas (printed to three figures).
    bolts = [bolt for bolt in SHELF.bolts if bolt.thread == thread]
    assert {bolt.clearance_hole for bolt in bolts} == {hole}
    assert {bolt.pitch for bolt in bolts} == {pitch}
    stress = math.pi / 4.0 * (bolts[0].diameter - 0.9382 * pitch) ** 2
    assert stress == pytest.approx(area, abs=0.06)


@pytest.mark.parametrize("runner", SHELF.runners, ids=lambda runner: runner.name)
def test_side_space_of_runners(runner):
    # A runner maker's installation note: the thickness plus 0.2 to 0.5 each side.
    space = runner.side_space
    assert space.least == pytest.approx(runner.thickness + 0.2, abs=1e-9)
    assert space.most == pytest.approx(runner.thickness + 0.5, abs=1e-9)
    # Practice: thickness + 0.3 a side, 13.0 for 12.7.
    assert space.aim == pytest.approx(runner.thickness + 0.3, abs=1e-9)


def test_drawer_width_in_an_opening_of_500():
    # The same note, worked: opening 500, runner 12.7: drawer 473.6 to 474.2.
    space = SHELF.runner("slim-45").side_space
    assert 500.0 - 2.0 * space.most == pytest.approx(473.6, abs=1e-9)
    assert 500.0 - 2.0 * space.least == pytest.approx(474.2, abs=1e-9)


def test_timber_washers_meet_the_rule_of_three_diameters():
    # EN 1995-1-1, 10.4.3 (from memory): at least 3 d wide and 0.3 d thick.
    for washer in SHELF.washers:
        if washer.name.endswith("-timber"):
            diameter = float(washer.thread.removeprefix("M"))
            assert washer.outside >= 3.0 * diameter
            assert washer.thickness >= 0.3 * diameter


def test_spreader_plates_are_as_large_as_seat_counterplates():
    # Motor-sport Appendix J, Art. 253 as restated: 3 mm steel, 40 cm2, 60 mm along the vehicle.
    for plate in (w for w in SHELF.washers if w.shape == "square"):
        hole = math.pi / 4.0 * plate.hole**2
        assert plate.thickness >= 3.0
        assert plate.outside >= 60.0
        # 60 x 60 is 36 cm2: its larger sister is asked for where 40 cm2 is wanted.
        assert (plate.outside**2 - hole >= 4000.0) == (plate.outside >= 80.0)


@pytest.mark.parametrize(
    ("saw", "low", "high"),
    [
        ("table", 3.2, 3.2),
        ("table-thin", 2.4, 2.4),
        ("track", 1.8, 2.2),
        ("circular", 1.6, 2.6),
        ("panel", 3.2, 4.4),
        ("jigsaw", 1.0, 1.5),
    ],
)
def test_kerfs_lie_in_the_usual_range(saw, low, high):
    # Table saw 1/8 and 3/32 inch (published); the others from memory.
    assert low <= SHELF.saw(saw).kerf <= high
